// The plain face: the main job by keyboard alone, bad input, undo, sizes.
import { expect, expectAnswers, face, field, job, open, ready, saved, slot, tabTo, test, type, value } from "./harness.mjs";

test("the main job by keyboard alone", async ({ page, site }) => {
  test.slow(); // some hundred steps with Tab
  await open(page, site.url);
  if ((await face(page)) !== "plain") {
    await page.evaluate(() => document.activeElement.blur());
    await tabTo(page, "Plain face: text and fields");
    await page.keyboard.press("Enter");
  }
  expect(await face(page)).toBe("plain");
  const labels = {};
  for (const [line, id] of job) {
    const { name, unit } = await slot(page, line, id);
    labels[`${line} ${id}`] = unit ? `${name}, ${unit}` : name;
  }
  // Names may repeat between lines, so the section is part of where the focus must be.
  for (const [line, id, text] of job) {
    for (let tries = 0; ; ++tries) {
      expect(tries).toBeLessThan(12);
      await tabTo(page, labels[`${line} ${id}`]);
      if (await field(page, line, id).evaluate((input) => input === document.activeElement)) break;
    }
    await page.keyboard.type(text);
    await page.keyboard.press("Enter");
    await expect(field(page, line, id)).toBeFocused();
  }
  await expectAnswers(page);
  await expect(page.locator("#live")).toHaveText(/^Dose by label: dose 13\.8/);

  // An answer typed over: the share gives way, and what hangs on the litres follows.
  await page.keyboard.down("Shift");
  for (let i = 0; i < 250; ++i) {
    await page.keyboard.press("Tab");
    if (await field(page, "water.change", "refill").evaluate((input) => input === document.activeElement)) break;
  }
  await page.keyboard.up("Shift");
  await page.keyboard.type("60");
  await page.keyboard.press("Enter");
  await expectAnswers(page, [
    ["water.change", "refill", 60],
    ["water.change", "share", (100 * 60) / 138.40155556],
    ["water.remineralise", "grams", 18],
  ]);
  expect((await slot(page, "water.change", "share")).role).toBe("gave_way");
  await expect(page.locator("#live")).toHaveText(/share to drain 43\.4/);

  // Let go: the answer follows again from the share where it came to lie.
  await tabTo(page, "let go of water to drain and refill");
  await page.keyboard.press("Enter");
  expect((await slot(page, "water.change", "refill")).role).toBe("answer");
  await expect(field(page, "water.change", "refill")).toBeFocused();
});

test("bad input stays, with a sentence", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const length = field(page, "geometry.box", "length");
  await type(page, "geometry.box", "length", "ninety");
  await expect(length).toHaveValue("ninety");
  await expect(length).toHaveAttribute("aria-invalid", "true");
  const problem = page.locator("#geometry-box-length-problem");
  await expect(problem).toBeVisible();
  await expect(problem).toContainText("ninety");
  await expect(problem).not.toContainText("Until then"); // there was nothing
  expect(await length.getAttribute("aria-describedby")).toContain("geometry-box-length-problem");

  // It stays while other slots change, too.
  await type(page, "geometry.box", "width", "45");
  await expect(length).toHaveValue("ninety");
  expect(await value(page, "geometry.box", "length")).toBeNull();

  await type(page, "geometry.box", "length", "4000 m");
  await expect(problem).toContainText("out of range");
  await length.press("Escape");
  await expect(length).toHaveValue("");
  await expect(problem).toBeHidden();
  await type(page, "geometry.box", "length", "3 ft");
  expect(await value(page, "geometry.box", "length")).toBeCloseTo(91.44, 6);
  await expect(length).toHaveValue("3");
  // The answers are those of what was there before, and it says so.
  await type(page, "geometry.box", "length", "lots");
  await expect(problem).toContainText(/lots.*Until then it is worked out with 3.ft\./);
  await length.press("Escape");
  await expect(length).not.toHaveAttribute("aria-invalid", "true");
});

test("text that is being typed outlives a change from elsewhere", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const height = field(page, "geometry.box", "height");
  await height.focus();
  await page.keyboard.type("4");
  // A change that comes by another way than this field.
  await page.locator("#geometry-box-length-field").evaluate((input) => {
    input.value = "90";
    input.dispatchEvent(new Event("change"));
  });
  await page.keyboard.type("5");
  await expect(height).toHaveValue("45");
  await expect(height).toBeFocused();
  await page.keyboard.press("Enter");
  expect(await value(page, "geometry.box", "height")).toBe(45);
});

test("elements keep their identity, also when a choice changes the sentence", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.evaluate(() => document.querySelectorAll("#lines section").forEach((section, i) => (section.marked = i)));
  const by = field(page, "water.remineralise", "by");
  await by.focus();
  await by.selectOption("by our own weighing");
  await expect(by).toBeFocused();
  await expect(field(page, "water.remineralise", "us_target")).toBeVisible();
  await expect(field(page, "water.remineralise", "gh_target")).toHaveCount(0);
  await page.locator("#undo").click();
  await expect(field(page, "water.remineralise", "gh_target")).toBeVisible();
  expect(await page.evaluate(() => [...document.querySelectorAll("#lines section")].every((section, i) => section.marked === i))).toBe(true);
});

test("undo and redo outlive a reload", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await type(page, "geometry.box", "length", "120");
  await page.locator("#undo").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  await saved(page);
  await page.reload();
  await ready(page);
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  await page.locator("#redo").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("120");
  await page.locator("#undo").click();
  await page.locator("#undo").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("");
});

for (const [leave, gone] of [
  ["a reload", (page) => page.reload()],
  ["a turn away", (page, site) => page.goto(`${site.url}licences.txt`).then(() => page.goto(site.url))],
])
  test(`a number that is still being typed outlives ${leave}; one that cannot be, and a field only looked at, change nothing`, {
    tag: "@kept",
  }, async ({ page, site }) => {
    await open(page, site.url, "plain");
    await type(page, "geometry.box", "length", "90");
    await saved(page);
    for (const [slot, typed, kept] of [
      ["width", "45", "45"],
      ["length", "abc", "90"],
      ["width", "", "45"],
    ]) {
      const input = field(page, "geometry.box", slot);
      const steps = await page.evaluate(() => JSON.parse(wetsleeveTest.slipText()).past.length);
      await input.focus();
      if (typed) await page.keyboard.type(typed);
      await gone(page, site);
      await ready(page);
      await expect(field(page, "geometry.box", slot)).toHaveValue(kept);
      expect(await page.evaluate(() => JSON.parse(wetsleeveTest.slipText()).past.length)).toBe(steps + (typed === "45" ? 1 : 0));
    }
  });

test("begin again asks first, and can be undone", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90");
  await page.locator(".more > summary").click();
  await page.locator("#begin-again").click();
  await page.locator("#begin-again-no").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  await page.locator("#begin-again").click();
  await page.locator("#begin-again-yes").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("");
  await page.locator("#undo").click();
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
});

test("units, of one slot and of all, and the decimal mark", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.box", "length", "90.5");
  await page.getByLabel("unit of length", { exact: true }).selectOption("in");
  await expect(field(page, "geometry.box", "length")).toHaveAttribute("aria-label", "length, in");
  expect(await value(page, "geometry.box", "length")).toBeCloseTo(90.5, 9);
  await page.locator(".more > summary").click();
  await page.locator("#system").selectOption("imperial");
  expect((await slot(page, "water.net", "net_water")).unit).toBe("imp gal");
  await page.locator("#system").selectOption("metric");
  await page.locator("#decimal").selectOption(",");
  await expect(field(page, "geometry.box", "length")).toHaveValue("90,5");
});

test.describe("in other places", () => {
  for (const [locale, system, decimal] of [
    ["en-US", "us", "."],
    ["de-DE", "metric", ","],
    ["en-GB", "metric", "."],
  ]) {
    test.describe(locale, () => {
      test.use({ locale });
      test("numbers begin as people there write them", async ({ page, site }) => {
        await open(page, site.url, "plain");
        const state = await page.evaluate(() => wetsleeveTest.state());
        expect([state.system, state.decimal]).toEqual([system, decimal]);
      });
    });
  }
});

test("every control is at least 44 pixels high and wide", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await page.locator(".more > summary").click();
  await page.locator("#catalogue > summary").click();
  await type(page, "geometry.box", "length", "90");
  // A box to tick is as large as its label.
  const small = await page.evaluate(() =>
    [...document.querySelectorAll("main button, main input, main select, main summary")]
      .map((control) => (control.type === "checkbox" ? control.closest("label") : control))
      .map((control) => [control.id || control.getAttribute("aria-label") || control.textContent, control.getBoundingClientRect()])
      .filter(([, box]) => box.width > 0 && (box.width < 43.9 || box.height < 43.9))
      .map(([name, box]) => `${name}: ${box.width} × ${box.height}`),
  );
  expect(small).toEqual([]);
});

test("one clean page on paper", async ({ page, site }) => {
  await open(page, site.url, "plain");
  for (const [line, id, text] of job) await type(page, line, id, text);
  await type(page, "light.photoperiod", "ppfd", "60");
  const paper = (await page.pdf({ format: "A4" })).toString("latin1");
  expect(paper.match(/\/Type\s*\/Page\b/g)).toHaveLength(1);
});

test("lines are ticked on and off by keyboard, and a named value is typed", async ({ page, site }) => {
  await open(page, site.url, "plain");
  await type(page, "geometry.stone", "stone_mass", "29");
  await type(page, "geometry.stone", "density", "basalt");
  await expect(field(page, "geometry.stone", "density")).toHaveValue("2.9");

  const tick = page.locator('#families input[value="geometry.stone"]');
  await page.locator("#catalogue > summary").press("Enter");
  await expect(tick).toBeChecked();
  await tick.press("Space");
  await expect(page.locator("#geometry-stone")).toHaveCount(0);
  await expect(page.locator("#live")).toHaveText("Stone is taken off.");
  await expect(tick).toBeFocused();
  await expect(field(page, "water.net", "stone_displaced")).toHaveValue("10");
  await tick.press("Space");
  await expect(page.locator("#geometry-stone")).toHaveCount(1);
  await expect(field(page, "geometry.stone", "stone_mass")).toHaveValue("0");
});

test("pictures have a name, and say in words what they show", async ({ page, site }) => {
  await open(page, site.url, "plain");
  const pictures = (line) =>
    page.locator(`#${line} .picture`).evaluateAll((all) =>
      all.map((figure) => ({
        role: figure.querySelector("svg").getAttribute("role"),
        name: figure.querySelector("svg").getAttribute("aria-label"),
        caption: figure.querySelector("figcaption").textContent,
        summary: figure.querySelector("p").textContent,
        shapes: figure.querySelectorAll("path").length,
        wide: figure.querySelector("svg").getBoundingClientRect().width,
      })),
    );
  const only = async (line) => {
    const [picture, ...more] = await pictures(line);
    expect(more).toEqual([]);
    expect(picture.role).toBe("img");
    expect(picture.name).toBe(picture.caption);
    expect(picture.name).toMatch(/\w{3}/);
    expect(picture.shapes).toBeGreaterThan(3);
    expect(picture.wide).toBeGreaterThan(200);
    return picture.summary.replaceAll("\u00a0", " ");
  };
  // Nothing to draw yet but the hours that are usual.
  expect(await pictures("geometry-box")).toEqual([]);
  expect(await pictures("light-photoperiod")).toEqual([]);
  expect(await only("circulation-skimmer")).toBe("Light 12:00 to 20:00; skimmer 22:00 to 08:00, 10 runs.");

  for (const [line, id, text] of job) await type(page, line, id, text);
  await type(page, "light.photoperiod", "ppfd", "60");
  expect(await only("geometry-box")).toBe(
    "45 cm from front to back, 45 cm high; water 41 cm deep. Soil: 3 cm at the front, 10 cm at the back. From above 90 cm by 45 cm.",
  );
  expect(await only("light-photoperiod")).toMatch(/^Light through the day: .* lowest 0 .*, highest 60 /);

  // The whole day, with what does not go together.
  await page.locator("#catalogue > summary").click();
  await page.locator('#families input[value="timing.day"]').check();
  await type(page, "timing.day", "co2_time", "12");
  const day = await only("timing-day");
  expect(day).toContain("CO2 11:00 to 23:00");
  expect(day).toContain("clash: CO2 while the skimmer runs 22:00 to 23:00");
  expect(await pictures("circulation-skimmer")).toEqual([]);
});
