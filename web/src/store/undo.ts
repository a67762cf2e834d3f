// Taking a step back from what stands now, which others may have changed since. Pure functions.

type Json = null | boolean | number | string | Json[] | { [name: string]: Json };

// What the record becomes, `undefined` being none; or "no" when what the step changed was changed again since.
export function takenBack(before: string | undefined, after: string | undefined, now: string | undefined): string | undefined | "no" {
  if (now === after) return before;
  if (before === undefined || after === undefined || now === undefined) return now === before ? now : "no"; // somebody else did
  const found = back(JSON.parse(before) as Json, JSON.parse(after) as Json, JSON.parse(now) as Json, "");
  return found === no ? "no" : JSON.stringify(found);
}

const no = Symbol();
// What is used up and brought, by its place in the record: a step back is a difference, too.
const sums = new Set(["/amount", "/store/holds_l"]);
const holdsSums = (place: string): boolean => [...sums].some((each) => each.startsWith(`${place}/`));

function back(before: Json | undefined, after: Json | undefined, now: Json | undefined, place: string): Json | undefined | typeof no {
  if (same(before, after)) return now;
  if (same(now, after)) return before;
  if (sums.has(place) && [before, after, now].every((each) => typeof each === "number"))
    return rounded((now as number) + (before as number) - (after as number));
  if (!holdsSums(place) && same(now, before)) return now;
  if (idsAll(before) && idsAll(after) && idsAll(now)) return listBack(before, after, now);
  if (!isParts(before) || !isParts(after) || !isParts(now) || !alike(before, after, now)) return no;
  const whole: Record<string, Json> = {};
  for (const key of new Set([...Object.keys(before), ...Object.keys(after), ...Object.keys(now)])) {
    const part = back(at(before, key), at(after, key), at(now, key), `${place}/${key}`);
    if (part === no) return no;
    if (part !== undefined) whole[key] = part;
  }
  return Array.isArray(now) ? Object.values(whole) : whole;
}

type Parts = { [name: string]: Json } | Json[];
const isParts = (value: Json | undefined): value is Parts => typeof value === "object" && value !== null;
const at = (parts: Parts, key: string): Json | undefined => (parts as Record<string, Json>)[key];
// Lists go place by place, while nothing was put in or taken out.
const alike = (...all: Parts[]): boolean =>
  all.every((each) => !Array.isArray(each)) || (all.every((each) => Array.isArray(each) && each.length === (all[0] as Json[]).length));

const idsAll = (value: Json | undefined): value is string[] => Array.isArray(value) && value.every((each) => typeof each === "string");

// What the step put in goes, and what it took out comes back, to where it was.
function listBack(before: string[], after: string[], now: string[]): string[] {
  const list = now.filter((id) => before.includes(id) || !after.includes(id));
  before.forEach((id, i) => {
    if (!after.includes(id) && !list.includes(id)) list.splice(i, 0, id);
  });
  return list;
}

const rounded = (value: number): number => Number(value.toPrecision(12));

export function same(a: Json | undefined, b: Json | undefined): boolean {
  if (a === b) return true;
  if (!isParts(a) || !isParts(b) || Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => same(at(a, key), at(b, key)));
}
export const sameText = (a: string | undefined, b: string | undefined): boolean =>
  a === b || (a !== undefined && b !== undefined && same(JSON.parse(a) as Json, JSON.parse(b) as Json));
