// What to say when something cannot be kept, or was damaged.
import { tell } from "../bar";
import { t } from "../words";

export function cannotKeep(): string {
  return t("This browser keeps nothing for this page now: what you enter is gone when you close it.");
}
export function sentence(problem: unknown): string {
  if (problem instanceof DOMException && problem.name === "QuotaExceededError")
    return t("The storage of this device is full, so the last change is not kept yet. Free some space; the next change tries again.");
  return cannotKeep();
}
export const mendedTold = ({ restored, lost }: { restored: number; lost: number }): void => {
  if (restored > 0) tell(t("Something kept here was damaged. It is back as it was kept last: please look it over."));
  if (lost > 0) tell(t("Something kept here was damaged and could not be mended. It is set aside, not thrown away."));
};
