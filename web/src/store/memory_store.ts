// A book's records in memory alone, while the browser keeps nothing: all works until the page is closed, saving a
// file too.
import type { Change, Put } from "./journal";
import { bothOrders, historyKey, order, roomKey } from "./keys";
import { madeOf, type Puts, type Store, type Written } from "./disk_store";
import { entriesKept } from "./second_copy";

export class MemoryStore implements Store {
  private readonly records = new Map<string, string>();
  private readonly journal = new Map<number, Change>();
  changes = 0;
  written = (): void => {}; // something is here alone

  // All of it, to be kept beside what a storage holds in this order.
  putsBeside(there: string | undefined): Put[] {
    const puts = [...this.records].map(([key, text]): Put => ({ key, text }));
    return puts
      .map((put) => (put.key === order ? { key: order, text: bothOrders(there, put.text) } : put))
      .filter(({ key }) => key !== roomKey && key !== historyKey); // the storage has its own
  }

  private keysFrom(prefix: string): string[] {
    return [...this.records.keys()].filter((key) => key.startsWith(prefix)).sort();
  }
  async read(prefix: string): Promise<Map<string, string>> {
    return new Map(this.keysFrom(prefix).map((key) => [key, this.records.get(key)!]));
  }
  async readOne(key: string): Promise<string | undefined> {
    return this.records.get(key);
  }
  async unchecked(prefix: string): Promise<string[]> {
    return [...(await this.read(prefix)).values()];
  }
  async keys(prefix: string): Promise<string[]> {
    return this.keysFrom(prefix);
  }
  async entries(): Promise<Map<number, Change>> {
    return new Map(this.journal);
  }
  async write(make: Puts): Promise<Written> {
    const number = ++this.changes;
    const { puts, did } = madeOf(await make(number));
    this.journal.set(number, { kind: "puts", puts, ...(did ? { did } : {}) });
    this.journal.delete(number - entriesKept);
    const before = puts.map(({ key }) => ({ key, text: this.records.get(key) }));
    for (const { key, text } of puts)
      if (text === undefined) this.records.delete(key);
      else this.records.set(key, text);
    this.written();
    return { number, puts, before };
  }
  put(make: Puts): Promise<Written> {
    return this.write(make);
  }
  async copied(): Promise<void> {}
  async writeNow(make: (number: number) => Put[]): Promise<void> {
    await this.write(make);
  }
  async settled(): Promise<void> {}
  async catchUp(): Promise<void> {}
}
