// What must stay of a book whatever happens around it: tabs that undo one another's work, storage that fails, is
// closed, or comes late, and what earlier builds kept. @kept
import { expect, field, open, ready, saved, test, type, value } from "./harness.mjs";

const book = (page, work, ...args) => page.evaluate(([source, more]) => Promise.resolve(wetsleeveTest.book[source](...more)), [work, args]);
const refusal = (page, work, ...args) =>
  page.evaluate(
    ([source, more]) =>
      wetsleeveTest.book[source](...more).then(
        () => "",
        (why) => why.message,
      ),
    [work, args],
  );
const bars = (page) => page.locator("#bars");
const raw = (page, puts) => page.evaluate((all) => wetsleeveTest.book.store.write(() => all), puts);
const sound = (page) => page.evaluate(() => wetsleeveTest.book.sound());
const again = async (page) => {
  await page.reload();
  await ready(page);
};
// The whole book is read by the core without a word.
const strict = (page) =>
  page.evaluate(async () => {
    const { supplies } = wetsleeveTest.openScreens;
    const whole = await wetsleeveTest.book.whole();
    const { leftovers } = await supplies.codec.readBook(JSON.stringify(whole));
    return leftovers.map(({ why }) => why);
  });

test.describe("two tabs @kept", () => {
  let one, other;
  test.beforeEach(async ({ page, context, site }) => {
    one = page;
    await open(one, site.url, "plain");
    await type(one, "geometry.box", "length", "90");
    await saved(one);
    other = await context.newPage();
    await open(other, site.url, "plain");
  });

  const stock = (page) => page.evaluate(() => wetsleeveTest.book.shelf.map(({ amount }) => amount));
  const dose = (page, millilitres, name = "A") =>
    page.evaluate(
      async ([value, of]) => {
        const { book } = wetsleeveTest;
        const visit = { tank: book.open, day: "2026-05-04", entries: [{ what: "dosed", quantity: of, value, unit: "mL" }] };
        globalThis.undo = await book.addVisit(visit);
        return (await book.visits(book.open)).at(-1).id;
      },
      [millilitres, name],
    );

  test("an undone visit gives back what it took, and no more", async () => {
    await book(one, "addItem", { name: "A", kind: "bottle", amount: 500, unit: "mL" });
    await expect.poll(() => stock(other)).toEqual([500]);
    await dose(one, 10);
    await expect.poll(() => stock(other)).toEqual([490]);
    await dose(other, 100);
    await expect.poll(() => stock(one)).toEqual([390]);
    await one.evaluate(() => undo());
    expect(await stock(one)).toEqual([400]);
    await other.evaluate(() => undo());
    expect(await stock(other)).toEqual([500]);
  });

  test("what is brought comes on top of what others took while its screen was open", async () => {
    const { id } = await book(one, "addItem", { name: "A", kind: "bottle", amount: 500, unit: "mL" });
    await expect.poll(() => stock(other)).toEqual([500]);
    await one.evaluate(() => wetsleeveTest.openScreens.open("shelf"));
    await one.locator(`.screen:visible [data-key="${id}"]`).click();
    await dose(other, 100);
    await expect.poll(() => stock(one)).toEqual([400]);
    const screen = one.locator(".screen:visible");
    await expect(screen.getByLabel("In stock")).toHaveValue("500"); // as it was shown
    await screen.getByLabel("Bought since").fill("250");
    await screen.getByRole("button", { name: "Save", exact: true }).click();
    await expect.poll(() => stock(other)).toEqual([650]);
    await dose(other, 50);
    await expect.poll(() => stock(one)).toEqual([600]);
    await one.locator("#bars").getByRole("button", { name: "Undo" }).click();
    await expect.poll(() => stock(other)).toEqual([350]);
  });

  test("a visit that was corrected since is not undone, and the book stays sound", async () => {
    const id = await dose(one, 10);
    await expect.poll(() => other.evaluate(() => wetsleeveTest.book.visits(wetsleeveTest.book.open).then((all) => all.length))).toBe(1);
    await other.evaluate((corrects) => {
      const { book } = wetsleeveTest;
      return book.addVisit({ tank: book.open, day: "2026-05-04", corrects, entries: [] }).then(() => {});
    }, id);
    const said = await one.evaluate(() =>
      undo().then(
        () => "",
        (why) => why.message,
      ),
    );
    expect(said).toMatch(/corrected since then.*\.$/);
    expect(await strict(one)).toEqual([]);
    expect(await one.evaluate(() => wetsleeveTest.book.visits(wetsleeveTest.book.open).then((all) => all.length))).toBe(2);
  });

  test("a visit to a tank that the other tab removed brings the tank back", async () => {
    const made = await book(one, "addTank", { name: "Shop window" });
    await expect.poll(() => other.evaluate(() => wetsleeveTest.book.tanks.length)).toBe(2);
    await other.evaluate((id) => wetsleeveTest.book.removeTank(id).then(() => {}), made.id);
    const told = await one.evaluate(async (tank) => (await wetsleeveTest.book.addVisit({ tank, day: "2026-05-04", entries: [] })).told, made.id);
    expect(told).toContain("Shop window");
    for (const page of [one, other]) {
      await expect.poll(() => page.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name))).toEqual(["Tank 1", "Shop window"]);
      expect(await page.evaluate((id) => wetsleeveTest.book.visits(id).then((all) => all.length), made.id)).toBe(1);
    }
  });

  test("a step back is offered on while the other tab works elsewhere, and takes back that step alone", async () => {
    for (const what of ["first", "second"])
      await book(one, "addDue", { tank: await one.evaluate(() => wetsleeveTest.book.open), day: "2026-05-04", what });
    const dates = () => one.evaluate(() => wetsleeveTest.book.due.map(({ what }) => what).sort());
    await one.evaluate(() => wetsleeveTest.openScreens.open("due"));
    await one
      .locator(".screen:visible")
      .getByRole("button", { name: /^Done: second/ })
      .tap();
    await expect.poll(dates).toEqual(["first"]);
    const undo = bars(one).getByRole("button", { name: "Undo" });
    await expect(undo).toBeVisible();
    await book(other, "addTank", { name: "Meanwhile" });
    await book(other, "addItem", { name: "A", kind: "bottle" });
    await expect.poll(() => one.evaluate(() => [wetsleeveTest.book.tanks.length, wetsleeveTest.book.shelf.length])).toEqual([2, 1]);
    await undo.tap();
    await expect.poll(dates).toEqual(["first", "second"]);
    expect(await one.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name))).toEqual(["Tank 1", "Meanwhile"]);
    expect(await one.evaluate(() => wetsleeveTest.book.shelf.map(({ name }) => name))).toEqual(["A"]);
  });

  // Each with its screen open in one tab while the other changes another field of it.
  const forms = {
    "a tank": {
      make: () => one.evaluate(() => wetsleeveTest.book.open),
      way: async () => {
        await one.evaluate(() => wetsleeveTest.openScreens.open("tanks"));
        await one.locator(".screen:visible [data-key=tank]").click();
      },
      there: (id) =>
        other.evaluate((of) => {
          const { book } = wetsleeveTest;
          return book.changeTank({ ...book.tanks.find((each) => each.id === of), note: "theirs" }).then(() => {});
        }, id),
      here: ["Name", "ours"],
      want: { name: "ours", note: "theirs" },
      list: "tanks",
    },
    "a thing of the shelf": {
      make: async () => (await book(one, "addItem", { name: "A", kind: "bottle", amount: 100, unit: "mL" })).id,
      way: async (id) => {
        await one.evaluate(() => wetsleeveTest.openScreens.open("shelf"));
        await one.locator(`.screen:visible [data-key="${id}"]`).click();
      },
      there: () => dose(other, 60),
      here: ["Strength", "2 % N"],
      want: { strength: "2 % N", amount: 40 },
      list: "shelf",
    },
    "a due date": {
      make: async () => (await book(one, "addDue", { day: "2026-05-04", what: "filter", every_days: 7 })).id,
      way: async (id) => {
        await one.evaluate(() => wetsleeveTest.openScreens.open("due"));
        await one.locator(`.screen:visible [data-key*="${id}"]`).first().click();
      },
      there: (id) =>
        other.evaluate((of) => {
          const { book } = wetsleeveTest;
          return book.changeDue({ ...book.due.find((each) => each.id === of), day: "2026-05-11" }).then(() => {});
        }, id),
      here: ["What is due", "filter, both"],
      want: { what: "filter, both", day: "2026-05-11", every_days: 7 },
      list: "due",
    },
  };
  for (const [name, { make, way, there, here, want, list }] of Object.entries(forms))
    test(`a form writes what was changed in it, over nothing else: ${name}`, async () => {
      const id = await make();
      await expect.poll(() => other.evaluate(([of, where]) => wetsleeveTest.book[where].some((each) => each.id === of), [id, list])).toBe(true);
      await way(id);
      const screen = one.locator(".screen:visible");
      await expect(screen.getByLabel(here[0], { exact: true })).toBeVisible();
      await there(id);
      await expect
        .poll(() =>
          one.evaluate(
            ([of, where, key, value]) => wetsleeveTest.book[where].find((each) => each.id === of)[key] === value,
            [id, list, ...Object.entries(want)[1]],
          ),
        )
        .toBe(true);
      await screen.getByLabel(here[0], { exact: true }).fill(here[1]);
      await screen.locator("button[type=submit]").click();
      for (const page of [one, other])
        await expect
          .poll(() => page.evaluate(([of, where]) => wetsleeveTest.book[where].find((each) => each.id === of), [id, list]))
          .toMatchObject(want);
    });

  test("what this tab wrote and another wrote over is told here as well", async () => {
    const aside = (why) => [{ key: `aside/${why}`, text: JSON.stringify({ why, when: "2026-05-04T10:00:00Z", of: "slip/t", text: "{}" }) }];
    await raw(other, aside("replaced"));
    await raw(other, aside("two tabs"));
    await expect(bars(one)).toContainText("Two tabs changed the same thing at once: one of the two is set aside, see Files.");
    await expect(bars(one).locator(".bar")).toHaveCount(1);
  });

  test("the last tank removed leaves one new tank, not one for each tab", async () => {
    await one.evaluate(() => wetsleeveTest.book.removeTank(wetsleeveTest.book.open).then(() => {}));
    await expect.poll(() => other.evaluate(() => wetsleeveTest.book.tanks.length)).toBe(1);
    await type(other, "geometry.box", "length", "60");
    await saved(other);
    await expect(field(one, "geometry.box", "length")).toHaveValue("60");
    await again(one);
    expect(await one.evaluate(() => wetsleeveTest.book.tanks.length)).toBe(1);
  });

  test("what gives way between two tabs stays, however often", async () => {
    const id = await one.evaluate(() => wetsleeveTest.book.open);
    for (let i = 0; i < 30; ++i)
      await Promise.all(
        [one, other].map((page, n) =>
          page.evaluate(
            ([tank, name]) => {
              const { book } = wetsleeveTest;
              return book.changeTank({ ...book.tanks.find((each) => each.id === tank), name }).then(() => {});
            },
            [id, `${i} ${n}`],
          ),
        ),
      );
    const kept = await one.evaluate(async () => {
      const { book } = wetsleeveTest;
      return { name: book.tanks[0].name, aside: (await book.pieces()).map(({ text }) => JSON.parse(text).name) };
    });
    // Each name but those that were read and written over in turn is somewhere.
    await expect.poll(() => other.evaluate(() => wetsleeveTest.book.tanks[0].name)).toBe(kept.name);
    expect(new Set(kept.aside).size).toBe(kept.aside.length);
  });
});

test("a step back that could not be written is offered again", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await book(page, "addDue", { tank: await page.evaluate(() => wetsleeveTest.book.open), day: "2026-05-04", what: "clean" });
  await page.evaluate(() => wetsleeveTest.openScreens.open("due"));
  await page
    .locator(".screen:visible")
    .getByRole("button", { name: /^Done: clean/ })
    .tap();
  const undo = bars(page).getByRole("button", { name: "Undo" });
  await expect(undo).toBeVisible();
  await page.evaluate(() => {
    const { store } = wetsleeveTest.book;
    store.put = async () => {
      delete store.put;
      throw new Error("There is no room left.");
    };
  });
  await undo.tap();
  await expect(bars(page).locator(".bar:visible")).toContainText("There is no room left.");
  await bars(page).locator(".bar:visible").getByRole("button", { name: "Close" }).tap();
  await undo.tap();
  await expect.poll(() => page.evaluate(() => wetsleeveTest.book.due.map(({ what }) => what))).toEqual(["clean"]);
  await expect(bars(page)).toContainText("Undone.");
});

test("an import is undone as far as nothing was built on it @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const result = await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    const before = await book.whole();
    const file = { ...before, tanks: [...before.tanks, { id: "t9", name: "From a file" }], shelf: [{ id: "i9", name: "A", kind: "salt" }] };
    const undo = await book.replace(file);
    const item = await book.addItem({ name: "mine", kind: "tool" });
    const due = await book.addDue({ day: "2026-06-01", what: "mine" });
    await undo();
    const after = await book.whole();
    const undoMore = await book.replace({ ...after, tanks: [...after.tanks, { id: "t8", name: "Another" }] });
    await book.addVisit({ tank: "t8", day: "2026-05-04", entries: [] });
    const said = await undoMore().then(
      () => "",
      (why) => why.message,
    );
    return {
      tanks: after.tanks.map(({ name }) => name),
      shelf: after.shelf.map(({ id }) => id),
      due: after.due.map(({ id }) => id),
      item: item.id,
      date: due.id,
      said,
      end: book.tanks.map(({ name }) => name),
    };
  });
  expect(result.tanks).toEqual(["Tank 1"]);
  expect([result.shelf, result.due]).toEqual([[result.item], [result.date]]);
  expect(result.said).toContain("Another");
  expect(result.end).toEqual(["Tank 1", "Another"]);
});

const visit = (tank, more = {}) => ({ id: "v1", tank, day: "2026-05-04", entries: [], ...more });
const poisons = {
  "a tab in a name": () => [["tank/t2", { id: "t2", name: "Smith\tMain street 5" }]],
  "half a surrogate pair": () => [["item/i1", { id: "i1", name: "A \ud83d", kind: "bottle" }]],
  "a thing without a name": () => [["item/i1", { id: "i1", kind: "bottle" }]],
  "a tank without a name": () => [["tank/t2", { id: "t2" }]],
  "an open tank without a name": (tank) => [[`tank/${tank}`, { id: tank }]],
  "an open tank whose name is a number": (tank) => [[`tank/${tank}`, { id: tank, name: 5 }]],
  "a longest day of 20,000 h": () => [
    ["round/day", { van: { vessels: [] }, store: {}, lift: {}, usual: { day_min: 1_200_000 }, today: { stops: [] } }],
  ],
  "a date after 2999": () => [["due/d1", { id: "d1", day: "3000-01-30", what: "filter" }]],
  "41 nutrients": () => [
    ["item/i1", { id: "i1", name: "A", kind: "bottle", adds: Array.from({ length: 41 }, (_, i) => ({ quantity: `q${i}`, mg: 1 })) }],
  ],
  "a day that the calendar lacks": (tank) => [[`visit/${tank}/000000000099-0`, visit(tank, { day: "2026-02-30" })]],
};
for (const [what, records] of Object.entries(poisons))
  test(`a book that holds ${what} opens: it is set aside, and all else works @kept`, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    const tank = await page.evaluate(() => wetsleeveTest.book.open);
    await book(page, "addItem", { name: "sound", kind: "tool" });
    const poison = records(tank).map(([key, thing]) => ({ key, text: JSON.stringify(thing) }));
    // As an earlier build kept it, which counted nothing.
    await raw(page, [...poison, { key: "setting/room", text: undefined }]);
    await again(page);
    await sound(page);
    const pieces = await book(page, "pieces");
    expect(pieces.map(({ text }) => text)).toEqual(poison.map(({ text }) => text));
    expect(pieces[0].said).toMatch(/\.$/);
    await expect(bars(page)).toContainText("set aside");
    expect(await strict(page)).toEqual([]);
    expect(await page.evaluate(() => wetsleeveTest.book.shelf.some(({ name }) => name === "sound"))).toBe(true);
    // The numbers of a tank that is set aside stay where they are.
    if (!(`tank/${tank}` in Object.fromEntries(records(tank)))) expect(await value(page, "geometry.box", "length")).toBe(90);
    await again(page);
    await sound(page);
    expect((await book(page, "pieces")).length).toBe(1);
    // As it is it cannot come back; thrown away it stays away, but for a step back.
    expect(await refusal(page, "takeBack", pieces[0], pieces[0].text)).toBe(pieces[0].said);
    expect(
      await page.evaluate(async (piece) => {
        const { book } = wetsleeveTest;
        const undo = await book.throwAway(piece);
        const gone = (await book.pieces()).length;
        await undo();
        return [gone, (await book.pieces()).length];
      }, pieces[0]),
    ).toEqual([0, 1]);
  });

for (const [what, ids] of [
  ["no list", {}],
  ["twice the same", ["t1", "t1"]],
  ["numbers", [1, 2]],
])
  test(`an order of tanks that is ${what} hides none @kept`, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    await book(page, "addTank", { name: "Second" });
    const tanks = () => page.evaluate(() => wetsleeveTest.book.tanks.map(({ name }) => name).sort());
    const [first] = await page.evaluate(() => wetsleeveTest.book.tanks.map(({ id }) => id));
    await raw(page, [{ key: "setting/order", text: JSON.stringify(ids).replaceAll("t1", first) }]);
    await again(page);
    expect(await tanks()).toEqual(["Second", "Tank 1"]);
    await expect(bars(page).locator(".bar")).toHaveCount(0);
  });

test("what was set aside comes back once it is mended, and what stood in its place is set aside @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  await raw(page, [{ key: `tank/${tank}`, text: JSON.stringify({ id: tank, name: "Smith\tMain street 5", note: "Key under the third pot." }) }]);
  await again(page);
  await sound(page);
  expect(await value(page, "geometry.box", "length")).toBe(90);
  const [piece] = await book(page, "pieces");
  await page.evaluate(([each, text]) => wetsleeveTest.book.takeBack(each, text).then(() => {}), [piece, piece.text.replace("\\t", ", ")]);
  await expect(page.locator("#title")).toHaveText("Smith, Main street 5");
  const left = await book(page, "pieces");
  expect(left.map(({ why }) => why)).toEqual(["replaced"]);
  expect(await strict(page)).toEqual([]);
});

test("a slip of a newer version waits for its update, and is set aside only when something is written over it @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  const newer = JSON.stringify({ wetsleeve: 99, now: { given: { "geometry.box/length": 70 } } });
  await raw(page, [{ key: `slip/${tank}`, text: newer }]);
  for (let i = 0; i < 2; ++i) {
    await again(page);
    await expect(bars(page)).toContainText("newer version");
    expect(await page.evaluate((key) => wetsleeveTest.book.store.readOne(key, () => {}), `slip/${tank}`)).toBe(newer);
    expect(await book(page, "pieces")).toEqual([]);
    expect((await book(page, "whole")).tanks[0].slip).toEqual(JSON.parse(newer));
  }
  await type(page, "geometry.box", "length", "60");
  await saved(page);
  expect((await book(page, "pieces")).map(({ text }) => text)).toEqual([newer]);
  await again(page);
  expect(await value(page, "geometry.box", "length")).toBe(60);
});

test("a storage that the browser closed is opened anew, and a file can be saved all along @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const closed = (on) =>
    page.evaluate((now) => {
      const { prototype } = IDBDatabase;
      globalThis.transaction ??= prototype.transaction;
      globalThis.opened ??= IDBFactory.prototype.open;
      prototype.transaction = now
        ? function () {
            throw new DOMException("The database connection is closing.", "InvalidStateError");
          }
        : globalThis.transaction;
      IDBFactory.prototype.open = now
        ? function () {
            throw new DOMException("Internal error.", "UnknownError");
          }
        : globalThis.opened;
    }, on);
  await closed(true);
  await type(page, "geometry.box", "length", "50");
  await expect(bars(page)).toContainText("is not kept yet");
  await expect(bars(page)).not.toContainText("transaction");
  const { file, lacks } = await book(page, "rescue");
  expect(lacks).toContain("not the visits");
  expect(file.tanks[0].slip.now.given["geometry.box/length"]).toBe(50);
  for (let i = 0; i < 5; ++i) expect(await refusal(page, "addItem", { name: "salt", kind: "salt" })).toMatch(/so this is not kept.*\.$/);
  await closed(false);
  // A handle that is closed for good, as after a full disk.
  await page.evaluate(() => wetsleeveTest.book.store.db.close());
  await expect(bars(page)).not.toContainText("is not kept yet", { timeout: 15_000 });
  await saved(page);
  // What was refused meanwhile is neither counted as kept, nor what is kept taken for another tab's.
  expect(await page.evaluate(() => wetsleeveTest.book.store.changes)).toBe(2);
  await again(page);
  expect(await value(page, "geometry.box", "length")).toBe(50);
  expect(await book(page, "pieces")).toEqual([]);
});

// As Chromium does when its log is torn, for want of room say.
test("what the browser throws away while the page is open comes back from the second copy @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const tank = await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [{ what: "read", quantity: "seen before" }] });
    await book.addTank({ name: "Other" }, { wetsleeve: 1, now: { given: { "geometry.box/length": 33 } } });
    await book.store.copied();
    const { db } = book.store;
    const tx = db.transaction(["entries", "records"], "readwrite");
    await Promise.all([tx.objectStore("entries").clear(), tx.objectStore("records").clear(), tx.done]);
    db.close();
    return book.open;
  });
  const all = () =>
    page.evaluate(async (id) => {
      const { tanks, visits } = await wetsleeveTest.book.whole();
      return {
        visits: visits.flatMap(({ entries }) => entries.map(({ quantity }) => quantity)),
        lengths: tanks.map(({ slip }) => slip?.now.given["geometry.box/length"]),
        tank: tanks[0].id === id,
      };
    }, tank);
  await type(page, "geometry.box", "length", "91");
  await saved(page);
  await book(page, "addVisit", { tank, day: "2026-05-05", entries: [{ what: "read", quantity: "seen after" }] });
  const wanted = { visits: ["seen before", "seen after"], lengths: [91, 33], tank: true };
  expect(await all()).toEqual(wanted);
  await again(page);
  expect(await all()).toEqual(wanted);
  expect(await book(page, "pieces")).toEqual([]);
});

const losses = {
  "thrown away, and no second copy": (page) =>
    page.evaluate(async () => {
      const { store } = wetsleeveTest.book;
      store.second = undefined;
      const tx = store.db.transaction(["entries", "records"], "readwrite");
      await Promise.all([tx.objectStore("entries").clear(), tx.objectStore("records").clear(), tx.done]);
      store.db.close();
    }),
  // All databases of the page go, and their connections are closed under it.
  "cleared with all other data of the site": async (page) => {
    const cdp = await page.context().newCDPSession(page);
    await cdp.send("Storage.clearDataForOrigin", { origin: new URL(page.url()).origin, storageTypes: "indexeddb" });
  },
};
for (const [what, lose] of Object.entries(losses))
  test(`what was ${what} is told as gone, and a file says what it lacks @kept`, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    await page.evaluate(async () => {
      const { book } = wetsleeveTest;
      await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [{ what: "read", words: "seen" }] });
      await book.addTank({ name: "Other" }, { wetsleeve: 1, now: { given: { "geometry.box/length": 33 } } });
      await book.store.copied();
    });
    await lose(page);
    await type(page, "geometry.box", "length", "91");
    await expect(bars(page)).toContainText("This browser has deleted what was kept here.");
    await saved(page);
    const { file, lacks } = await book(page, "rescue");
    expect(lacks).toContain("Visits and other tanks’ numbers are gone from here");
    expect(file.tanks.map(({ name, slip }) => [name, slip?.now.given["geometry.box/length"]])).toEqual([
      ["Tank 1", 91],
      ["Other", undefined],
    ]);
    // Once a file is taken in it is whole again.
    await page.evaluate((all) => wetsleeveTest.book.replace(all).then(() => {}), file);
    expect((await book(page, "rescue")).lacks).toBe("");
    await again(page);
    expect(await value(page, "geometry.box", "length")).toBe(91);
  });

test("how much is kept is known after a reload as it was before @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  const acts = [
    () => wetsleeveTest.book.addVisit({ tank: wetsleeveTest.book.open, day: "2026-05-04", entries: [] }).then(() => {}),
    () => wetsleeveTest.book.addTank({ name: "Other" }).then(() => {}),
    async () => {
      const { book } = wetsleeveTest;
      const visit = (id) => ({ id, tank: book.open, day: "2026-05-05", entries: [] });
      await book.bringIn(async (ours) => ({ book: { ...ours, visits: [...ours.visits, visit("a"), visit("b")] }, leftovers: [] }));
    },
  ];
  let visits = 0;
  for (const act of acts) {
    await page.evaluate(act);
    const before = await page.evaluate(() => wetsleeveTest.book.room);
    await again(page);
    const after = await page.evaluate(() => wetsleeveTest.book.room);
    visits = (await book(page, "whole")).visits.length;
    expect(after.visits).toBe(visits);
    expect(after.visits).toBe(before.visits);
    expect(Math.abs(after.bytes - before.bytes)).toBeLessThan(100); // the record that tells it
  }
  expect(visits).toBe(3);
});

test("a tank that was removed is set aside with all that went, and comes back with it @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const all = () =>
    page.evaluate(async () => {
      const { tanks, visits, due } = await wetsleeveTest.book.whole();
      return { tanks, visits, due };
    });
  await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    const tank = book.open;
    await book.changeTank({ ...book.tanks[0], name: "Shop window", note: "Key at the desk." });
    for (const day of ["2026-05-04", "2026-05-11"]) await book.addVisit({ tank, day, entries: [{ what: "read", quantity: "ph", value: 7 }] });
    await book.addDue({ tank, day: "2026-06-01", what: "clean the filter" });
  });
  const before = await all();
  await page.evaluate(() => wetsleeveTest.book.removeTank(wetsleeveTest.book.open).then(() => {}));
  await again(page);
  expect((await all()).visits).toEqual([]);
  await page.evaluate(async () => {
    const [piece, ...more] = await wetsleeveTest.book.pieces();
    if (more.length > 0) throw new Error("more than one piece");
    await wetsleeveTest.book.takeBack(piece, piece.text);
  });
  await again(page);
  const { tanks, visits, due } = await all();
  expect([tanks.find(({ name }) => name === "Shop window"), visits, due]).toEqual([before.tanks[0], before.visits, before.due]);
  expect(await book(page, "pieces")).toEqual([]);
  expect(await strict(page)).toEqual([]);
});

test("a visit in a file whose tank is nowhere is told before anything is done, and set aside @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await saved(page);
  const file = {
    version: 2,
    tanks: [{ id: "f1", name: "From the file" }],
    visits: ["f1", "nowhere"].map((tank, i) => ({ id: `v${i}`, tank, day: "2026-05-04", entries: [] })),
  };
  await page.evaluate(() => wetsleeveTest.openScreens.open("files"));
  await page
    .locator(".screen:visible input[type=file]")
    .setInputFiles({ name: "book.json", mimeType: "application/json", buffer: Buffer.from(JSON.stringify(file)) });
  const screen = page.locator(".screen:visible");
  await expect(screen).toContainText("1 piece of it cannot be used and is set aside:");
  await expect(screen).toContainText("The tank of this visit is not here.");
  await screen.locator("button[type=submit]").click();
  await expect(bars(page)).toContainText("The file is taken in.");
  expect((await page.evaluate(() => wetsleeveTest.book.whole())).visits.map(({ id }) => id)).toEqual(["v0"]);
  expect((await book(page, "pieces")).map(({ part }) => part)).toEqual(["visit"]);
});

// Earlier builds kept units and decimal mark with each slip.
test("how the reader writes numbers is taken over from an old slip, and stays @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const now = { system: "us", decimal: ",", held: {}, units: {}, given: { "geometry.box/length": 81 } };
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  await raw(page, [
    { key: `tank/${tank}`, text: JSON.stringify({ id: tank, name: "Front window" }) },
    { key: "setting/order", text: JSON.stringify([tank]) },
    { key: `slip/${tank}`, text: JSON.stringify({ wetsleeve: 2, now, past: [], future: [] }) },
  ]);
  const style = () =>
    page.evaluate(() => {
      const { system, decimal } = wetsleeveTest.openScreens.slip.state();
      return [system, decimal];
    });
  for (const length of ["32", "33"]) {
    await again(page);
    expect(await style()).toEqual(["us", ","]);
    await type(page, "geometry.box", "length", length);
    await saved(page);
  }
  await again(page);
  expect(await style()).toEqual(["us", ","]);
});

// The second copy may have been silent just then.
test("what was thrown away while the second copy was silent comes back at the next start @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const tank = await page.evaluate(async () => {
    const { book } = wetsleeveTest;
    for (let i = 0; i < 6; ++i) await book.addVisit({ tank: book.open, day: "2026-05-04", entries: [{ what: "read", quantity: `seen ${i}` }] });
    await book.store.copied();
    const { db, second } = book.store;
    second.recover = () => new Promise(() => {});
    const tx = db.transaction(["entries", "records"], "readwrite");
    await Promise.all([tx.objectStore("entries").clear(), tx.objectStore("records").clear(), tx.done]);
    db.close();
    return book.open;
  });
  // As many changes as before and more: their numbers pass those of the second copy.
  for (let i = 6; i < 16; ++i) await book(page, "addVisit", { tank, day: "2026-05-05", entries: [{ what: "read", quantity: `seen ${i}` }] });
  await page.evaluate(() => wetsleeveTest.book.store.copied());
  await again(page);
  const seen = await page.evaluate(async (id) => (await wetsleeveTest.book.visits(id)).map(({ entries }) => entries[0].quantity), tank);
  expect([...seen].sort()).toEqual(Array.from({ length: 16 }, (_, i) => `seen ${i}`).sort());
});

test("without any storage all works until the page is closed, and a file can be saved @kept", async ({ page, site }) => {
  await page.addInitScript(() => {
    IDBFactory.prototype.open = () => {
      throw new DOMException("no", "SecurityError");
    };
  });
  await open(page, site.url, "plain");
  await expect(bars(page)).toContainText("keeps nothing");
  await type(page, "geometry.box", "length", "90");
  await book(page, "addItem", { name: "salt", kind: "salt" });
  const { file, lacks } = await book(page, "rescue");
  expect([lacks, file.shelf.length, file.tanks[0].slip.now.given["geometry.box/length"]]).toEqual(["", 1, 90]);
});

// The browser asks for an icon where the page has left room for none.
test.describe("copies @kept", () => {
  test.use({ expectedErrors: /404|favicon/ });

  // The first copy is lost, and the second takes so long to open.
  async function withOnlySlow(page, site, slow) {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "87");
    await saved(page);
    const tank = await page.evaluate(() => wetsleeveTest.book.open);
    await page.evaluate((id) => wetsleeveTest.book.addVisit({ tank: id, day: "2026-05-01", entries: [] }).then(() => {}), tank);
    await saved(page);
    const name = await page.evaluate(() => wetsleeveTest.book.store.name);
    await page.goto(`${site.url}licences.txt`);
    await page.evaluate((db) => new Promise((done) => (indexedDB.deleteDatabase(db).onsuccess = done)), name);
    await page.addInitScript((late) => {
      const { prototype } = StorageBucketManager;
      const { open: opening } = prototype;
      const wait = sessionStorage.getItem("fast") ? 0 : late;
      prototype.open = function (...args) {
        return new Promise((done) => setTimeout(done, wait)).then(() => opening.apply(this, args));
      };
    }, slow);
    await open(page, site.url, "plain");
  }

  test("where there is nothing the second copy is waited for @kept", async ({ page, site }) => {
    await withOnlySlow(page, site, 4500); // more than where there is something
    expect(await value(page, "geometry.box", "length")).toBe(87);
    await expect(bars(page)).toContainText("It is back");
  });

  test("a second copy that comes late joins what was begun meanwhile: neither is lost @kept", async ({ page, site }) => {
    test.setTimeout(120_000);
    await withOnlySlow(page, site, 15_000);
    expect(await value(page, "geometry.box", "length")).toBe(null);
    await type(page, "geometry.box", "length", "123");
    await page.evaluate(() => {
      const { book } = wetsleeveTest;
      return book.addVisit({ tank: book.open, day: "2026-05-02", entries: [] }).then(() => {});
    });
    const all = () =>
      page.evaluate(async () => {
        const { tanks, visits } = await wetsleeveTest.book.whole();
        return [tanks.map(({ slip }) => slip.now.given["geometry.box/length"]).sort(), visits.map(({ day }) => day).sort()];
      });
    const both = [
      [123, 87],
      ["2026-05-01", "2026-05-02"],
    ];
    await expect.poll(all, { timeout: 30_000 }).toEqual(both);
    await page.evaluate(() => sessionStorage.setItem("fast", "1"));
    for (let i = 0; i < 2; ++i) {
      await again(page);
      expect(await all()).toEqual(both);
    }
  });

  test("a second copy that stays away is joined at the next start, and takes nothing away @kept", async ({ page, site }) => {
    test.setTimeout(120_000);
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "87");
    await saved(page);
    const name = await page.evaluate(() => wetsleeveTest.book.store.name);
    await page.goto(`${site.url}licences.txt`);
    await page.evaluate((db) => new Promise((done) => (indexedDB.deleteDatabase(db).onsuccess = done)), name);
    await page.addInitScript(() => {
      if (!sessionStorage.getItem("speaks")) StorageBucketManager.prototype.open = () => new Promise(() => {});
    });
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "123");
    await saved(page);
    await page.evaluate(() => sessionStorage.setItem("speaks", "1"));
    await again(page);
    const lengths = await page.evaluate(async () =>
      (await wetsleeveTest.book.whole()).tanks.map(({ slip }) => slip.now.given["geometry.box/length"]).sort(),
    );
    expect(lengths).toEqual([123, 87]);
  });

  test("what was kept before copies had names of their own is taken over, and stays where it was @kept", async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "87");
    await saved(page);
    const name = await page.evaluate(() => wetsleeveTest.book.store.name);
    await page.goto(`${site.url}licences.txt`);
    // As earlier builds had it: one database for the whole host.
    await page.evaluate(async (from) => {
      const openDb = (db, made) =>
        new Promise((done, fail) => {
          const asked = indexedDB.open(db, 2);
          asked.onupgradeneeded = () =>
            made &&
            ["records", "entries"].forEach((each) => asked.result.createObjectStore(each)) |
              asked.result.createObjectStore("aside", { autoIncrement: true });
          asked.onsuccess = () => done(asked.result);
          asked.onerror = fail;
        });
      const [source, to] = [await openDb(from, false), await openDb("wetsleeve", true)];
      for (const store of ["records", "entries"]) {
        const [keys, values] = await Promise.all(
          ["getAllKeys", "getAll"].map(
            (ask) =>
              new Promise((done) => {
                const asked = source.transaction(store).objectStore(store)[ask]();
                asked.onsuccess = () => done(asked.result);
              }),
          ),
        );
        const tx = to.transaction(store, "readwrite");
        keys.forEach((key, i) => tx.objectStore(store).put(values[i], key));
        await new Promise((done) => (tx.oncomplete = done));
      }
      source.close();
      to.close();
      await new Promise((done) => (indexedDB.deleteDatabase(from).onsuccess = done));
      for (const bucket of await navigator.storageBuckets.keys()) await navigator.storageBuckets.delete(bucket);
    }, name);
    await open(page, site.url, "plain");
    expect(await value(page, "geometry.box", "length")).toBe(87);
    expect((await page.evaluate(() => indexedDB.databases())).map((each) => each.name).sort()).toContain("wetsleeve");
    await type(page, "geometry.box", "length", "60");
    await saved(page);
    await again(page);
    expect(await value(page, "geometry.box", "length")).toBe(60);
  });
});

test("a new tank keeps the reader's units after a reload @kept", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.evaluate(() => {
    const { book } = wetsleeveTest;
    book.slip.setStyle("us", ",");
  });
  await saved(page);
  const made = await book(page, "addTank", { name: "Fresh" });
  await book(page, "openTank", made.id);
  const style = () => page.evaluate(() => [wetsleeveTest.state().system, wetsleeveTest.state().decimal]);
  expect(await style()).toEqual(["us", ","]);
  await again(page);
  expect(await page.evaluate(() => wetsleeveTest.book.open)).toBe(made.id);
  expect(await style()).toEqual(["us", ","]);
});
