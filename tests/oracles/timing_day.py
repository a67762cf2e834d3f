"""A day counted minute by minute in numpy arrays of 1,440: what meets what."""
import numpy as np


def window(start, length):
    day = np.zeros(1440, bool)
    day[(start + np.arange(length)) % 1440] = True
    return day


def clock(text):
    h, m = text.split(":")
    return int(h) * 60 + int(m)


for on, hours, gap, co2_on, co2_h, s0, s1 in [
    ("12:00", 8, 0, "11:00", 8, "22:00", "08:00"),
    ("12:00", 8, 0, "21:00", 14, "22:00", "08:00"),
    ("10:00", 6, 3, "08:30", 12, "18:00", "09:00"),
    ("20:00", 9, 0, "19:15", 11, "23:30", "06:15"),
    ("09:00", 10, 2, "00:00", 24, "00:00", "00:00"),
]:
    lit = window(clock(on), int((hours + gap) * 60))
    co2 = window(clock(co2_on), co2_h * 60)
    skim = window(clock(s0), (clock(s1) - clock(s0) - 1) % 1440 + 1)
    off = (clock(co2_on) + co2_h * 60) % 1440
    near = lambda d: (d + 719) % 1440 - 719
    print(
        on,
        hours,
        gap,
        co2_on,
        co2_h,
        s0,
        s1,
        "off %02d:%02d" % divmod(off, 60),
        "lead",
        near(clock(on) - clock(co2_on)),
        "tail",
        near(clock(on) + int((hours + gap) * 60) - off),
        "dark",
        (co2 & ~lit).sum(),
        "skim",
        (co2 & skim).sum(),
        sep=", ",
    )
