// What is wrong with a screen as it lies now: found by an automatic checker, and measured.
import { axe, expect } from "./harness.mjs";

// Against WCAG 2.2 AA. Of what passes, the rules alone are told: to name every element takes longer than to look at it.
export async function axeFinds(page) {
  if (!(await page.evaluate(() => Boolean(globalThis.axe)))) await page.evaluate(axe);
  const { violations, passes } = await page.evaluate(() =>
    globalThis.axe.run({ runOnly: ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"], resultTypes: ["violations"] }),
  );
  expect(passes.map(({ id }) => id)).toContain("color-contrast");
  return violations.flatMap(({ id, nodes }) => nodes.map(({ html }) => `${id}: ${html}`));
}

// Broader than the screen, cut off inside their own box, or smaller than a thumb.
export const flaws = (page) =>
  page.evaluate(() => {
    const found = [];
    for (const element of document.querySelectorAll(".screen:not([hidden]) *, #bars *")) {
      if (!element.checkVisibility({ visibilityProperty: true }) || element.closest(".unseen, .word, option, datalist")) continue;
      const box = element.getBoundingClientRect();
      const name = `${element.tagName} “${(element.getAttribute("aria-label") || element.textContent).slice(0, 30)}”`;
      if (box.width > 0 && (box.right > innerWidth + 0.5 || box.left < -0.5)) found.push(`outside: ${name}`);
      if (
        element.matches("button, p, span, label, legend, h2, h3, li, th, td") &&
        element.scrollWidth > element.clientWidth + 1 &&
        element.clientWidth > 0
      )
        found.push(`cut: ${name}`);
      const target = element.matches("input[type=checkbox], input[type=radio]") ? element.closest("label") : element;
      const { width, height } = target.getBoundingClientRect();
      if (element.matches("button, input, select, textarea") && (width < 47.9 || height < 47.9)) found.push(`small, ${width} × ${height}: ${name}`);
    }
    return found;
  });
