// What begins once the first answers are in sight; fetched then.
import type { OpenScreens } from "./open_screens";
import { watchCopies } from "./forget";
import type { KeptBook } from "../store/book";
import type { Slip } from "../base/slip";
import { watchForUpdates } from "./updates";

export function after(openScreens: OpenScreens, slip: Slip, book: KeptBook | undefined): void {
  watchForUpdates(async () => book?.settled());
  void watchCopies(openScreens, slip, async () => book?.settled());
}
