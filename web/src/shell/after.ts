// What begins once the first answers are in sight; fetched then.
import type { Desk } from "./desk";
import { watchCopies } from "./forget";
import type { KeptBook } from "../store/book";
import type { Slip } from "../base/slip";
import { watchForUpdates } from "./updates";

export function after(desk: Desk, slip: Slip, book: KeptBook | undefined): void {
  watchForUpdates(async () => book?.settled());
  void watchCopies(desk, slip, async () => book?.settled());
}
