// Several tabs of one browser, worked at random, beside a model of what each act promised once it was acknowledged.
// An act may be refused with a sentence; then it must have left no trace.
import { entire, expect, maker, open, ready, saved } from "./harness.mjs";

const checkEvery = 50;

// ---- inside the page --------------------------------------------------------------------------------

// What a screen does, by the same ways. Each answers what was acknowledged, { refused } with the sentence, or { absent }:
// this tab has not heard of the thing yet, so nobody could have tapped it.
function armTab() {
  const { book, openScreens } = wetsleeveTest;
  const undos = [];
  const there = (list, id) => book[list].find((each) => each.id === id);
  const acts = {
    addTank: ([name]) => book.addTank({ name }),
    changeTank: async ([id, note]) => {
      const tank = there("tanks", id);
      return tank ? undoable(await book.changeTank({ ...tank, note })) : { absent: true };
    },
    removeTank: async ([id]) => (there("tanks", id) ? undoable(await book.removeTank(id)) : { absent: true }),
    openTank: async ([id]) => (there("tanks", id) ? book.openTank(id).then(() => ({})) : { absent: true }),
    addItem: ([name, amount]) => book.addItem({ name, kind: "bottle", amount, unit: "mL" }),
    bring: async ([id, more]) => {
      const item = there("shelf", id);
      return item ? undoable(await book.changeItem(item, more)) : { absent: true };
    },
    removeItem: async ([id]) => (there("shelf", id) ? undoable(await book.removeItem(id)) : { absent: true }),
    addDue: ([what, tank]) =>
      tank && !there("tanks", tank) ? { absent: true } : book.addDue({ what, day: "2026-06-01", ...(tank ? { tank } : {}) }),
    changeDue: async ([id, what]) => {
      const due = there("due", id);
      return due ? undoable(await book.changeDue({ ...due, what })) : { absent: true };
    },
    removeDue: async ([id]) => (there("due", id) ? undoable(await book.removeDue(id)) : { absent: true }),
    visit: async ([tank, entries, corrects]) => {
      if (!there("tanks", tank)) return { absent: true };
      if (corrects && !(await book.visits(tank)).some(({ id }) => id === corrects)) return { absent: true };
      let id;
      const undo = await book.addVisit({ tank, day: "2026-05-04", entries, ...(corrects ? { corrects } : {}) }, async (made) => {
        ({ id } = made);
        return null;
      });
      return { ...undoable(undo), id };
    },
    take: async ([file]) => {
      const { codec } = openScreens.supplies;
      const theirs = await codec.readBook(JSON.stringify(file));
      return undoable(await book.bringIn((ours) => codec.merge(ours, theirs.book, "keep_ours"), theirs.leftovers));
    },
    undo: async ([n]) => {
      await undos[n]();
      return {};
    },
    type: async ([length]) => {
      const tank = book.open;
      const input = document.getElementById("geometry-box-length-field");
      input.value = String(length);
      input.dispatchEvent(new Event("change"));
      await wetsleeveTest.settled();
      return { tank, moved: book.open !== tank };
    },
  };
  const undoable = (undo) => ({ undo: undos.push(undo) - 1 });
  globalThis.act = async (name, args) => {
    try {
      return (await acts[name](args)) ?? {};
    } catch (problem) {
      return { refused: String(problem?.message ?? problem) };
    }
  };
  // What this tab shows. The slip of the open tank as it is in sight.
  globalThis.shown = async () => ({
    lists: { tanks: book.tanks, shelf: book.shelf, due: book.due },
    whole: await book.whole(),
    open: book.open,
    title: document.getElementById("title").textContent,
    length: document.getElementById("geometry-box-length-field").value,
  });
  globalThis.readBook = (text) => openScreens.supplies.codec.readBook(text);
  // All records as they lie in the storage, without their checksums.
  globalThis.stored = () =>
    new Promise((done, failed) => {
      const opening = indexedDB.open(wetsleeveTest.book.store.name);
      opening.onerror = () => failed(opening.error);
      opening.onsuccess = () => {
        const db = opening.result;
        const store = db.transaction("records").objectStore("records");
        const keys = store.getAllKeys();
        const texts = store.getAll();
        store.transaction.oncomplete = () => {
          db.close();
          const told = (key, text) => (/^setting\/(open|history)$/.test(key) ? text : JSON.parse(text));
          done(keys.result.map((key, i) => [key, told(key, texts.result[i].slice(8))]));
        };
      };
    });
}

// ---- the model --------------------------------------------------------------------------------------

// Everything by "kind/id". `unsure`: things of which two acts at once leave open what becomes; what became of them is
// taken over at the next check.
class Model {
  tanks = new Map(); // id -> { name, note }
  items = new Map(); // id -> { name, stock }
  dues = new Map(); // id -> { what, tank }
  visits = new Map(); // id -> { tank, mark, corrects, doses: [[item, amount]] }
  lengths = new Map(); // tank -> what was typed last
  unsure = new Set();
  touched = new Map(); // when a thing was changed last

  removeTank(id) {
    const gone = { tank: this.tanks.get(id), length: this.lengths.get(id), visits: [], dues: [] };
    for (const [kind, map] of [
      ["visits", this.visits],
      ["dues", this.dues],
    ])
      for (const [each, thing] of map) if (thing.tank === id) gone[kind].push([each, thing]), map.delete(each);
    this.tanks.delete(id);
    this.lengths.delete(id);
    return gone;
  }
  bringTank(id, { tank, length, visits, dues }) {
    this.tanks.set(id, tank);
    if (length !== undefined) this.lengths.set(id, length);
    for (const [each, thing] of visits) this.visits.set(each, thing);
    for (const [each, thing] of dues) this.dues.set(each, thing);
  }
  // What a visit takes off the shelf, times `sign`. A correction stands in the place of what it corrects.
  dose(visit, sign) {
    for (const [item, amount] of visit.doses) if (this.items.has(item)) this.items.get(item).stock -= sign * amount;
    const before = visit.corrects && this.visits.get(visit.corrects);
    for (const [item, amount] of before?.doses ?? []) if (this.items.has(item)) this.items.get(item).stock += sign * amount;
  }
}

// ---- acts -------------------------------------------------------------------------------------------

const taken = (n) => Number((40 + n / 1000).toFixed(3));
const importOf = (n) => ({
  version: 1,
  tanks: [
    {
      id: `in${n}`,
      name: `Taken in ${n}`,
      slip: {
        wetsleeve: 1,
        now: { system: "metric", decimal: ".", given: { "geometry.box/length": taken(n) }, held: {}, units: {} },
        past: [],
        future: [],
      },
    },
  ],
  shelf: [{ id: `in${n}`, name: `Taken in ${n}`, kind: "bottle", amount: 300, unit: "mL" }],
  visits: [{ id: `in${n}`, tank: `in${n}`, day: "2026-05-01", entries: [{ what: "read", words: `taken in ${n}` }] }],
  due: [{ id: `in${n}`, tank: `in${n}`, day: "2026-07-01", what: `taken in ${n}` }],
});

// An act as { name, args, keys: what another act at the same moment must leave alone, shares: what both may take from,
// done(answer): what it means once acknowledged }; undefined where there is nothing to do it with. `done` tells of its
// undoing: { keys: what it changed, undone(), composed: what is undone only adds up, mustRefuse() }.
function choose(model, dice, all, tab, n) {
  const { pick, chance, below } = dice;
  const anyTank = () => pick([...model.tanks.keys()]);
  const anyItem = () => pick([...model.items.keys()]);
  const sure = (...keys) => !keys.some((key) => model.unsure.has(key));
  const kinds = {
    addTank: () => ({
      args: [`Tank n${n}`],
      keys: [],
      done: ({ id }) => (model.tanks.set(id, { name: `Tank n${n}` }), { keys: [`tank/${id}`] }),
    }),
    changeTank: () => {
      const id = anyTank();
      const before = model.tanks.get(id).note;
      return {
        args: [id, `note ${n}`],
        keys: [`tank/${id}`],
        done: () => (
          Object.assign(model.tanks.get(id), { note: `note ${n}` }), { keys: [`tank/${id}`], undone: () => (model.tanks.get(id).note = before) }
        ),
      };
    },
    removeTank: () => {
      if (model.tanks.size < 3) return undefined;
      const id = anyTank();
      return {
        args: [id],
        keys: [
          `tank/${id}`,
          `slip/${id}`,
          ...[...model.dues].filter(([, { tank }]) => tank === id).map(([due]) => `due/${due}`),
          ...[...model.visits].filter(([, { tank }]) => tank === id).map(([visit]) => `visit/${visit}`),
        ],
        done: () => {
          const gone = model.removeTank(id);
          return { keys: [`tank/${id}`], undone: () => model.bringTank(id, gone) };
        },
      };
    },
    openTank: () => ({ args: [anyTank()], keys: [], done: () => ({ keys: [] }) }),
    addItem: () => ({
      args: [`Bottle n${n}`, 1000],
      keys: [],
      done: ({ id }) => (model.items.set(id, { name: `Bottle n${n}`, stock: 1000 }), { keys: [`item/${id}`] }),
    }),
    bring: () => {
      const id = anyItem();
      if (!id) return undefined;
      return {
        args: [id, 100],
        keys: [],
        shares: [`item/${id}`],
        done: () => {
          const item = model.items.get(id);
          item.stock += 100;
          return { keys: [], also: [`item/${id}`], composed: true, undone: () => (item.stock -= 100) };
        },
      };
    },
    removeItem: () => {
      const id = anyItem();
      if (model.items.size < 3) return undefined;
      return {
        args: [id],
        keys: [`item/${id}`],
        done: () => {
          const item = model.items.get(id);
          model.items.delete(id);
          return { keys: [`item/${id}`], undone: () => model.items.set(id, item) };
        },
      };
    },
    addDue: () => {
      const tank = chance(0.7) ? anyTank() : undefined;
      return {
        args: [`due n${n}`, tank],
        keys: tank ? [`tank/${tank}`] : [],
        done: ({ id }) => (model.dues.set(id, { what: `due n${n}`, tank }), { keys: [`due/${id}`] }),
      };
    },
    changeDue: () => {
      const id = pick([...model.dues.keys()]);
      if (!id) return undefined;
      const before = model.dues.get(id).what;
      return {
        args: [id, `due n${n}`],
        keys: [`due/${id}`],
        done: () => ((model.dues.get(id).what = `due n${n}`), { keys: [`due/${id}`], undone: () => (model.dues.get(id).what = before) }),
      };
    },
    removeDue: () => {
      const id = pick([...model.dues.keys()]);
      if (!id) return undefined;
      return {
        args: [id],
        keys: [`due/${id}`],
        done: () => {
          const due = model.dues.get(id);
          model.dues.delete(id);
          return { keys: [`due/${id}`], undone: () => model.dues.set(id, due) };
        },
      };
    },
    visit: () => written(anyTank(), undefined),
    correct: () => {
      const corrected = new Set([...model.visits.values()].map(({ corrects }) => corrects));
      const left = [...model.visits.keys()].filter((each) => !corrected.has(each));
      // Often one that another tab still offers to undo.
      const offered = left.filter((id) => all.some(({ last }) => last?.keys.includes(`visit/${id}`)));
      const id = pick(offered.length > 0 && chance(0.5) ? offered : left);
      return id ? written(model.visits.get(id).tank, id) : undefined;
    },
    take: () => {
      const id = `in${n}`;
      const keys = ["tank", "item", "due", "visit", "slip"].map((kind) => `${kind}/${id}`);
      return {
        args: [importOf(n)],
        keys,
        done: () => {
          model.tanks.set(id, { name: `Taken in ${n}` });
          model.items.set(id, { name: `Taken in ${n}`, stock: 300 });
          model.visits.set(id, { tank: id, mark: `taken in ${n}`, doses: [] });
          model.dues.set(id, { what: `taken in ${n}`, tank: id });
          model.lengths.set(id, taken(n));
          return {
            keys,
            undone: () => {
              model.removeTank(id);
              model.items.delete(id);
            },
          };
        },
      };
    },
    undo: () => {
      const last = tab.last;
      if (!last) return undefined;
      const later = last.keys.filter((key) => (model.touched.get(key) ?? 0) > last.at);
      // What another tab has changed since: either it is refused, or what becomes of it is open. But what was written
      // on top of it may not lose its ground, and what only adds up goes back by as much as it brought.
      if (later.length > 0 && !last.composed && !last.mustRefuse?.()) return undefined;
      const gone = last.needs?.some((key) => key.startsWith("tank/") && !model.tanks.has(key.slice(5)));
      if (gone) return undefined;
      return {
        args: [last.undo],
        keys: [...last.keys, ...(last.needs ?? [])],
        mustRefuse: last.mustRefuse?.() ?? false,
        settled: () => (tab.last = undefined),
        done: () => (last.undone(), { keys: last.keys }),
      };
    },
    type: () => {
      const length = Number((50 + n / 1000).toFixed(3)); // as somebody types it
      return {
        args: [length],
        keys: [`type`], // one at a time: which tank is open the tab alone knows
        done: ({ tank, moved }) => {
          if (moved || !model.tanks.has(tank)) model.unsure.add(`slip/${tank}`).add(`tank/${tank}`);
          else model.lengths.set(tank, length);
          return { keys: [`slip/${tank}`] };
        },
      };
    },
    reload: () => ({ page: "reload", keys: [] }),
    another: () => ({ page: "another", keys: [] }),
  };
  function written(tank, corrects) {
    if (!sure(`tank/${tank}`)) return undefined;
    const doses = Array.from({ length: below(3) }, anyItem)
      .filter((item) => item && sure(`item/${item}`))
      .map((item) => [item, 1 + below(20)]);
    const mark = `visit n${n}`;
    const entries = [
      { what: "read", words: mark },
      ...doses.map(([item, value]) => ({ what: "dosed", words: model.items.get(item).name, value, unit: "mL" })),
    ];
    return {
      name: "visit",
      args: [tank, entries, corrects],
      keys: [`tank/${tank}`, ...(corrects ? [`visit/${corrects}`] : [])],
      shares: doses.map(([item]) => `item/${item}`),
      done: ({ id }) => {
        const visit = { tank, mark, corrects, doses };
        model.visits.set(id, visit);
        model.dose(visit, 1);
        return {
          keys: [`visit/${id}`],
          needs: [`tank/${tank}`, ...(corrects ? [`visit/${corrects}`] : [])],
          composed: true,
          also: doses.map(([item]) => `item/${item}`),
          mustRefuse: () => [...model.visits.values()].some((each) => each.corrects === id),
          undone: () => {
            if (!model.visits.has(id)) return;
            model.visits.delete(id);
            model.dose(visit, -1);
          },
        };
      },
    };
  }
  const weights = {
    addTank: 3,
    changeTank: 4,
    removeTank: 2,
    openTank: 5,
    addItem: 3,
    bring: 4,
    removeItem: 1,
    addDue: 4,
    changeDue: 4,
    removeDue: 2,
    visit: 18,
    correct: 8,
    take: 3,
    undo: 14,
    type: 14,
    reload: 2,
    another: 1,
  };
  const names = Object.entries(weights).flatMap(([name, weight]) => Array(weight).fill(name));
  for (;;) {
    const name = pick(names);
    const act = kinds[name]();
    if (act && sure(...act.keys)) return { name, ...act };
  }
}

// ---- checks -----------------------------------------------------------------------------------------

const byId = (list) => [...(list ?? [])].sort((a, b) => (a.id < b.id ? -1 : 1));

// Every tab shows what is stored; what is stored is what was acknowledged, and holds together.
async function check(pages, model, where) {
  for (const page of pages) await saved(page);
  const records = new Map(await entire(pages[0], () => stored()));
  const of = (kind) => [...records].filter(([key]) => key.startsWith(`${kind}/`));
  const tanks = of("tank").map(([, tank]) => tank);
  const items = of("item").map(([, item]) => item);
  const dues = of("due").map(([, due]) => due);
  const visits = of("visit").map(([key, visit]) => ({ ...visit, at: key.split("/")[1] }));
  const ids = new Set(tanks.map(({ id }) => id));

  // It holds together.
  const order = records.get("setting/order") ?? [];
  // One that it does not name comes last.
  expect(
    order.filter((id) => !ids.has(id)),
    `${where}: the order names tanks that are not there`,
  ).toEqual([]);
  expect(new Set(order).size, `${where}: the order names no tank twice`).toBe(order.length);
  const asFirst = (await entire(pages[0], () => shown())).lists.tanks.map(({ id }) => id);
  const ground = (what, list) =>
    expect(
      list.filter((tank) => !ids.has(tank)),
      `${where}: ${what} of tanks that are not there`,
    ).toEqual([]);
  ground(
    "visits",
    visits.flatMap(({ tank, at }) => [tank, at]),
  );
  ground(
    "due dates",
    dues.flatMap(({ tank }) => tank ?? []),
  );
  ground(
    "slips",
    of("slip").map(([key]) => key.slice(5)),
  );
  const visitIds = new Set(visits.map(({ id }) => id));
  expect(visitIds.size, `${where}: no visit is there twice`).toBe(visits.length);
  expect(
    visits.filter(({ corrects }) => corrects && !visitIds.has(corrects)).map(({ id }) => id),
    `${where}: corrections of nothing`,
  ).toEqual([]);
  const corrected = visits.flatMap(({ corrects }) => corrects ?? []);
  expect(new Set(corrected).size, `${where}: no visit is corrected twice`).toBe(corrected.length);

  // It is what was acknowledged.
  const slips = new Map(of("slip").map(([key, slip]) => [key.slice(5), slip.now.given["geometry.box/length"]]));
  const found = {
    tank: new Map(tanks.map(({ id, name, note }) => [id, JSON.stringify([name, note])])),
    item: new Map(items.map(({ id, name, amount }) => [id, JSON.stringify([name, amount])])),
    due: new Map(dues.map(({ id, what, tank }) => [id, JSON.stringify([what, tank])])),
    visit: new Map(visits.map(({ id, tank, corrects, entries }) => [id, JSON.stringify([tank, corrects, entries[0].words])])),
    slip: new Map([...slips].filter(([, length]) => length !== undefined).map(([id, length]) => [id, JSON.stringify(length)])),
  };
  const wanted = {
    tank: new Map([...model.tanks].map(([id, { name, note }]) => [id, JSON.stringify([name, note])])),
    item: new Map([...model.items].map(([id, { name, stock }]) => [id, JSON.stringify([name, stock])])),
    due: new Map([...model.dues].map(([id, { what, tank }]) => [id, JSON.stringify([what, tank])])),
    visit: new Map([...model.visits].map(([id, { tank, corrects, mark }]) => [id, JSON.stringify([tank, corrects, mark])])),
    slip: new Map([...model.lengths].map(([id, length]) => [id, JSON.stringify(length)])),
  };
  const differ = [];
  for (const kind of Object.keys(wanted))
    for (const id of new Set([...wanted[kind].keys(), ...found[kind].keys()])) {
      const [is, should] = [found[kind].get(id), wanted[kind].get(id)];
      if (is !== should && !model.unsure.has(`${kind}/${id}`)) differ.push(`${kind}/${id}: ${is ?? "gone"}, not ${should ?? "gone"}`);
    }
  expect(differ, `${where}: stored against what was acknowledged`).toEqual([]);

  // Every tab shows it, and soon.
  for (const [i, page] of pages.entries())
    await expect(async () => {
      const { lists, whole, open: here, title, length } = await entire(page, () => shown());
      const tab = `${where}: tab ${i + 1}`;
      expect(byId(lists.tanks), `${tab}, tanks`).toEqual(byId(tanks));
      expect(
        lists.tanks.map(({ id }) => id),
        `${tab}, order of the tanks`,
      ).toEqual(asFirst);
      expect(byId(lists.shelf), `${tab}, shelf`).toEqual(byId(items));
      expect(byId(lists.due), `${tab}, due dates`).toEqual(byId(dues));
      expect(whole.visits.map(({ id }) => id).sort(), `${tab}, visits`).toEqual([...visitIds].sort());
      expect(title, `${tab}, the open tank's name`).toBe(tanks.find(({ id }) => id === here)?.name);
      expect(Number(length), `${tab}, the open slip`).toBe(slips.get(here) ?? 0);
      for (const { id, slip } of whole.tanks) expect(slip?.now.given["geometry.box/length"], `${tab}, slip of ${id}`).toBe(slips.get(id));
      const read = await page.evaluate((text) => readBook(text), JSON.stringify(whole));
      expect([read.book.tanks.length, read.leftovers], `${tab}, read by the core`).toEqual([tanks.length, []]);
    }).toPass({ timeout: 10_000 });

  // What was left open is now taken as it is.
  for (const key of model.unsure) {
    const [kind, id] = key.split("/");
    if (kind === "tank" && !ids.has(id)) model.removeTank(id);
    if (kind === "tank" && ids.has(id)) model.tanks.set(id, (({ name, note }) => ({ name, note }))(tanks.find((each) => each.id === id)));
    if (kind === "slip" && slips.get(id) === undefined) model.lengths.delete(id);
    if (kind === "slip" && slips.get(id) !== undefined) model.lengths.set(id, slips.get(id));
  }
  model.unsure.clear();
}

// ---- all of it --------------------------------------------------------------------------------------

export async function work(context, site, { seed, acts, tabs, told = () => {} }) {
  const dice = maker(seed);
  const model = new Model();
  const journal = [];
  const note = (text) => {
    journal.push(text);
    told(text);
  };
  const arm = async (page) => {
    await ready(page);
    await page.evaluate(armTab);
    await page.evaluate(() => wetsleeveTest.openScreens.supplies.codec.visitEntries()); // the core's part for books is there
  };
  const begin = async () => {
    const page = await context.newPage();
    await open(page, site.url, "plain");
    await arm(page);
    return { page, last: undefined };
  };
  const all = [await begin()];
  const first = await all[0].page.evaluate(() => act("type", [49]));
  const name = await all[0].page.evaluate(() => wetsleeveTest.book.tanks[0].name);
  model.tanks.set(first.tank, { name });
  model.lengths.set(first.tank, 49);
  while (all.length < tabs) all.push(await begin());
  const pages = () => all.map(({ page }) => page);

  const counts = { acknowledged: 0, refused: 0, absent: 0 };
  const perform = async (n, tab, chosen) => {
    const label = `${n} tab ${all.indexOf(tab) + 1} ${chosen.name} ${JSON.stringify(chosen.args ?? [])}`;
    if (chosen.page) {
      await saved(tab.page);
      tab.last = undefined;
      if (chosen.page === "reload") await tab.page.reload();
      else {
        const old = tab.page;
        tab.page = await context.newPage();
        await old.close();
        await tab.page.goto(site.url);
      }
      await arm(tab.page);
      note(label);
      return;
    }
    const answer = await tab.page.evaluate(([name, args]) => act(name, args), [chosen.name, chosen.args]);
    note(`${label} -> ${JSON.stringify(answer)}`);
    if (answer.absent) return void (counts.absent += 1);
    chosen.settled?.();
    if (answer.refused !== undefined) {
      counts.refused += 1;
      expect(answer.refused, `${label}: refused with a sentence`).toMatch(/^[A-Z“].*[.]$/s);
      return;
    }
    counts.acknowledged += 1;
    if (chosen.mustRefuse) throw new Error(`${label}: something was written on top of it, so it cannot be undone, but it was.`);
    const last = chosen.done(answer);
    for (const key of [...last.keys, ...(last.also ?? [])]) model.touched.set(key, n);
    // "Undo" is offered for the last thing that was done; a number typed and a tank opened leave it there.
    if (chosen.name === "openTank" || chosen.name === "type") return;
    tab.last = answer.undo === undefined ? undefined : { ...last, undo: answer.undo, at: n };
  };

  try {
    let checked = 0;
    for (let n = 1; n <= acts; ) {
      const tab = dice.pick(all);
      const one = choose(model, dice, all, tab, n);
      const together = all.length > 1 && dice.chance(0.3) && !one.page ? other(model, dice, all, tab, one, n + 1) : undefined;
      if (together) {
        note(`${n} and ${n + 1} at once`);
        await Promise.all([perform(n, tab, one), perform(n + 1, together.tab, together.act)]);
      } else await perform(n, tab, one);
      n += together ? 2 : 1;
      if (n - checked > checkEvery || n > acts) {
        checked = n;
        await check(pages(), model, `after act ${n - 1}`);
      }
    }
    // A saved file has it all, and so has a new start.
    const page = all[0].page;
    await page.evaluate(() => wetsleeveTest.openScreens.open("files"));
    const [download] = await Promise.all([
      page.waitForEvent("download"),
      page.locator(".screen:visible").getByRole("button", { name: "Save a file", exact: true }).click(),
    ]);
    const chunks = [];
    for await (const chunk of await download.createReadStream()) chunks.push(chunk);
    const { book: file, leftovers } = await page.evaluate((text) => readBook(text), Buffer.concat(chunks).toString("utf8"));
    expect(leftovers).toEqual([]);
    expect([file.tanks.length, file.visits?.length ?? 0, file.shelf?.length ?? 0, file.due?.length ?? 0]).toEqual(
      [model.tanks, model.visits, model.items, model.dues].map(({ size }) => size),
    );
    for (const each of pages()) {
      await each.reload();
      await arm(each);
    }
    await check(pages(), model, "after a new start");
    expect(counts.acknowledged, JSON.stringify(counts)).toBeGreaterThan(0.7 * acts);
  } catch (problem) {
    problem.message = `${problem.message}\n\nThe acts before it:\n${journal.slice(-40).join("\n")}\n\nAgain: WETSLEEVE_SEED=${seed} WETSLEEVE_ACTS=${acts} npm --prefix web test -- tabs.test -g "${tabs} tabs"`;
    throw problem;
  }
  return counts;
}

// Another tab's act that leaves alone what this one is about.
function other(model, dice, all, tab, one, n) {
  const rest = all.filter((each) => each !== tab);
  for (let tries = 0; tries < 10; ++tries) {
    const another = dice.pick(rest);
    const act = choose(model, dice, all, another, n);
    if (act.page) continue;
    const mine = new Set([...one.keys, ...(one.shares ?? [])]);
    const theirs = new Set([...act.keys, ...(act.shares ?? [])]);
    if (act.keys.some((key) => mine.has(key)) || one.keys.some((key) => theirs.has(key))) continue;
    return { tab: another, act };
  }
  return undefined;
}
