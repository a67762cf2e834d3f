#!/usr/bin/python3
# Check values for the lines about changing water, by other ways than the lines take: litres and
# grams moved about, heat by TEOS-10 (python3-gsw), differential equations and roots by scipy.
import gsw
from scipy.integrate import solve_ivp
from scipy.optimize import brentq


def heat(litres, celsius):  # kilograms and joules
    kilograms = litres / 1000 * gsw.rho_t_exact(0, celsius, 0)
    return kilograms, kilograms * gsw.enthalpy_t_exact(0, celsius, 0)


def together(*waters):  # temperature of (litres, °C) poured together
    kilograms, joules = (sum(x) for x in zip(*(heat(*w) for w in waters)))
    return brentq(lambda t: gsw.enthalpy_t_exact(0, t, 0) - joules / kilograms, 0, 95)


print("after: temperature")
for net, refill, tank, new in ((120, 50, 24, 19), (300, 90, 26, 12), (60, 30, 22, 30), (1000, 200, 25, 8)):
    print(net, refill, tank, new, together((net - refill, tank), (refill, new)))

print("refill_temperature: hot, cold, tank")
for target, hot, cold, refill, net, tank in (
    (24, 50, 11, 60, 120, 24),
    (25, 60, 8, 100, 300, 27),
    (22, 40, 15, 20, 60, 22),
    (28, 55, 12, 500, 1000, 26),
):
    share = brentq(lambda x: together((x, hot), (1 - x, cold)) - target, 0, 1)
    print(target, hot, cold, refill, net, tank, refill * share, refill * (1 - share), together((net - refill, tank), (refill, target)))

print("changes_to: changes, level")
for share, start, target, fresh in ((50, 10, 2.5, 0), (30, 80, 20, 5), (25, 600, 300, 150), (20, 5, 15, 20), (10, 1000, 100, 0), (90, 400, 10, 2)):
    grams, changes = start * 100, 0  # in 100 L
    while abs(grams / 100 - fresh) > abs(target - fresh) * (1 + 1e-12):
        grams += share * (fresh - grams / 100)
        changes += 1
    print(share, start, target, fresh, changes, grams / 100)

print("staged: steps, litres")


def staged(start, target, fresh, net, most, allowed):
    amount, litres, steps = start * net, 0.0, 0
    while abs(amount / net - target) > 1e-9 * target:
        level = amount / net
        bearable = level + (1 if target > level else -1) * allowed(level)
        aim = min(target, bearable) if target > level else max(target, bearable)

        def miss(drained):
            return amount - drained * level + drained * fresh - aim * net

        full = most / 100 * net
        drained = brentq(miss, 0, full, xtol=1e-12) if miss(0) * miss(full) < 0 else full
        amount += drained * (fresh - level)
        litres += drained
        steps += 1
    return steps, litres


print(staged(480, 260, 150, 120, 50, lambda level: 0.10 * level))
print(staged(200, 420, 600, 60, 50, lambda level: 0.15 * level))
print(staged(700, 300, 250, 300, 40, lambda level: 0.25 * level))
print(staged(480, 260, 150, 120, 50, lambda level: 40))
print(staged(150, 400, 420, 200, 30, lambda level: 60))
print(staged(12, 6, 2, 120, 50, lambda level: 1))
print(staged(3, 8, 12, 45, 50, lambda level: 1.5))

print("long_run: before, after")
for rate, share, every, fresh in ((1, 50, 7, 0), (0.4, 30, 7, 5), (-0.3, 40, 5, 10), (-2, 50, 7, 20), (2.5, 20, 14, 1)):
    level = 33.0
    for _ in range(600):
        empty = lambda t, c: c[0]
        empty.terminal, empty.direction = True, -1
        day = solve_ivp(lambda t, c: [rate], (0, every), [level], events=empty, rtol=1e-10, atol=1e-12)
        before = 0.0 if day.status == 1 else max(0.0, day.y[0][-1])
        level = before - share / 100 * before + share / 100 * fresh
    print(rate, share, every, fresh, before, level)

print("long_run: days until 5 % is left, a change spread over its interval")
for share, every in ((50, 7), (30, 7), (40, 5), (20, 14), (75, 10)):
    rate = brentq(lambda r: solve_ivp(lambda t, c: -r * c, (0, every), [1.0], rtol=1e-11, atol=1e-13).y[0][-1] - 1 + share / 100, 0, 10 / every)
    gone = lambda t, c: c[0] - 0.05
    gone.terminal = True
    print(share, every, solve_ivp(lambda t, c: -rate * c, (0, 1e4), [1.0], events=gone, rtol=1e-10, atol=1e-13).t[-1])

print("drip: level, share a day")
for flow, days, net, start, fresh in ((10, 7, 200, 40, 0), (30, 2, 60, 300, 120), (1.5, 30, 20, 5, 25), (400, 1, 4000, 80, 3)):
    ode = lambda t, c: flow / net * (fresh - c)
    level = solve_ivp(ode, (0, days), [start], rtol=1e-11, atol=1e-12).y[0][-1]
    dye = solve_ivp(lambda t, c: -flow / net * c, (0, 1), [1.0], rtol=1e-11, atol=1e-12).y[0][-1]
    print(flow, days, net, start, fresh, level, 100 * (1 - dye))
