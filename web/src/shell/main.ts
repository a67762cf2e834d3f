// Brings the page up: module, what was kept, a face, offline use.
import { tell } from "../base/bar";
import { suppliesOf } from "../book/supplies";
import { OpenScreens } from "./open_screens";
import { byId, show } from "../base/dom";
import { Faces } from "./faces";
import { framed } from "../base/frame";
import { invented, inventedBook } from "../base/invented";
import { KeptBook } from "../store/book";
import { chosenLanguage, Words, type Languages } from "../base/languages";
import { loadCore } from "../base/module";
import { fetched, insist, part } from "../base/part";
import { named } from "../base/place";
import { Slip } from "../base/slip";
import { t } from "../base/words";

// Written by build.mjs.
declare const BUILD: {
  id: string;
  glue: string;
  wasm: string;
  lines: string;
  screens: string; // their style
  wasmBytes: number;
  languages: Languages;
};

// Remembered across one reload. Where there is no storage it claims that it was: then rather no reload
// than one after the other.
const reloadedBefore = {
  name: named("reloaded"),
  get(): boolean {
    try {
      return sessionStorage.getItem(this.name) !== null;
    } catch {
      return true;
    }
  },
  remember(): void {
    sessionStorage.setItem(this.name, "1");
  },
  forget(): void {
    try {
      sessionStorage.removeItem(this.name);
    } catch {
      // nothing was remembered
    }
  },
};

async function begin(): Promise<void> {
  byId("probe"); // the last of the page: it is whole
  const shellId = document.querySelector<HTMLMetaElement>('meta[name="build"]')?.content;
  if (shellId !== BUILD.id) throw new Error("The page and its script are from two builds.");

  const opened = KeptBook.opening(invented ? inventedBook : named("book"), !invented, invented ? undefined : "wetsleeve");
  const language = chosenLanguage(BUILD.languages);
  const firstWords = fetched(BUILD.languages[language]!.first);
  firstWords.catch(() => {}); // looked at below
  const core = await loadCore({
    glue: BUILD.glue,
    wasm: BUILD.wasm,
    lines: BUILD.lines,
    wasmBytes: BUILD.wasmBytes,
    buildId: BUILD.id,
    canvas: byId<HTMLCanvasElement>("canvas"),
    progress: (share) => (byId<HTMLProgressElement>("progress").value = share),
    broken: () => tell(t("Something went wrong inside. What you entered is kept."), { label: t("Reload"), act: () => location.reload() }),
  });
  reloadedBefore.forget();

  const slip = new Slip(core);
  let faces: Faces | undefined;
  const words = new Words(core, BUILD.languages, () => {
    slip.spoken(BUILD.languages[words.language]!.words);
    faces?.spoken();
  });
  slip.spoken(BUILD.languages.en!.words);
  // English needs no file; another waits for the page's own words, not for all.
  if (language !== "en" && !(await words.speak(language, firstWords))) words.missed(language);
  const book = await opened(slip);
  const openScreens = new OpenScreens(slip, BUILD.screens, (name) => faces?.canvas.named(name));
  faces = new Faces(slip, words, openScreens);
  if (invented) await openScreens.showInvented(book);
  openScreens.use(suppliesOf(slip, book), book.untouched);
  await pause(); // the browser may do something else between two long ones
  show(byId("loading"), false);
  show(byId("work"), true);
  faces.begin();
  void theRest(slip, openScreens, book);
  exposeForTests(slip, faces, openScreens, book);
}

const pause = (milliseconds = 0): Promise<void> => new Promise((over) => setTimeout(over, milliseconds));

const untilSeen = 500; // ms that a slow phone takes to show a frame that is made

// Once the first answers are in sight: some while after their frame.
async function theRest(slip: Slip, openScreens: OpenScreens, book: KeptBook): Promise<void> {
  await new Promise(requestAnimationFrame);
  await pause(untilSeen);
  void insist(() => slip.wantLines());
  // A page without its style is told of by guard.ts: its worker must not keep it so.
  if (getComputedStyle(document.documentElement).getPropertyValue("--dressed") === "") return;
  const { after } = await insist(() => part(() => import("./after")));
  after(openScreens, slip, book);
}

function exposeForTests(slip: Slip, faces: Faces, openScreens: OpenScreens, book: KeptBook): void {
  Object.assign(globalThis, {
    wetsleeveTest: {
      get frames() {
        return faces.canvas.frames;
      },
      get idle() {
        return faces.canvas.idle;
      },
      get face() {
        return faces.shown;
      },
      get whole() {
        return slip.whole;
      },
      build: BUILD.id,
      openScreens,
      targets: () => slip.core.ask("canvas_targets"),
      tightest: () => {
        const [scale, text] = slip.core.ask("canvas_tightest").split("\t");
        return { scale: Number(scale), text };
      },
      book,
      slipText: () => slip.core.text("save"),
      state: () => slip.core.ask("state"),
      settled: () => book.settled(),
    },
  });
}

const root = document.documentElement;
root.dataset["begun"] = "";
if (framed) root.dataset["stuck"] = "";
else
  begin().catch((problem: unknown) => {
    console.error(problem);
    // Often half of an update, or a file of an older build that the host no longer has: once more from
    // the start.
    if (!reloadedBefore.get()) {
      reloadedBefore.remember();
      location.reload();
      return;
    }
    root.dataset["stuck"] = ""; // guard.ts says so
  });
