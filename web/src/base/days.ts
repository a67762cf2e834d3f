// Days as ISO 8601 writes them, "2026-05-04", without time or place.

const day = 86_400_000;

// The day that it is here.
export function today(): string {
  const now = new Date();
  const two = (number: number) => String(number).padStart(2, "0");
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}

export function plus(from: string, days: number): string {
  return new Date(Date.parse(from) + days * day).toISOString().slice(0, 10);
}

// How many days from one to the other.
export function between(from: string, to: string): number {
  return Math.round((Date.parse(to) - Date.parse(from)) / day);
}

// By the clock on the wall, as "2026-05-04T10:20".
export function wallClock(): string {
  const now = new Date();
  return `${today()}T${[now.getHours(), now.getMinutes()].map((n) => String(n).padStart(2, "0")).join(":")}`;
}
