// A book in memory and a simple reader and writer of files, to try the screens without storage. `supplies`
// runs inside the page: it may use nothing from outside itself.
export const supplies = (file) => {
  const copy = (thing) => structuredClone(thing);
  const own = globalThis.wetsleeveTest.openScreens.supplies?.codec;
  const listeners = [];
  let count = 0;
  const newId = (kind) => `${kind}-new-${++count}`;
  let all = { version: 2, tanks: [], shelf: [], visits: [], due: [], ...copy(file) };
  let open = all.tanks[0].id;
  const calls = []; // what was asked of the book, for tests
  const changed = () => {
    if (!all.tanks.some(({ id }) => id === open)) open = all.tanks[0].id;
    for (const listener of listeners) listener();
  };
  // Every change keeps the whole book as it was before.
  const change = (name, act) => {
    const before = copy(all);
    const wasOpen = open;
    calls.push(name);
    act();
    changed();
    let used = false;
    return async () => {
      if (used) throw new Error("This was undone already.");
      used = true;
      all = before;
      open = wasOpen;
      changed();
    };
  };
  const without = ({ slip: _, ...tank }) => tank;
  const put = (list, thing) =>
    list.splice(
      list.findIndex(({ id }) => id === thing.id),
      1,
      thing,
    );
  const drop = (list, id) =>
    list.splice(
      list.findIndex((each) => each.id === id),
      1,
    );
  const added = (list, kind, thing) => {
    const made = { ...copy(thing), id: newId(kind) };
    list.push(made);
    return made;
  };

  const book = {
    get tanks() {
      return all.tanks.map(without);
    },
    get shelf() {
      return copy(all.shelf);
    },
    get due() {
      return copy(all.due);
    },
    get open() {
      return open;
    },
    async openTank(id) {
      open = id;
      calls.push("openTank");
      changed();
    },
    async addTank(tank, slip) {
      let made;
      change("addTank", () => (made = added(all.tanks, "tank", slip ? { ...tank, slip } : tank)));
      return without(made);
    },
    async changeTank(tank) {
      const { slip } = all.tanks.find(({ id }) => id === tank.id);
      return change("changeTank", () => put(all.tanks, slip ? { ...copy(tank), slip } : copy(tank)));
    },
    async removeTank(id) {
      return change("removeTank", () => {
        drop(all.tanks, id);
        all.visits = all.visits.filter(({ tank }) => tank !== id);
        all.due = all.due.filter(({ tank }) => tank !== id);
        if (all.tanks.length === 0) all.tanks.push({ id: newId("tank"), name: "New tank" });
      });
    },
    async takeUp(tanks, items) {
      const ids = [];
      const undo = change("takeUp", () => {
        for (const { tank, slip, instead } of tanks) {
          const before = ids.includes(instead) ? undefined : all.tanks.find(({ id }) => id === instead);
          const { name: _n, customer_note: _o, handed_over: _h, slip: _s, ...rest } = before ?? { id: newId("tank") };
          const made = copy({ ...rest, ...tank, ...(slip ? { slip } : {}) });
          if (before) put(all.tanks, made);
          else all.tanks.push(made);
          ids.push(made.id);
        }
        for (const item of items) added(all.shelf, "item", item);
      });
      return { open: ids[0], undo };
    },
    async addItem(item) {
      let made;
      change("addItem", () => (made = added(all.shelf, "item", item)));
      return made;
    },
    async changeItem(item, brought) {
      const made = brought ? { ...item, amount: item.amount + brought } : item;
      if (brought !== undefined) all.brought = brought;
      return change("changeItem", () => put(all.shelf, copy(made)));
    },
    async removeItem(id) {
      return change("removeItem", () => drop(all.shelf, id));
    },
    async visits(tank) {
      return copy(all.visits.filter((visit) => visit.tank === tank));
    },
    async lastVisit(tank) {
      return (
        all.visits
          .filter((visit) => visit.tank === tank)
          .map((visit) => visit.day)
          .sort()
          .at(-1) ?? ""
      );
    },
    // What it takes off shelf and store is the core's to say: here all stays.
    async addVisit(visit, left) {
      const made = { ...copy(visit), id: newId("visit") };
      // Another tab removed it.
      const gone = !all.tanks.some(({ id }) => id === visit.tank);
      const round = gone ? null : await left?.(made);
      const undo = change("addVisit", () => {
        if (gone) all.tanks.push({ id: visit.tank, name: "Brought back" });
        all.visits.push(made);
        if (round) all.round = round;
      });
      return gone ? Object.assign(undo, { told: "Brought back had been removed: it is back, with this visit." }) : undo;
    },
    get round() {
      return copy(all.round);
    },
    async changeRound(round) {
      return change("changeRound", () => (all.round = copy(round)));
    },
    async addDue(due) {
      let made;
      change("addDue", () => (made = added(all.due, "due", due)));
      return made;
    },
    async changeDue(due) {
      return change("changeDue", () => put(all.due, copy(due)));
    },
    async removeDue(id) {
      return change("removeDue", () => drop(all.due, id));
    },
    async about(id) {
      if (id === undefined) return copy({ ...all, tanks: all.tanks.map(without) });
      return copy({ ...all, tanks: all.tanks.filter((tank) => tank.id === id), visits: all.visits.filter(({ tank }) => tank === id) });
    },
    async whole() {
      return copy(all);
    },
    async rescue() {
      return { file: copy(all), lacks: "" };
    },
    async bringIn(together) {
      return book.replace((await together(copy(all))).book);
    },
    async replace(theirs) {
      return change("replace", () => (all = { shelf: [], visits: [], due: [], ...copy(theirs) }));
    },
    async pieces() {
      return copy(aside);
    },
    async takeBack(piece) {
      const before = aside.splice(
        aside.findIndex(({ id }) => id === piece.id),
        1,
      );
      return async () => void aside.push(...before);
    },
    async throwAway(piece) {
      return book.takeBack(piece);
    },
    async sound() {},
    onChange(listener) {
      listeners.push(listener);
    },
  };

  const difference = (ours = [], theirs = []) => {
    const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
    const out = { fresh: 0, same: 0, changed: 0, absent: 0 };
    for (const each of theirs) {
      const mine = ours.find(({ id }) => id === each.id);
      out[!mine ? "fresh" : same(mine, each) ? "same" : "changed"] += 1;
    }
    out.absent = ours.filter(({ id }) => !theirs.some((each) => each.id === id)).length;
    return out;
  };
  const lists = ["tanks", "shelf", "visits", "due"];
  const codec = {
    async readBook(text) {
      let read;
      try {
        read = JSON.parse(text);
      } catch {
        throw new Error("This file is not a book of this page: it cannot be read.");
      }
      return { book: read, leftovers: [] };
    },
    async preview(ours, theirs) {
      return { ...Object.fromEntries(lists.map((name) => [name, difference(ours[name], theirs[name])])), round: "none", corrected_in_both: 0 };
    },
    async merge(ours, theirs, which) {
      const merged = copy(ours);
      for (const name of lists)
        for (const each of theirs[name] ?? []) {
          const at = merged[name].findIndex(({ id }) => id === each.id);
          if (at < 0) merged[name].push(each);
          else if (which === "take_theirs" && name !== "visits") merged[name][at] = each;
        }
      return { book: merged, leftovers: [] };
    },
    async visitsCsv(whole) {
      return ["visit,day,tank", ...whole.visits.map(({ id, day, tank }) => [id, day, tank].join())].join("\r\n");
    },
    // What is reckoned is the page's own.
    dueCalendar: (whole) => own.dueCalendar(whole),
    history: (...asked) => own.history(...asked),
    due: (whole) => own.due(whole),
    dueDone: (whole, id) => own.dueDone(whole, id),
    lookOver: (...asked) => own.lookOver(...asked),
    corrected: (file) => own.corrected(file),
    async visitEntries() {
      return [
        { what: "read", quantity: "nitrate", value: 12.5, unit: "mg/L" },
        { what: "read", quantity: "water_temperature", value: 24, unit: "°C" },
        { what: "reckoned", quantity: "refill", value: 69.20084, unit: "L" },
        { what: "reckoned", quantity: "grams", value: 20.8, unit: "g" },
      ].map((entry) => ({ entry }));
    },
    async build() {
      const step = (line, title, more) => ({ line, title, standing: "done", sentence: "", trouble: "", blank: [], remarks: [], ...more });
      return {
        steps: [
          step("geometry.soil", "Soil", {
            sentence: "Soil 3 cm deep at the front and 10 cm at the back is 24.6 L: 3 bags of 9 L.",
            remarks: [{ level: "caution", text: "Carry bags one at a time." }],
          }),
          step("heat.heater", "Heater", { standing: "waiting", trouble: "Needs room at its coldest.", blank: ["coldest"] }),
          step("structure.side_pane", "Side pane", { standing: "stuck", trouble: "These numbers together are past reckoning: look at them again." }),
          step("livestock.cups", "Plants for an area", { standing: "absent" }),
        ],
        wares: [{ line: "geometry.soil", what: "Soil", amount: "3", unit: "bags", details: "bag size: 9 L; soil as poured: 24.6 L" }],
      };
    },
    async buildText(tank) {
      return `${tank}\n\nSoil: 3 bags\n`;
    },
    async buildCsv() {
      return "line,item\r\n";
    },
    meetings: (ours, handed) => own.meetings(ours, handed),
    async makeLink(handover) {
      return `h1.${btoa(String.fromCharCode(...new TextEncoder().encode(JSON.stringify(handover))))
        .replaceAll("+", "-")
        .replaceAll("/", "_")}`;
    },
    async openLink(fragment) {
      try {
        const bytes = atob(fragment.slice(3).replaceAll("-", "+").replaceAll("_", "/"));
        return JSON.parse(new TextDecoder().decode(Uint8Array.from(bytes, (each) => each.charCodeAt(0))));
      } catch {
        throw new Error("This link is damaged: part of it is missing. Ask for it once more.");
      }
    },
  };

  // Not a code that anything reads; as fine as one of a link this long.
  const qr = async (text) => {
    if (text.length > 2900) throw new Error("This link is too long for a code.");
    const modules = 81;
    let path = "";
    for (let y = 0; y < modules; ++y)
      for (let x = 0; x < modules; ++x) if ((x * 7919 + y * 104729 + ((x * y) ^ (x + y * 31)) * 31) % 97 < 48) path += `M${x + 4} ${y + 4}h1v1h-1z`;
    const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${modules + 8} ${modules + 8}"><path fill="#fff" d="M0 0h${modules + 8}v${modules + 8}H0z"/><path d="${path}"/></svg>`;
    return { modules, svg, png: async () => new Blob([text], { type: "image/png" }) };
  };
  const aside = [];
  globalThis.trial = {
    book,
    calls,
    aside,
    qr,
    get all() {
      return copy(all);
    },
  };
  globalThis.wetsleeveTest.openScreens.use({ book, codec, qr });
};

// A day so many days from today, as the page reckons it.
export function day(days) {
  const now = new Date();
  return new Date(Date.UTC(now.getFullYear(), now.getMonth(), now.getDate() + days)).toISOString().slice(0, 10);
}

// A small shop.
export function shop() {
  return {
    version: 1,
    tanks: [
      { id: "t1", name: "Front window", note: "Lid sticks on the left.\nKey at the bar." },
      { id: "t2", name: "Back room" },
      {
        id: "t3",
        name: "Reception of the dental practice by the river",
        note: "Ring twice; park behind the house, never in front of it.",
        handed_over: { shop: "Shop by the canal", contact: "Telephone 000 0000\nTuesday to Saturday" },
      },
    ],
    shelf: [
      { id: "b1", name: "liquid fertiliser A", kind: "bottle", strength: "1.5 % N, 0.2 % P", amount: 500, unit: "mL" },
      { id: "b2", name: "iron and traces C", kind: "bottle", strength: "0.7 % Fe" },
      { id: "b3", name: "mineral salt D", kind: "salt", strength: "2 g in 10 L: GH +1 °d", amount: 1.2, unit: "kg" },
      { id: "b4", name: "syringe of 10 mL", kind: "tool" },
    ],
    visits: [
      {
        id: "v1",
        tank: "t1",
        day: day(-10),
        entries: [
          { what: "read", quantity: "nitrate", value: 12, unit: "mg/L" },
          { what: "reckoned", quantity: "refill", value: 143.5, unit: "L" },
          { what: "done", quantity: "trimmed the stems" },
          { what: "dosed", quantity: "liquid fertiliser A", value: 6.5, unit: "mL" },
        ],
      },
      { id: "v2", tank: "t1", day: day(-3), corrects: "v1", entries: [{ what: "dosed", quantity: "liquid fertiliser A", value: 5.5, unit: "mL" }] },
    ],
    due: [
      { id: "d1", tank: "t1", day: day(-2), what: "change half of the water, trim", every_days: 7 },
      { id: "d2", day: day(20), what: "order cartridges, the long ones" },
    ],
  };
}

export function many(count) {
  const book = shop();
  for (let i = 4; i <= count; ++i) book.tanks.push({ id: `t${i}`, name: `Tank ${i}`, note: `Shelf row ${i}` });
  return book;
}
