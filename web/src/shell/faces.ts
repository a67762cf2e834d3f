// Which face is in sight, and the switch between them.
import { CanvasFace } from "./canvas";
import type { OpenScreens } from "./open_screens";
import { byId, say, set, show } from "../base/dom";
import { Find } from "./find";
import type { Words } from "../base/languages";
import { appearance } from "../base/look";
import { remember, remembered } from "../base/memory";
import { PlainFace } from "../plain/face";
import type { Slip } from "../base/slip";
import { t } from "../base/words";

type Face = "drawn" | "plain";

const tick = 8; // ms that a phone shakes for a key

export class Faces {
  readonly canvas: CanvasFace;
  private readonly plain: PlainFace;
  private face: Face | undefined;

  constructor(
    slip: Slip,
    words: Words,
    private readonly openScreens: OpenScreens,
  ) {
    const find = new Find(slip, () => this.canvas.redraw());
    this.canvas = new CanvasFace(slip, words.languages, {
      wish: (word) => {
        if (word === "plain") {
          find.close();
          this.choose("plain");
        }
        if (word === "tanks") {
          find.close();
          void openScreens.open("tanks");
        }
        if (word === "words") slip.wantWords();
        const [, what = "", which = ""] = /^(\S+) ?(.*)$/.exec(word) ?? [];
        if (what === "find") find.wish(which);
        if (what === "tick") navigator.vibrate?.(tick);
        if (what === "language") void words.choose(which);
        if (what === "look" || what === "hand") appearance.choose(what, which);
      },
      lostForGood: () => {
        this.withoutDrawn(false);
        this.show("plain");
      },
      back: () => this.withDrawn(),
    });
    this.plain = new PlainFace(slip, words, { showDrawn: () => this.choose("drawn") });

    byId("to-plain").addEventListener("click", () => this.choose("plain"));
  }

  get shown(): Face | undefined {
    return this.face;
  }

  // Another language is spoken.
  spoken(): void {
    this.plain.spoken();
    this.openScreens.name();
  }

  // The face that was chosen last, or else the drawn one; the plain one where that cannot be.
  begin(): void {
    this.show(remembered("face") === "plain" ? "plain" : "drawn");
  }

  private choose(face: Face): void {
    this.show(face);
    if (this.face !== face) return;
    remember("face", face);
    // The focus goes along, to where reading or working begins.
    if (face === "plain") byId("title").focus();
    else byId("canvas").focus({ preventScroll: true });
  }

  private show(face: Face): void {
    document.documentElement.dataset.face = face; // the canvas needs a size before it starts
    if (face === "drawn" && !this.canvas.show(true)) {
      this.withoutDrawn(true);
      return this.show("plain");
    }
    if (face === "plain") this.canvas.show(false);
    this.plain.show(face === "plain");
    this.face = face;
  }

  // The switch stays where it is and says why it leads nowhere.
  private withoutDrawn(forGood: boolean): void {
    const button = byId("to-drawn");
    if (forGood) show(button, false);
    else set(button, "aria-disabled", "true");
    say(byId("no-drawn"), t("This browser cannot draw the other face now; everything works here."));
    show(byId("no-drawn"), true);
  }
  private withDrawn(): void {
    set(byId("to-drawn"), "aria-disabled", false);
    show(byId("no-drawn"), false);
  }
}
