// What is typed in the page's last moment, whatever else is under way then. A phone's browser gives no notice before
// it ends a page, and a person types and puts it away.
import { expect, field, maySilence, open, ready, saved, test, type } from "./harness.mjs";

const turns = 6; // some of these are races

// Types, and does all else that is told, in one task of the page, so that nothing of the page runs in between; then the
// page goes. `meanwhile` runs before, inside the page; `leave` is how it goes.
async function typedLast(page, site, length, meanwhile, leave) {
  await field(page, "geometry.box", "length")
    .evaluate(
      async (input, [work, typed, away]) => {
        globalThis.old = true;
        const put = (number) => {
          input.value = String(number);
          input.dispatchEvent(new Event("change"));
        };
        await eval(work)(wetsleeveTest.book, put);
        put(typed);
        if (away === "reload") location.reload();
        if (away === "another page") location.href = "about:blank";
      },
      [String(meanwhile), length, leave],
    )
    .catch((problem) => {
      if (!/navigat|destroyed|closed/.test(problem.message)) throw problem; // it may be gone before it has answered
    });
  let next = page;
  if (leave === "close") {
    next = await page.context().newPage();
    await page.close();
  }
  if (leave === "another page") await page.waitForURL("about:blank");
  if (leave !== "reload") await next.goto(site.url);
  await next.waitForFunction(() => !globalThis.old && globalThis.wetsleeveTest?.face);
  await ready(next);
  return next;
}

// As it is kept: which tank is open is another question.
const lengthOf = (page, id) =>
  page.evaluate(
    async (tank) => (await wetsleeveTest.book.whole()).tanks.find((each) => each.id === tank)?.slip?.now.given["geometry.box/length"],
    id,
  );

const visit = `{ tank: book.open, day: "2026-05-04", entries: [{ what: "done", quantity: "trim" }] }`;
const cases = {
  "nothing else is under way": "async () => {}",
  "visits are read": "async (book) => void book.visits(book.open)",
  "the whole book is read": "async (book) => void book.whole()",
  "a visit is written": `async (book) => void book.addVisit(${visit}).catch(() => {})`,
  "a visit has just been written": `async (book) => {
    void book.addVisit(${visit}).catch(() => {});
    await new Promise((soon) => setTimeout(soon, 10));
  }`,
  "another tank was opened just now, and this one again": `async (book) => {
    const { open } = book;
    const { id } = await book.addTank({ name: "Another" });
    await book.openTank(id);
    void book.openTank(open);
    while (book.open !== open) await new Promise((soon) => setTimeout(soon));
  }`,
  "one number after the other is typed": `async (book, put) => {
    for (const number of [51, 52, 53]) {
      put(number);
      await new Promise((soon) => setTimeout(soon, 7));
    }
  }`,
  "much is written": `async (book) => {
    for (let i = 0; i < 20; ++i) void book.addDue({ what: "clean filter " + i, day: "2026-05-04" }).catch(() => {});
  }`,
};
const names = Object.keys(cases);
const ways = [...names.map((name) => [name, "reload"]), ...["another page", "close"].flatMap((way) => names.slice(0, 2).map((name) => [name, way]))];
for (const [name, leave] of ways)
  test(`what is typed while ${name} is kept: ${leave}`, { tag: "@kept" }, async ({ page, site }) => {
    await open(page, site.url, "plain");
    const tank = await page.evaluate(() => wetsleeveTest.book.open);
    let here = page;
    const got = [];
    for (let i = 1; i <= turns; ++i) {
      here = await typedLast(here, site, 60 + i, cases[name], leave);
      got.push(await lengthOf(here, tank));
    }
    expect(got).toEqual(Array.from({ length: turns }, (_, i) => 61 + i));
  });

test("what is typed while the second copy says nothing is kept", { tag: "@kept" }, async ({ page, site }) => {
  await maySilence(page, false);
  await open(page, site.url, "plain");
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  for (let i = 1; i <= 3; ++i) {
    await typedLast(
      page,
      site,
      60 + i,
      `async (book) => {
      silent = true;
      void book.addVisit(${visit}).catch(() => {});
      await new Promise((soon) => setTimeout(soon, 500));
    }`,
      "reload",
    );
    expect(await lengthOf(page, tank)).toBe(60 + i);
  }
});

test("what is typed while another tab writes is kept", { tag: "@kept" }, async ({ page, context, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "60");
  await saved(page);
  const other = await context.newPage();
  await open(other, site.url, "plain");
  const tank = await page.evaluate(() => wetsleeveTest.book.open);
  await other.evaluate(async () => {
    const pauseless = async () => {
      for (let i = 0; ; i = (i + 1) % 50) await wetsleeveTest.book.addDue({ what: `clean filter ${i}`, day: "2026-05-04" }).catch(() => {});
    };
    void pauseless();
  });
  await page.bringToFront();
  for (let i = 1; i <= turns; ++i) {
    await typedLast(page, site, 60 + i, "async () => {}", "reload");
    expect(await lengthOf(page, tank)).toBe(60 + i);
  }
});
