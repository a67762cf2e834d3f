// One short summary per change for people who hear the page.
import type { Cause } from "../base/slip";
import { isFigure, worded, type Line, type State } from "../core/state";
import { t } from "../base/words";

const answersSpoken = 3;

export function summary(cause: Cause, state: State, changed: Set<number>): string {
  if (cause.by === "entry") {
    const others = [...changed].filter((line) => line !== cause.line).length;
    const rest = others === 1 ? t("{0} other line changed.", others) : t("{0} other lines changed.", others);
    return [sentence(state.lines[cause.line]!), others > 0 ? rest : ""].filter(Boolean).join(" ");
  }
  if (cause.by === "lines") return cause.on ? t("{0} is on the slip.", cause.title) : t("{0} is taken off.", cause.title);
  const opening = {
    unit: t("Unit changed."),
    style: t("Numbers are written anew."),
    clear: t("Begun again. Undo brings everything back."),
    undo: t("Undone."),
    redo: t("Done again."),
    drawn: "",
    words: "",
    language: "",
    load: "",
    offered: "",
  }[cause.by];
  if (!opening || changed.size === 0) return opening;
  return `${opening} ${changed.size === 1 ? t("{0} line changed.", 1) : t("{0} lines changed.", changed.size)}`;
}

function sentence(line: Line): string {
  if (line.trouble) return `${line.title}: ${line.trouble}`;
  const answers = line.slots
    .flatMap((slot) => (isFigure(slot) || (slot.role !== "answer" && slot.role !== "gave_way") ? [] : [slot]))
    .filter((slot) => slot.number !== "")
    .slice(0, answersSpoken)
    .map((slot) => `${slot.name} ${worded(slot)}`);
  const stop = line.remarks.find((remark) => remark.level === "stop");
  return `${line.title}: ${answers.join(", ")}.${stop ? ` ${t("{0}: {1}", t("Stop"), stop.text)}` : ""}`;
}
