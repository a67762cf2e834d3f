// What somebody changed in a form, put onto what stands now. A field that they left as it was shown stays as others have
// made it since.
export function onto<T extends object>(now: T, shown: Partial<T>, given: Partial<T>): T {
  const made = { ...now };
  for (const key of new Set([...Object.keys(shown), ...Object.keys(given)] as (keyof T)[])) {
    if (JSON.stringify(shown[key]) === JSON.stringify(given[key])) continue;
    if (given[key] === undefined) delete made[key];
    else made[key] = given[key];
  }
  return made;
}
