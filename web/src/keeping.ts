// Ties the slip to the storage: what was kept is taken up, every change is kept.
import { tell } from "./bar";
import { habits } from "./locale";
import type { Slip } from "./slip";
import { askToPersist, Store } from "./store";
import { t } from "./words";

// Opens the storage while the module is still on its way; the function it returns then takes up what
// was kept, and answers undefined where nothing can be kept.
export function openKeeping(): (slip: Slip) => Promise<Store | undefined> {
  const cannotKeep = () =>
    tell(t("This browser keeps nothing for this page now: what you enter is gone when you close it."));
  let slip: Slip | undefined;
  let taking = false; // what comes from the storage need not go back into it
  const take = (text: string) => {
    taking = true;
    const problem = slip!.load(text);
    taking = false;
    return problem;
  };
  const opening = Store.open({
    taken: (text) => void slip?.wantLines().then(() => take(text), () => {}),
    setAside: () => tell(t("Two tabs changed the slip at once. What you see here is kept; the other is set aside.")),
    failed: cannotKeep,
  }).catch(() => undefined);

  return async (ready) => {
    slip = ready;
    const store = await opening;
    // Any line may be on a kept slip.
    if (await store?.any().catch(() => false)) await ready.wantLines();
    const loaded = await store?.load(take).catch(() => undefined);
    if (loaded?.problem)
      tell(t("What was kept last could not be read ({0}) It is set aside, not thrown away.", loaded.problem));
    if (!loaded?.found) {
      const { system, decimal } = habits(navigator.language);
      ready.setStyle(system, decimal);
    }
    if (!store || !loaded) {
      cannotKeep();
      return undefined;
    }
    keepChanges(ready, store, () => taking);
    return store;
  };
}

function keepChanges(slip: Slip, store: Store, taking: () => boolean): void {
  let asked = false;
  slip.onChange((cause) => {
    if (taking() || cause.by === "offered") return;
    store.keep(slip.core.save());
    if (asked || (cause.by !== "entry" && cause.by !== "drawn")) return;
    asked = true;
    void askToPersist();
  });
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") store.flush();
    else void store.catchUp().catch(() => {});
  });
  addEventListener("pagehide", () => store.flush());
}
