// What begins once the first answers are in sight; fetched then.
import type { Desk } from "./desk";
import type { KeptBook } from "./keep/book";
import { watchForUpdates } from "./updates";

export function after(_desk: Desk, book: KeptBook | undefined): void {
  watchForUpdates(async () => book?.settled());
}
