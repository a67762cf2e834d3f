// What somebody changed in a form, put onto what stands now. A field that they left as it was shown stays as others have
// made it since; so does each field of a part.
export function onto<T extends object>(now: T, shown: Partial<T>, given: Partial<T>): T {
  const made = { ...now };
  for (const key of new Set([...Object.keys(shown), ...Object.keys(given)] as (keyof T)[])) {
    const [was, is] = [shown[key], given[key]];
    if (JSON.stringify(was) === JSON.stringify(is)) continue;
    if (is === undefined) delete made[key];
    else made[key] = isPart(is) && isPart(was) ? (onto(isPart(now[key]) ? now[key] : {}, was, is) as T[keyof T]) : is;
  }
  return made;
}

const isPart = (value: unknown): value is object => typeof value === "object" && value !== null && !Array.isArray(value);
