// How a person of this language and place is used to writing numbers; asked at the first start only.
import type { Decimal, System } from "../core/state";

export function habits(language: string): { system: System; decimal: Decimal } {
  let region: string | undefined;
  let mark: string | undefined;
  try {
    region = new Intl.Locale(language).region;
    mark = new Intl.NumberFormat(language).formatToParts(1.5).find((part) => part.type === "decimal")?.value;
  } catch {
    // An odd language tag: the usual will do.
  }
  return { system: region === "US" ? "us" : "metric", decimal: mark === "," ? "," : "." };
}
