// The drawn face, worked by one finger: the main job, quiet when idle, size, looks, a lost context, and
// both faces in step.
import { answers, expect, expectAnswers, face, field, installed, job, open, ready, saved, slot, test, type, value } from "./harness.mjs";
import { canLoseContext, drag, drawnOut, enterOnCanvas, tapTarget, targets } from "./touch.mjs";

test.describe("the main job", () => {
  test.describe.configure({ timeout: 300_000 });
  test.use({ expectedErrors: /ERR_INTERNET_DISCONNECTED|Failed to update a ServiceWorker/ });

  test("by touch on the canvas, from an empty page, and all still there without a network", { tag: "@kept" }, async ({ page, context, site }) => {
    await open(page, site.url);
    expect(await face(page)).toBe("drawn");
    for (const [line, id, text] of job) {
      await enterOnCanvas(page, line, id, text);
      expect(await value(page, line, id), `${line} ${id}`).not.toBeNull();
    }
    await expectAnswers(page);

    // The litres typed over: the share gives way.
    await enterOnCanvas(page, "water.change", "refill", "60");
    const over = [
      ["water.change", "refill", 60],
      ["water.change", "share", (100 * 60) / 138.40155556],
      ["water.change", "drop", 15.856236786],
      ["water.remineralise", "grams", 18],
    ];
    await expectAnswers(page, over);
    expect((await slot(page, "water.change", "refill")).role).toBe("held");
    expect((await slot(page, "water.change", "share")).role).toBe("gave_way");

    await saved(page);
    await installed(page);
    await context.setOffline(true);
    await page.reload();
    await ready(page);
    expect(await face(page)).toBe("drawn");
    await expectAnswers(page, [...over, ...answers.slice(0, 3)]);
  });
});

test.describe("a screen of fine pixels", () => {
  test.use({ deviceScaleFactor: 3 });
  const size = (page) => page.evaluate(() => [canvas.width, canvas.height, canvas.getBoundingClientRect().width]);

  test("has a pixel of the canvas for each, and keys where they are drawn", async ({ page, site }) => {
    await open(page, site.url);
    expect(await size(page)).toEqual([1170, 2532, 390]);
    await enterOnCanvas(page, "geometry.box", "length", "90");
    expect(await value(page, "geometry.box", "length")).toBe(90);
  });

  test("has them also after turning the phone", async ({ page, site }) => {
    await open(page, site.url);
    await page.setViewportSize({ width: 844, height: 390 });
    await expect.poll(() => size(page)).toEqual([2532, 1170, 844]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBe(844);
  });
});

test("undo on the keypad takes back what is typed alone, and goes to what it takes back else", async ({ page, site }) => {
  await open(page, site.url);
  await enterOnCanvas(page, "geometry.box", "length", "90");
  await enterOnCanvas(page, "geometry.box", "width", "45");
  const both = async () => [await value(page, "geometry.box", "length"), await value(page, "geometry.box", "width")];
  await tapTarget(page, "slot geometry.box length");
  for (const key of "99999999") await tapTarget(page, `key ${key}`);
  await tapTarget(page, "key done"); // refused: too long
  await tapTarget(page, "key undo");
  expect(await both()).toEqual([90, 45]);
  await tapTarget(page, "key undo");
  expect(await both()).toEqual([90, null]);
  // The keypad is at the width now, which says so.
  await tapTarget(page, "key 6");
  await tapTarget(page, "key done");
  expect(await both()).toEqual([90, 6]);
});

// Counts what would wake the processor, whoever asks for it.
const countWakers = () => {
  globalThis.wakers = { frames: 0, timers: 0 };
  const frame = requestAnimationFrame.bind(globalThis);
  globalThis.requestAnimationFrame = (callback) => ((wakers.frames += 1), frame(callback));
  for (const name of ["setTimeout", "setInterval"]) {
    const real = globalThis[name].bind(globalThis);
    globalThis[name] = (...rest) => ((wakers.timers += 1), real(...rest));
  }
};

test.describe("while nothing changes", () => {
  test.use({ serviceWorkers: "allow" });

  for (const shown of ["drawn", "plain"])
    test(`nothing is drawn and no timer runs: ${shown} face`, async ({ page, site }) => {
      await page.addInitScript(countWakers);
      await open(page, site.url, shown);
      if (shown === "drawn") {
        await enterOnCanvas(page, "geometry.box", "length", "90");
        await drawnOut(page);
      } else {
        await type(page, "geometry.box", "length", "90");
      }
      await installed(page);
      await new Promise((done) => setTimeout(done, 1000));
      const read = () => page.evaluate(() => ({ ...wakers, counted: wetsleeveTest.frames }));
      const before = await read();
      await new Promise((done) => setTimeout(done, 5000));
      expect(await read()).toEqual(before);
    });
});

test("each face shows what was entered in the other", async ({ page, site }) => {
  await open(page, site.url);
  await enterOnCanvas(page, "geometry.box", "length", "90");
  await tapTarget(page, "top plain");
  expect(await face(page)).toBe("plain");
  await expect(page.locator("#title")).toBeFocused();
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  await type(page, "geometry.box", "width", "45");
  await page.locator("#to-drawn").click();
  expect(await face(page)).toBe("drawn");
  await enterOnCanvas(page, "geometry.box", "height", "45");
  await expectAnswers(page, answers.slice(0, 1));
  await tapTarget(page, "top plain");
  await expect(field(page, "geometry.box", "height")).toHaveValue("45");
  await expect(field(page, "geometry.box", "inside_volume")).toHaveValue("155");

  // The choice of face outlives a reload.
  await page.reload();
  await ready(page);
  expect(await face(page)).toBe("plain");
});

test("keys of a real keyboard type into the slot that is open", async ({ page, site }) => {
  await open(page, site.url);
  await tapTarget(page, "slot geometry.box length");
  await page.keyboard.type("90");
  await page.keyboard.press("Enter");
  expect(await value(page, "geometry.box", "length")).toBe(90);
  await page.keyboard.press("Control+z");
  expect(await value(page, "geometry.box", "length")).toBeNull();
});

test("every target in sight is thumb-sized and on the screen", async ({ page, site }) => {
  await open(page, site.url);
  await drawnOut(page);
  const check = async (kind, least) => {
    // What the edges of the screen cut off is whole after a scroll.
    const whole = (await targets(page)).filter(({ id, y, h }) => id.startsWith(kind) && y > 60 && y + h < 843);
    expect(whole.length).toBeGreaterThan(least);
    expect(whole.filter(({ w, h }) => w < 43.9 || h < 43.9)).toEqual([]);
  };
  await check("slot ", 5);
  await tapTarget(page, "slot geometry.box length");
  await check("key ", 12);
});

test("a lost context comes back; one that stays lost gives way to the plain face", async ({ page, site }) => {
  await canLoseContext(page);
  await open(page, site.url);
  await enterOnCanvas(page, "geometry.box", "length", "90");
  await page.evaluate(async () => {
    const becomes = (what) => new Promise((now) => canvas.addEventListener(`webglcontext${what}`, now, { once: true }));
    const [lost, restored] = [becomes("lost"), becomes("restored")];
    losing.loseContext();
    await lost;
    await new Promise((now) => setTimeout(now, 50)); // once all have heard of it
    losing.restoreContext();
    await restored;
  });
  await page.waitForFunction(() => wetsleeveTest.idle);
  await enterOnCanvas(page, "geometry.box", "width", "45");
  expect(await value(page, "geometry.box", "width")).toBe(45);

  await page.evaluate(() => losing.loseContext());
  await expect.poll(() => face(page)).toBe("plain");
  await expect(field(page, "geometry.box", "length")).toHaveValue("90");
  await type(page, "geometry.box", "height", "45");
  await expectAnswers(page, answers.slice(0, 1));
  await expect(page.locator("#no-drawn")).toBeVisible();
  await page.evaluate(() => losing.restoreContext());
  await expect(page.locator("#no-drawn")).toBeHidden();
});

test("lines are taken off and put on by touch, and named values picked", { tag: "@kept" }, async ({ page, site }) => {
  const onSlip = () => page.evaluate(() => wetsleeveTest.state().lines.map((line) => line.id));
  await open(page, site.url);
  await enterOnCanvas(page, "geometry.stone", "stone_mass", "29");
  await tapTarget(page, "slot geometry.stone density");
  await tapTarget(page, "key named");
  const basalt = (await slot(page, "geometry.stone", "density")).offers.indexOf("basalt");
  await tapTarget(page, `option ${basalt}`);
  expect(await value(page, "geometry.stone", "density")).toBe(2.9);
  expect(await value(page, "geometry.stone", "stone_displaced")).toBeCloseTo(10, 9);

  await tapTarget(page, "lines");
  await tapTarget(page, "line geometry.stone");
  expect(await onSlip()).not.toContain("geometry.stone");
  await tapTarget(page, "lines done");
  // What it answered stays, as a number that was given.
  expect(await slot(page, "water.net", "stone_displaced")).toMatchObject({ role: "given", value: 10 });

  await tapTarget(page, "top undo");
  expect(await onSlip()).toContain("geometry.stone");
  expect(await value(page, "geometry.stone", "density")).toBe(2.9);
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await onSlip()).toContain("geometry.stone");
  await tapTarget(page, "top redo");
  expect(await onSlip()).not.toContain("geometry.stone");
});

test("a line folds to its sentence, opens, and shows its working on a long press", async ({ page, site }) => {
  const there = async (id) => (await targets(page)).some((each) => each.id === id);
  await open(page, site.url);
  await enterOnCanvas(page, "geometry.stone", "stone_mass", "29");
  expect(await there("working geometry.stone")).toBe(false);
  await tapTarget(page, "fold geometry.stone");
  expect(await there("working geometry.stone")).toBe(true);
  await tapTarget(page, "fold geometry.stone");
  expect(await there("working geometry.stone")).toBe(false);

  const title = (await targets(page)).find((each) => each.id === "fold geometry.stone");
  const client = await page.context().newCDPSession(page);
  const point = { x: title.x + 30, y: title.y + title.h / 2, id: 1 };
  await client.send("Input.dispatchTouchEvent", { type: "touchStart", touchPoints: [point] });
  await page.waitForTimeout(800);
  await client.send("Input.dispatchTouchEvent", { type: "touchEnd", touchPoints: [] });
  await drawnOut(page);
  expect(await there("working geometry.stone")).toBe(true);
});

test("a line is found by a plain word in two taps, or by typing one", async ({ page, site }) => {
  await open(page, site.url);
  await drawnOut(page);
  await tapTarget(page, "top find");
  await tapTarget(page, "word shrimp");
  // Its words may still be on their way: they are drawn as they come.
  await expect.poll(async () => (await targets(page)).some((each) => each.id === "line livestock.animals")).toBe(true);
  await page.locator("#find").fill("un-ionised");
  await drawnOut(page);
  await tapTarget(page, "line livestock.ammonia");
  expect(await page.evaluate(() => wetsleeveTest.state().lines.map((line) => line.id))).toContain("livestock.ammonia");
  await expect(page.locator("#find")).toBeHidden();
  expect((await targets(page)).some((each) => each.id === "fold livestock.ammonia")).toBe(true);
  await tapTarget(page, "top find");
  await page.locator("#find").fill("zzz");
  await page.locator("#find").press("Escape");
  await drawnOut(page);
  await expect(page.locator("#find")).toBeHidden();
});

test("a known tank's visit comes before what it is made of", { tag: "@kept" }, async ({ page, site }) => {
  await open(page, site.url, "plain");
  const first = () => page.locator("#lines section").first().getAttribute("data-line");
  expect(await first()).toBe("geometry.box");
  for (const [line, id, text] of job) await type(page, line, id, text);
  expect(await first()).toBe("geometry.box"); // nothing moves while one types
  await saved(page);
  await page.reload();
  await ready(page);
  expect(await first()).toBe("water.change");
  await expectAnswers(page);
});

test.describe("the tank as it is drawn", () => {
  const grip = async (page, name) => {
    const target = (await targets(page)).find(({ id }) => id === `grip ${name}`);
    return target && { ...target, x: target.x + target.w / 2, y: target.y + target.h / 2 };
  };
  const revision = (page) => page.evaluate(() => wetsleeveTest.state().revision);

  // Filled in, and drawn.
  async function filled(page, site) {
    await open(page, site.url, "plain");
    for (const [line, id, text] of job) await type(page, line, id, text);
    await page.evaluate(() => document.activeElement.blur());
    await page.locator("#to-drawn").click();
    await drawnOut(page);
  }

  // What a finger that takes a grip moves: by how much the grip moved with it, and the slot.
  async function pull(page, name, [line, id], dy) {
    const from = await grip(page, name);
    const before = await value(page, line, id);
    await drag(page, from, { x: from.x, y: from.y + dy });
    const to = await grip(page, name);
    return { before, after: await value(page, line, id), moved: to && to.y - from.y };
  }

  for (const [name, slotOf, sign] of [
    ["front", ["geometry.soil", "front"], -1],
    ["back", ["geometry.soil", "back"], -1],
    ["drop", ["water.change", "drop"], 1],
  ])
    test(`a finger sets the ${name} in whole millimetres, in one step to undo`, async ({ page, site }) => {
      await filled(page, site);
      const target = await grip(page, name);
      expect([target.w, target.h]).toEqual([48, 48]);
      const { before, after, moved } = await pull(page, name, slotOf, 40 * sign);
      expect(after).toBeGreaterThan(before + 1);
      expect(Math.abs(after * 10 - Math.round(after * 10))).toBeLessThan(1e-9);
      expect(Math.abs(moved - 40 * sign)).toBeLessThan(2);
      // True to scale: another grip moves as far for as many centimetres.
      const other = name === "back" ? ["front", ["geometry.soil", "front"]] : ["back", ["geometry.soil", "back"]];
      const second = await pull(page, ...other, -30);
      expect((second.after - second.before) / 30).toBeCloseTo((after - before) / 40, 1);

      await tapTarget(page, "top undo");
      expect(await value(page, ...other[1])).toBeCloseTo(second.before, 9);
      await tapTarget(page, "top undo");
      expect(await value(page, ...slotOf)).toBeCloseTo(before, 9);
      await tapTarget(page, "top redo");
      expect(await value(page, ...slotOf)).toBeCloseTo(after, 9);
    });

  test("a drag ends at the floor and at the rim, and nothing scrolls meanwhile", async ({ page, site }) => {
    await filled(page, site);
    const top = (await grip(page, "front")).x;
    expect((await pull(page, "back", ["geometry.soil", "back"], 300)).after).toBe(0);
    expect((await pull(page, "back", ["geometry.soil", "back"], -400)).after).toBe(44);
    expect(await grip(page, "back"), "the grip at the rim is there to be taken back").toBeDefined();
    expect((await grip(page, "front")).x).toBe(top);
  });

  test("a tap on a grip changes nothing", async ({ page, site }) => {
    await filled(page, site);
    const before = await revision(page);
    const { x, y } = await grip(page, "back");
    await page.touchscreen.tap(x, y);
    await drawnOut(page);
    expect(await revision(page)).toBe(before);
  });

  test("soil that is not entered yet is pulled up from the floor", async ({ page, site }) => {
    await open(page, site.url, "plain");
    for (const [line, id, text] of job.slice(0, 3)) await type(page, line, id, text);
    await page.evaluate(() => document.activeElement.blur());
    await page.locator("#to-drawn").click();
    await drawnOut(page);
    expect(await grip(page, "drop")).toBeUndefined();
    await pull(page, "front", ["geometry.soil", "front"], -20);
    await pull(page, "back", ["geometry.soil", "back"], -50);
    expect(await value(page, "geometry.soil", "front")).toBeGreaterThan(1);
    expect(await value(page, "geometry.soil", "back")).toBeGreaterThan(5);
    expect(await value(page, "geometry.soil", "bags")).toBeGreaterThan(0);
  });

  test("for the left hand the grip of the water line is at the left", async ({ page, site }) => {
    await filled(page, site);
    const right = (await grip(page, "drop")).x;
    await tapTarget(page, "top plain");
    await page.locator(".more > summary").click();
    await page.locator("#hand").selectOption("left");
    await page.locator("#to-drawn").click();
    await drawnOut(page);
    const left = (await grip(page, "drop")).x;
    expect(right).toBeGreaterThan(page.viewportSize().width / 2 + 80);
    expect(left).toBeLessThan(page.viewportSize().width / 2 - 80);
  });
});

// A large file is read while a number is half typed: the module's memory grows, and all views on it are made anew.
test("memory that grows loses no digit, and the canvas draws on", async ({ page, site }) => {
  await page.addInitScript(() => {
    for (const name of ["instantiate", "instantiateStreaming"]) {
      const real = WebAssembly[name].bind(WebAssembly);
      WebAssembly[name] = async (...all) => {
        const made = await real(...all);
        globalThis.memory ??= Object.values(made.instance?.exports ?? {}).find((each) => each instanceof WebAssembly.Memory);
        return made;
      };
    }
  });
  await open(page, site.url);
  for (const [line, id, text] of job.slice(0, 3)) await enterOnCanvas(page, line, id, text);
  await tapTarget(page, "slot water.change share");
  for (const key of ["4", "2"]) await tapTarget(page, `key ${key}`);
  const bytes = () => page.evaluate(() => memory.buffer.byteLength);
  const [before, seen] = [await bytes(), await page.screenshot()];
  const visits = await page.evaluate(async () => {
    const entries = [{ what: "read", quantity: "nitrate", value: 12.5, unit: "mg/L" }];
    const visits = Array.from({ length: 40_000 }, (_, i) => ({ id: `v${i}`, tank: "t1", day: "2026-05-04", entries }));
    const text = JSON.stringify({ version: 1, tanks: [{ id: "t1", name: "A" }], shelf: [], visits, due: [] });
    return (await wetsleeveTest.openScreens.supplies.codec.readBook(text)).book.visits.length;
  });
  expect(visits).toBe(40_000);
  expect(await bytes()).toBeGreaterThan(before);
  await tapTarget(page, "key decimal");
  await tapTarget(page, "key back");
  expect(seen.equals(await page.screenshot())).toBe(true);
  for (const key of ["decimal", "5", "done"]) await tapTarget(page, `key ${key}`);
  expect(await value(page, "water.change", "share")).toBe(42.5);
  expect(await value(page, "geometry.box", "inside_volume")).toBeCloseTo(155.144, 3);
});
