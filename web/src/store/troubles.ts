// What to say when something cannot be kept, or was damaged.
import { tell } from "../base/bar";
import { t } from "../base/words";
import { Refused } from "./gate";
import { Crowded, type Mended } from "./disk_store";

export function cannotKeep(): string {
  return t("This browser keeps nothing for this page now: what you enter is gone when you close it. Save a file before that.");
}
export function notAnswering(): string {
  return t("The storage of this browser does not answer now. Try again later; you can save a file meanwhile.");
}
// Of what a file has that is saved now.
export function onlyInMemory(): string {
  return t(
    "The storage does not answer just now. The file has the tanks, the shelf, the due dates and the open tank’s numbers, but not the visits and the other tanks’ numbers.",
  );
}
export function deleted(): string {
  return t(
    "This browser has deleted what was kept here. The tanks, the shelf, the due dates and the open tank’s numbers were still in this tab and are kept anew. Visits and other tanks’ numbers are gone from here: bring in the last file that you saved, and keep it.",
  );
}
// Of what the page does not try again by itself.
export function notTaken(problem: unknown): string {
  if (problem instanceof DOMException && problem.name === "QuotaExceededError")
    return t("The storage of this device is full, so this is not kept. Free some space, then do it once more. You can save a file meanwhile.");
  if (problem instanceof DOMException) return t("The storage of this browser does not answer, so this is not kept. Do it once more in a moment.");
  return sentence(problem);
}
export function sentence(problem: unknown): string {
  if (problem instanceof Refused) return problem.message;
  if (problem instanceof Crowded) return t("Another tab of this page keeps changing things. Close it, then try again.");
  if (problem instanceof DOMException && problem.name === "QuotaExceededError")
    return t(
      "The storage of this device is full, so the last change is not kept yet. Free some space: the page tries again by itself. You can save a file meanwhile.",
    );
  return t(
    "The storage of this browser does not answer, so the last change is not kept yet. The page tries again by itself. You can save a file meanwhile.",
  );
}
export const formatMended = ({ restored, lost }: Mended): void => {
  if (restored > 0) tell(t("Something kept here was damaged. It is back as it was kept last: please look it over."));
  if (lost > 0) tell(t("Something kept here was damaged and could not be mended. It is set aside, not thrown away: see Files."));
};
