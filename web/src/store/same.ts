// Whether two texts of JSON say the same, whatever the order of their fields.
type Json = null | boolean | number | string | Json[] | { [name: string]: Json };
type Parts = { [name: string]: Json } | Json[];

const isParts = (value: Json | undefined): value is Parts => typeof value === "object" && value !== null;
const at = (parts: Parts, key: string): Json | undefined => (parts as Record<string, Json>)[key];

function same(a: Json | undefined, b: Json | undefined): boolean {
  if (a === b) return true;
  if (!isParts(a) || !isParts(b) || Array.isArray(a) !== Array.isArray(b)) return false;
  const keys = Object.keys(a);
  return keys.length === Object.keys(b).length && keys.every((key) => same(at(a, key), at(b, key)));
}
// What cannot be read is the same as itself alone.
export function sameText(a: string | undefined, b: string | undefined): boolean {
  if (a === b || a === undefined || b === undefined) return a === b;
  try {
    return same(JSON.parse(a) as Json, JSON.parse(b) as Json);
  } catch {
    return false;
  }
}
