// The reference page of a language: every line with its slots, formula, sources and one worked example,
// written from the lines' own declarations by the terminal face. Examples come from the tables of outside
// checks, so what the page shows has been held against something else.
import { readFile } from "node:fs/promises";
import path from "node:path";
import { run } from "./terminal.mjs";

const escaped = (text) => String(text).replace(/[&<>"]/g, (c) => ({ "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" })[c]);

// The first row of a table of outside checks (tests/tables_test.cpp tells their form) as a request.
export function example(id, csv) {
  let source = "";
  let columns;
  for (const raw of csv.split("\n")) {
    const text = raw.trim();
    if (text.startsWith("# source:")) [source, columns] = [text.slice(9).trim(), undefined];
    if (text === "" || text.startsWith("#")) continue;
    if (!columns) {
      columns = text.split(",").map((column) => /^\s*([a-z0-9_]+)([?!]?)\s*(?:\[(.*)\])?\s*$/.exec(column).slice(1));
      continue;
    }
    const cells = text.split(",").map((cell) => cell.trim());
    const given = {};
    columns.forEach(([slot, kind, unit], i) => {
      if (kind !== "?") given[slot] = unit ? `${cells[i]} ${unit}` : cells[i];
    });
    return { request: { line: id, given }, source };
  }
  throw new Error(`${id}: its table of outside checks has no row`);
}

const filled = (text, ...args) => text.replace(/\{(\d)\}/g, (_, i) => args[Number(i)]);

function sentence(line, template, { t }, slots) {
  const words = escaped(template).replace(/\{(\w+)\}/g, (_, id) => {
    const slot = line.slots.find((each) => each.id === id);
    const shown = slots ? (slots[id]?.shown ?? `(${slot.name}: ${t("see below")})`) : slot.name;
    return `<b${slot.answer ? ' class="answer"' : ""}>${escaped(shown)}</b>`;
  });
  const [loud, quiet] = words.split("\n");
  return `<p>${loud}</p>${quiet ? `<p class="quiet">${quiet}</p>` : ""}`;
}

const named = (line, formula) =>
  escaped(formula.replace(/^\d\|/, "")).replace(/\{(\w+)\}/g, (_, id) => `<i>${escaped(line.slots.find((slot) => slot.id === id).name)}</i>`);

function slotRow(slot, { t, decimal }) {
  const digits = (x) => String(Number(x.toPrecision(10))).replace(".", decimal);
  const number = (x) => `${digits(x)}${slot.units[0] ? `\u00a0${slot.units[0]}` : ""}`;
  const told = [];
  if (slot.kind === "choice") told.push(slot.options.join(" · "));
  else if (slot.kind !== "table" && slot.kind !== "curve") {
    told.push(slot.kind === "clock" ? filled(t("{0} to {1}"), "00:00", "24:00") : filled(t("{0} to {1}"), number(slot.low), number(slot.high)));
    if (slot.usual !== null && slot.usual !== undefined && slot.kind !== "clock") told.push(filled(t("usually {0}"), number(slot.usual)));
    if (slot.absolute_tolerance > 0) told.push(`±${number(slot.absolute_tolerance)}`);
    if (slot.relative_tolerance > 0) told.push(`±${digits(100 * slot.relative_tolerance)}\u00a0%`);
    if (slot.offers) told.push(slot.offers.map(([name, value]) => `${name} ${number(value)}`).join(" · "));
  }
  const figures = { table: t("table"), curve: t("curve") };
  const role = figures[slot.kind] ?? (slot.answer ? t("answer") : t("given"));
  return `<tr><th scope="row">${escaped(slot.name)}</th><td>${role}</td><td>${escaped(told.join("; "))}</td></tr>`;
}

const items = (title, list) => (list.length > 0 ? `<h4>${title}</h4><ul>${list.map((item) => `<li>${item}</li>`).join("")}</ul>` : "");

function section(line, shown, language) {
  const { t } = language;
  const levels = { note: t("note"), caution: t("caution"), stop: t("stop") };
  const choice = line.sentences.length > 1 ? line.slots.find((slot) => slot.id === line.variant) : undefined;
  const at = choice ? Math.max(0, choice.options.indexOf(shown.answer.slots[choice.id].shown)) : 0;
  const remarks = shown.answer.remarks.map((remark) => `<li>${escaped(levels[remark.level])}: ${escaped(remark.text)}</li>`).join("");
  return `<section id="${line.id.replace(".", "-")}">
<h3>${escaped(line.title)}</h3>
${line.sentences.map((each) => sentence(line, each, language)).join("\n")}
<h4>${t("Worked example")}</h4>
<div class="example" data-request="${escaped(JSON.stringify(shown.request))}">${sentence(line, line.sentences[at], language, shown.answer.slots)}</div>
${remarks ? `<ul class="remarks">${remarks}</ul>` : ""}<p class="quiet">${escaped(filled(t("Checked against: {0}"), shown.source))}</p>
<details><summary>${t("Formula, ranges, sources")}</summary>
${items(
  t("Formula"),
  line.formula.map((formula) => named(line, formula)),
)}
<table><tbody>${line.slots.map((slot) => slotRow(slot, language)).join("")}</tbody></table>
${items(t("What must hold"), line.assumes.map(escaped))}${items(t("Cautions"), line.always.map(escaped))}${items(t("Sources"), line.sources.map(escaped))}
</details>
</section>`;
}

// What a line declares, in the language.
function spoken(line, said) {
  const all = (texts) => texts.map(said);
  // The sentence that a formula belongs to stands before it.
  const formula = line.formula.map((each) => (/^\d\|/.test(each) ? each.slice(0, 2) + said(each.slice(2)) : said(each)));
  const slots = line.slots.map((slot) => ({
    ...slot,
    name: said(slot.name),
    ...(slot.options && { options: all(slot.options) }),
    ...(slot.offers && { offers: slot.offers.map(([name, value]) => [said(name), value]) }),
  }));
  return { ...line, title: said(line.title), sentences: all(line.sentences), formula, assumes: all(line.assumes), always: all(line.always), slots };
}

// The page as HTML. `tests`: the folder with the tables of outside checks. `messages`: the language's file
// in presets/messages; none for English.
export async function referencePage({ face, tests, style, look, version, code, messages }) {
  const groups = messages ? JSON.parse(await readFile(messages, "utf8")) : {};
  const known = Object.assign({}, ...Object.values(groups).filter((group) => typeof group === "object"));
  const said = (english) => known[english] ?? english;
  const t = (english) => escaped(said(english));
  const decimal = messages ? "," : ".";
  const language = { t, decimal };
  const families = JSON.parse(run(face, ["lines", "--json"])).map((family) => ({
    title: said(family.title),
    lines: family.lines.map((line) => spoken(line, said)),
  }));
  const lines = families.flatMap((family) => family.lines);
  const examples = await Promise.all(
    lines.map(async (line) => example(line.id, await readFile(path.join(tests, `${line.id.replace(".", "/")}.csv`), "utf8"))),
  );
  const inOwnMark = ({ line, given }) => ({
    line,
    given: Object.fromEntries(Object.entries(given).map(([slot, value]) => [slot, value.replace(".", decimal)])),
  });
  const requests = examples.map(({ request }) => `${JSON.stringify(inOwnMark(request))}\n`).join("");
  const asked = ["reckon", "--batch", "--decimal", decimal];
  const answers = run(face, messages ? [...asked, "--messages", messages] : asked, requests)
    .trim()
    .split("\n")
    .map((text) => JSON.parse(text));
  const shown = new Map(lines.map((line, i) => [line.id, { ...examples[i], answer: answers[i] }]));
  const contents = families.map(
    (family) =>
      `<li>${escaped(family.title)}: ${family.lines.map((line) => `<a href="#${line.id.replace(".", "-")}">${escaped(line.title)}</a>`).join(", ")}</li>`,
  );
  return `<!doctype html>
<html lang="${code}">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'self'; script-src 'self'; base-uri 'none'; form-action 'none'">
<title>Wetsleeve: ${t("Every line with formula and source")}</title>
<meta name="viewport" content="width=device-width, initial-scale=1, viewport-fit=cover">
<meta name="color-scheme" content="light dark">
<link rel="stylesheet" href="${style}">
<script src="${look}"></script>
</head>
<body>
<main id="plain" class="reference">
<h1>${t("Every line")}</h1>
<p class="lead">${t("Each sentence of Wetsleeve with its formula, ranges and sources, and one example that was checked against something else.")} <a href="./">${t("Back to the slip")}</a></p>
<nav aria-label="${t("Lines")}"><ul>${contents.join("")}</ul></nav>
${families.map((family) => `<h2>${escaped(family.title)}</h2>\n${family.lines.map((line) => section(line, shown.get(line.id), language)).join("\n")}`).join("\n")}
<footer><p>${t("Amounts are estimates: check them against labels and your own readings.")} ${escaped(filled(said("Version {0}."), version))}</p></footer>
</main>
</body>
</html>
`;
}
