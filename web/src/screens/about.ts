// What this is, in which version, and what of others is built in, with the texts of their licences.
import { el, say } from "../base/dom";
import { fetched } from "../base/part";
import { t } from "../base/words";
import type { Screen } from "./stack";

declare const VERSION: string; // written by build.mjs

// As licenceText in web/parts.mjs writes it: a name, a rule under it, and the text.
function* parts(licences: string): Generator<[string, string]> {
  const pieces = licences.split(/^(.+)\n=+\n/m);
  for (let i = 1; i < pieces.length; i += 2) yield [pieces[i]!, pieces[i + 1]!.trim()];
}

export function aboutScreen(): Screen {
  const list = el("div", { class: "parts" });
  const told = el("p", { class: "quiet", role: "status" });
  void fetched("./licences.txt").then(
    (text) => list.append(...[...parts(text)].map(([name, licence]) => el("details", {}, el("summary", {}, name), el("pre", {}, licence)))),
    () => say(told, t("This part of the page did not come. Check the connection and try again.")),
  );
  const build = document.querySelector<HTMLMetaElement>('meta[name="build"]')?.content ?? "";
  return {
    title: t("About Wetsleeve"),
    body: [
      el("p", {}, t("Sentences to fill in for a planted aquarium. Type over any number, answers too: the rest follows.")),
      el("p", {}, t("Amounts are estimates: check them against labels and your own readings.")),
      el("p", {}, t("Version {0}, build {1}.", VERSION, build)),
      el("h3", {}, t("Parts built in, with their licences")),
      told,
      list,
    ],
  };
}
