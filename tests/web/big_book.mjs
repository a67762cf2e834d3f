// A book of many tanks and visits, and a count of what the page reads of its storage.

// Each tank with so many visits. Runs inside the page, too: it may use nothing from outside itself.
export function bookOf({ tanks, visits }) {
  const places = ["Harbour café", "Old mill", "School", "Library", "Bakery", "Workshop", "Town hall", "Reception"];
  const two = (number) => String(number).padStart(2, "0");
  const day = (days) => new Date(Date.now() + days * 86_400_000).toISOString().slice(0, 10);
  const book = { version: 1, tanks: [], shelf: [], visits: [], due: [] };
  for (let i = 0; i < tanks; ++i) {
    const now = {
      system: "metric",
      decimal: ".",
      held: {},
      units: {},
      given: {
        "geometry.box/length": 60 + (i % 90),
        "geometry.box/width": 45,
        "geometry.box/height": 45,
        "geometry.soil/front": 3,
        "geometry.soil/back": 9,
        stone_mass: 4000,
      },
    };
    book.tanks.push({
      id: `t${i}`,
      name: `${places[i % places.length]} ${i + 1}`,
      note: `Row ${two(i % 40)}: key at the desk.`,
      slip: { wetsleeve: 1, now, past: [], future: [] },
    });
    if (i % 3 === 0) book.due.push({ id: `d${i}`, tank: `t${i}`, day: day((i % 60) - 30), what: "clean the filter", every_days: 60 });
  }
  for (let v = 0; v < visits; ++v)
    for (let i = 0; i < tanks; ++i)
      book.visits.push({
        id: `v${v}-${i}`,
        tank: `t${i}`,
        day: day(-7 * (visits - v) - (i % 7)),
        entries: [
          { what: "read", quantity: "nitrate", value: 5 + ((v * 7 + i) % 20), unit: "mg/L" },
          { what: "read", quantity: "gh", value: 5 + ((v + i) % 4) / 2, unit: "°dH" },
          { what: "done", quantity: "tap", value: 40.5, unit: "L" },
          { what: "done", quantity: "ro", value: 80, unit: "L" },
          { what: "dosed", quantity: "liquid fertiliser A", value: 6.5, unit: "mL" },
        ],
      });
  return book;
}

// From now on, in every page: how many records of each kind were read, as `reads`.
export async function readsOf(page) {
  await page.addInitScript(() => {
    globalThis.reads = {};
    const count = (store, records) => {
      for (const key of records) {
        const kind = typeof key === "string" ? key.split("/")[0] : store.name;
        reads[kind] = (reads[kind] ?? 0) + 1;
      }
    };
    for (const name of ["get", "getAll"]) {
      const work = IDBObjectStore.prototype[name];
      IDBObjectStore.prototype[name] = function (range, ...more) {
        const request = work.call(this, range, ...more);
        // The values have no keys, but the same range has as many keys as values.
        const keys = this.getAllKeys(range, ...more);
        keys.addEventListener("success", () => count(this, keys.result));
        return request;
      };
    }
    for (const name of ["openCursor"]) {
      const work = IDBObjectStore.prototype[name];
      IDBObjectStore.prototype[name] = function (...all) {
        const request = work.apply(this, all);
        request.addEventListener("success", () => request.result && count(this, [request.result.key]));
        return request;
      };
    }
  });
}

// In place of all that the page has.
export async function fill(page, wanted) {
  await page.evaluate(`(async () => wetsleeveTest.book.replace((${bookOf})(${JSON.stringify(wanted)})).then(() => {}))()`);
}
