// The form of a slip's "state", as core/page/view_json.hpp tells it.

export type Kind = "number" | "count" | "choice" | "clock" | "table" | "curve";
export type Role = "given" | "fed" | "answer" | "held" | "gave_way" | "figure";
export type Level = "note" | "caution" | "stop";
export type System = "metric" | "us" | "imperial";
export type Decimal = "." | ",";

// What is common to every slot that holds a value.
interface Value {
  id: string;
  name: string;
  role: Role;
  locked?: true; // it was handed over and stays as it is
  number: string; // "" when blank; choices: the phrase
  unit: string;
  plus_minus: string;
  value: number | null;
  doubt: number | null;
  gives_way: string;
}
export interface NumberSlot extends Value {
  kind: "number" | "count" | "clock";
  units: string[];
  range: string;
  offers?: string[]; // names that may be typed instead of a number
}
export interface ChoiceSlot extends Value {
  kind: "choice";
  options: string[];
}
export interface TableSlot {
  id: string;
  name: string;
  kind: "table";
  role: "figure";
  columns: string[];
  rows: string[][];
}
export interface CurveSlot {
  id: string;
  name: string;
  kind: "curve";
  role: "figure";
}
export type Slot = NumberSlot | ChoiceSlot | TableSlot | CurveSlot;

// Shapes and words in their places, and what they say in words alone.
export interface Picture {
  name: string;
  summary: string;
  width: number;
  height: number;
  shapes: { part: string; d: string }[];
  words: { x: number; y: number; anchor: string; text: string }[];
}

export interface Piece {
  text?: string;
  slot?: number;
  quiet?: boolean;
}
export interface Remark {
  level: Level;
  text: string;
}
export interface Working {
  names: string[];
  numbers: string[];
  assumes: string[];
  sources: string[];
}
export interface Line {
  id: string;
  title: string;
  standing: "done" | "waiting" | "refused" | "unreachable" | "outside";
  trouble: string;
  sentence: Piece[];
  slots: Slot[];
  pictures: Picture[];
  remarks: Remark[];
  working: Working;
}
export interface State {
  revision: number;
  system: System;
  decimal: Decimal;
  undo: boolean;
  redo: boolean;
  locked: boolean; // handed over: only what was blank then can be typed
  lines: Line[];
  order: number[]; // of the lines, to read them
  catalogue: Family[];
}
export interface Family {
  family: string;
  lines: { id: string; title: string; on: boolean }[];
}

export function isFigure(slot: Slot): slot is TableSlot | CurveSlot {
  return slot.kind === "table" || slot.kind === "curve";
}

// "143 L", with a space that does not break.
export function worded(slot: NumberSlot | ChoiceSlot): string {
  return slot.unit && slot.number ? `${slot.number}\u00a0${slot.unit}` : slot.number;
}
