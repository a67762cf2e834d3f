// The way to the screens for tanks, shelf, visits, hand-overs and files, which are a script of their own.
import { tell } from "../base/bar";
import type { Supplies } from "../book/supplies";
import { today } from "../base/days";
import { byId, say, show } from "../base/dom";
import { addressOf, installed, invented } from "../base/invented";
import type { KeptBook } from "../store/book";
import { remember, remembered } from "../base/memory";
import { NotCome, part, style } from "../base/part";
import type { Screens, Way } from "../screens/screens";
import type { Slip } from "../base/slip";
import { t } from "../base/words";

const long = 3000; // ms

export class OpenScreens {
  supplies: Supplies | undefined;
  private screens: Promise<Screens> | undefined;
  private dress: Promise<void> | undefined; // their style
  private readonly watchers: ((supplies: Supplies) => void)[] = [];

  constructor(
    private readonly slip: Slip,
    private readonly styleAddress: string,
    private readonly named: (name: string) => void,
  ) {
    for (const button of this.buttons()) button.addEventListener("click", () => void this.open(button.dataset["way"] as Way));
    addEventListener("hashchange", () => void this.takeLink());
  }

  // From now on there is a book to work with.
  use(supplies: Supplies, untouched = false): void {
    this.supplies = supplies;
    supplies.book.onChange(() => {
      if (!remembered("changed")) remember("changed", today());
      this.name();
    });
    for (const button of this.buttons()) show(button, true);
    this.welcome(untouched && !invented);
    this.name();
    if (!this.linkInAddress()) {
      if (untouched && installed && !invented) void this.open("bring");
    } else if (!this.broughtBefore(untouched)) void this.takeLink();
    for (const watcher of this.watchers) watcher(supplies);
  }

  // Tells now, where there is a book already, and whenever there is another.
  whenUsed(watcher: (supplies: Supplies) => void): void {
    this.watchers.push(watcher);
    if (this.supplies) watcher(this.supplies);
  }

  async open(way: Way): Promise<void> {
    (await this.fetched())?.open(way);
  }

  // Whoever has nothing here yet may look at an invented round first, or has something elsewhere.
  private welcome(shown: boolean): void {
    const [demo, bring] = [byId("to-demo"), byId("to-bring")];
    const offer = (on: boolean) => [demo, bring].forEach((each) => show(each, on));
    offer(shown);
    if (!shown) return;
    demo.addEventListener("click", () => void this.tryDemo());
    bring.addEventListener("click", () => void this.open("bring"));
    this.supplies!.book.onChange(() => offer(false));
    this.slip.onChange(({ by }) => {
      if (by === "entry" || by === "drawn" || by === "lines") offer(false);
    });
  }

  async tryDemo(): Promise<void> {
    await (await this.told(part(() => import("../screens/screens"))))?.enter();
  }

  // The invented round, filled and told of; without the bar that tells of it, rather the real one. The bar's
  // style is the screens'.
  async showInvented(book: KeptBook | undefined): Promise<void> {
    const [screens] = await Promise.all([part(() => import("../screens/screens")), this.told(this.dressed())]).catch(() => []);
    if (!screens) return location.replace(addressOf(false));
    screens.showBar(book);
    if (book) await this.told(screens.fill(book));
  }

  // The tank whose slip is in sight stands above it.
  name(): void {
    const book = this.supplies?.book;
    const tank = book?.tanks.find(({ id }) => id === book.open);
    if (!tank) return;
    say(byId("title"), tank.name);
    document.title = `${tank.name} – Wetsleeve`;
    this.named(tank.name);
    const { shop, contact } = tank.handed_over ?? {};
    const from = [
      shop ? t("From “{0}”.", shop) : "",
      contact ? t("How to reach them, in their words: “{0}”", contact) : "",
      tank.handed_over && this.slip.state().locked ? t("Please ask there before you change a number.") : "",
    ]
      .filter(Boolean)
      .join("\n");
    say(byId("from"), from);
    show(byId("from"), from !== "");
  }

  private buttons(): NodeListOf<HTMLButtonElement> {
    return document.querySelectorAll<HTMLButtonElement>("button[data-way]");
  }

  async saveFile(): Promise<void> {
    (await this.fetched())?.saveFile();
  }

  private linkInAddress(): boolean {
    return /^#h\d+\./.test(location.hash);
  }
  private async takeLink(): Promise<void> {
    if (this.linkInAddress() && this.supplies) (await this.fetched())?.link(location.hash.slice(1));
  }
  // A home screen may keep the address with the link that brought the tank here (screens/home.ts): the link is
  // shown again at each start until there is something here.
  private broughtBefore(untouched: boolean): boolean {
    if (!installed) return false;
    const end = location.hash.slice(-40);
    const again = !untouched && remembered("brought") === end;
    remember("brought", end);
    if (again) history.replaceState(null, "", location.pathname + location.search);
    return again;
  }

  // Undefined, with a message, when they cannot come.
  private async fetched(): Promise<Screens | undefined> {
    const { supplies } = this;
    if (!supplies) return undefined;
    this.screens ??= Promise.all([part(() => import("../screens/screens")), this.dressed()]).then(
      ([{ Screens }]) => new Screens(supplies, this.slip),
    );
    const screens = await this.told(this.screens);
    if (!screens) this.screens = undefined;
    return screens;
  }

  // What a part could not do is told, and that it takes long.
  private async told<T>(work: Promise<T>): Promise<T | undefined> {
    let over = () => {};
    const waiting = setTimeout(() => (over = tell(t("This part of the page is still on its way."))), long);
    try {
      return await work;
    } catch (problem) {
      console.warn(problem);
      tell(problem instanceof NotCome ? problem.message : t("That did not work. Please try again."));
      return undefined;
    } finally {
      clearTimeout(waiting);
      over();
    }
  }

  private dressed(): Promise<void> {
    return (this.dress ??= style(this.styleAddress).catch((why: unknown) => {
      this.dress = undefined;
      throw why;
    }));
  }
}
