// Browsers that forget: what will happen to what is entered is said once there is something to lose, and a copy is
// offered once the last one is old.
import { tell } from "../base/bar";
import type { Supplies } from "../book/supplies";
import { between, today } from "../base/days";
import type { OpenScreens } from "./open_screens";
import { installed, invented } from "../base/invented";
import { remember, remembered } from "../base/memory";
import type { Cause, Slip } from "../base/slip";
import { t } from "../base/words";

// after seven days: WebKit deletes all that a page keeps once it has not been visited for so long, unless it
// stands on the home screen. little: so small a room as only a browser in a mode of its own gives.
export type Forgets = "after seven days" | "little" | undefined;

const littleRoom = 20e6; // bytes

export async function forgets(): Promise<Forgets> {
  const webkit = navigator.vendor === "Apple Computer, Inc." || "GestureEvent" in globalThis;
  if (webkit && !installed) return "after seven days";
  try {
    const { quota } = await navigator.storage.estimate();
    if (quota !== undefined && quota < littleRoom && !(await navigator.storage.persisted())) return "little";
  } catch {
    // It does not tell.
  }
  return undefined;
}

// Days with changes that no copy outside this device holds, before one is spoken of; and days after "Later".
const patience = { usual: { copy: 30, later: 7 }, short: { copy: 5, later: 2 } };

const work: readonly Cause["by"][] = ["entry", "drawn", "lines", "undo", "redo", "clear"];

export async function watchCopies(openScreens: OpenScreens, slip: Slip, settled: () => Promise<void>): Promise<void> {
  if (invented) return;
  const why = await forgets();
  slip.onChange(({ by }) => {
    if (work.includes(by) && !remembered("changed")) remember("changed", today());
  });
  openScreens.whenUsed((supplies) => {
    if (!speakOfCopy(openScreens, why) && why && !remembered("warned")) void warnOnce(openScreens, slip, supplies, settled, why);
  });
}

// Once something is kept. Whoever was warned and went on is not warned again: later the copy is spoken of.
async function warnOnce(
  openScreens: OpenScreens,
  slip: Slip,
  { book }: Supplies,
  settled: () => Promise<void>,
  why: Exclude<Forgets, undefined>,
): Promise<void> {
  await new Promise<void>((kept) => {
    book.onChange(() => kept());
    slip.onChange(({ by }) => void (work.includes(by) && kept()));
  });
  await settled();
  if (remembered("warned")) return;
  remember("warned", today());
  if (why === "little")
    tell(t("This browser may soon forget what you enter here. Save a file to keep it."), save(openScreens), { label: t("Later"), act: () => {} });
  else
    tell(
      t("This browser deletes what you enter here if you do not open the page for seven days."),
      { label: t("Show how"), act: () => void openScreens.open("home") },
      { label: t("Later"), act: () => {} },
    );
}

const save = (openScreens: OpenScreens) => ({ label: t("Save a file"), act: () => void openScreens.saveFile() });

// True: it was.
function speakOfCopy(openScreens: OpenScreens, why: Forgets): boolean {
  const { copy, later } = why ? patience.short : patience.usual;
  const changed = remembered("changed");
  const put = remembered("later");
  if (!changed || between(remembered("filed") || changed, today()) < copy) return false;
  if (put && between(put, today()) < later) return false;
  tell(
    why === "after seven days"
      ? t("This browser deletes all you keep here if you do not open the page for seven days. Save it as a file.")
      : t("What you keep here is on this device alone. Save it as a file from time to time."),
    save(openScreens),
    { label: t("Later"), act: () => remember("later", today()) },
  );
  return true;
}
