// One short summary per change for people who hear the page.
import type { Cause } from "../slip";
import { isFigure, worded, type Line, type State } from "../state";

const answersTold = 3;

export function summary(cause: Cause, state: State, changed: Set<number>): string {
  if (cause.by === "entry") {
    const others = [...changed].filter((line) => line !== cause.line).length;
    return [told(state.lines[cause.line]!), others > 0 ? `${others} other ${lines(others)} changed.` : ""]
      .filter(Boolean)
      .join(" ");
  }
  if (cause.by === "lines") return cause.on ? `${cause.title} is on the slip.` : `${cause.title} is taken off.`;
  const opening = {
    unit: "Unit changed.",
    style: "Numbers are written anew.",
    clear: "Begun again. Undo brings everything back.",
    undo: "Undone.",
    redo: "Done again.",
    drawn: "",
    words: "",
    load: "",
  }[cause.by];
  return opening && changed.size > 0 ? `${opening} ${changed.size} ${lines(changed.size)} changed.` : opening;
}

function told(line: Line): string {
  if (line.trouble) return `${line.title}: ${line.trouble}`;
  const answers = line.slots
    .flatMap((slot) => (isFigure(slot) || (slot.role !== "answer" && slot.role !== "gave_way") ? [] : [slot]))
    .filter((slot) => slot.number !== "")
    .slice(0, answersTold)
    .map((slot) => `${slot.name} ${worded(slot)}`);
  const stop = line.remarks.find((remark) => remark.level === "stop");
  return `${line.title}: ${answers.join(", ")}.${stop ? ` Stop: ${stop.text}` : ""}`;
}

function lines(count: number): string {
  return count === 1 ? "line" : "lines";
}
