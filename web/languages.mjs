// The files of each language, made from presets/messages by the terminal face: the messages of the page
// and of the everyday lines, those of all other lines, the words of the workings, and the reference page.
// English has its messages in the module.
import { readdir, readFile } from "node:fs/promises";
import path from "node:path";
import { referencePage } from "./reference.mjs";
import { run } from "./terminal.mjs";

// Texts that only a working shows, and those that are only looked for.
function ofWorkings(lines) {
  const shown = new Set();
  const worked = new Set();
  for (const line of lines) {
    for (const formula of line.formula) worked.add(formula.replace(/^\d\|/, ""));
    for (const text of [...line.assumes, ...line.sources, line.keywords]) worked.add(text);
    for (const text of [line.title, ...line.sentences, ...line.always]) shown.add(text);
    for (const slot of line.slots) for (const text of [slot.name, ...(slot.options ?? [])]) shown.add(text);
  }
  return new Set([...worked].filter((text) => !shown.has(text)));
}

// `put(name, content)` writes a file of the site, `hash(…)` names it; `reference`: what else its page needs.
export async function languageFiles({ face, folder, hash, put, reference }) {
  const lines = JSON.parse(run(face, ["lines", "--json"])).flatMap((family) => family.lines);
  const everyday = new Set(lines.filter((line) => line.everyday).map((line) => line.id));
  const working = ofWorkings(lines);
  const write = async (kind, end, content) => {
    const name = `${kind}-${hash(content)}.${end}`;
    await put(name, content);
    return `./${name}`;
  };

  const page = async (code, messages) => write(`reference-${code}`, "html", await referencePage({ face, code, messages, ...reference }));

  const languages = { en: { name: "English", words: await write("words-en", "json", run(face, ["words"])), reference: await page("en") } };
  for (const file of (await readdir(folder)).filter((name) => /^[a-z]{2}\.json$/.test(name)).sort()) {
    const code = file.slice(0, 2);
    const text = await readFile(path.join(folder, file), "utf8");
    const { name, ...groups } = JSON.parse(text);
    const rows = (wanted) => {
      const some = Object.entries(groups)
        .filter(([group]) => wanted(group))
        .map(([group, messages]) => [group, Object.fromEntries(Object.entries(messages).filter(([english]) => !working.has(english)))]);
      return run(face, ["messages", "--messages", "-"], JSON.stringify(Object.fromEntries(some)));
    };
    const first = (group) => everyday.has(group) || group === "page";
    languages[code] = {
      name,
      first: await write(`messages-${code}-first`, "txt", rows(first)),
      rest: await write(
        `messages-${code}-rest`,
        "txt",
        rows((group) => !first(group) && group !== "reference"),
      ),
      words: await write(`words-${code}`, "json", run(face, ["words", "--messages", "-"], text)),
      reference: await page(code, path.join(folder, file)),
    };
  }
  return languages;
}
