// Drives the canvas face: sizes, looks, input, and frames on demand. Nothing runs while nothing changes.
import { byId, el, say } from "../base/dom";
import type { Languages } from "../base/languages";
import { appearance } from "../base/look";
import type { Slip } from "../base/slip";

const lineOfWheel = 20; // CSS pixels, for wheels that count lines
const patienceWithLostContext = 2000; // ms

const phase = { down: 0, move: 1, up: 2, cancel: 3 } as const;

export interface CanvasEvents {
  wish(word: string): void;
  lostForGood(): void;
  back(): void;
}

export class CanvasFace {
  frames = 0; // asked for or drawn since the page began; tests watch it
  private readonly canvas = byId<HTMLCanvasElement>("canvas");
  private readonly probe = byId("probe"); // 1 rem wide, padded by the safe-area insets
  private readonly still = matchMedia("(prefers-reduced-motion: reduce)");
  private started: boolean | undefined;
  private lost = false;
  private shown = false;
  private asked = 0; // the animation frame that is due; 0: none
  private held: number | undefined; // pointer that is down
  private readonly name = el("span", { id: "tank-name", dir: "auto", "aria-hidden": "true", hidden: true });
  private readonly written = this.name.appendChild(el("span"));
  private wide = 0; // of the name, as the browser writes it
  private device: { width: number; height: number } | undefined; // exact device pixels, where told

  constructor(
    private readonly slip: Slip,
    private readonly languages: Languages,
    private readonly events: CanvasEvents,
  ) {
    slip.onChange(() => this.ask());
  }

  // False: there is no WebGL, or it is lost.
  show(shown: boolean): boolean {
    this.shown = shown;
    if (!shown) return true;
    if (this.started === undefined) this.start();
    if (!this.started || this.lost) {
      this.shown = false;
      return false;
    }
    this.resize();
    this.measureName();
    this.ask();
    return true;
  }

  private start(): void {
    const { title } = document; // a window has one of its own
    try {
      this.started = this.slip.core.ask("canvas_start");
    } catch {
      this.started = false;
    }
    document.title = title;
    if (!this.started) return;
    const rows = Object.entries(this.languages).map(([code, { name }]) => `${code}\t${name}\n`);
    this.slip.core.ask("canvas_languages", rows.join(""));
    this.look();
    this.listen();
  }

  // The tank's name. The font of the face is small: what it lacks the browser writes, over the canvas. Fingers
  // still reach the canvas there.
  named(name: string): void {
    say(this.written, name.normalize("NFC"));
    if (!this.name.isConnected) this.canvas.after(this.name);
    this.measureName();
    this.redraw();
  }
  private measureName(): void {
    const { textContent: name } = this.written;
    this.name.hidden = !/[^\x20-\x7e]/.test(name);
    this.wide = this.name.hidden ? 0 : Math.ceil(this.written.getBoundingClientRect().width);
    this.slip.core.ask("canvas_tank", name, this.wide || 1);
    this.placeName();
  }
  private placeName(): void {
    if (this.wide === 0) return;
    const place = this.slip.core.ask("canvas_tank_place");
    this.name.style.visibility = place ? "visible" : "hidden";
    if (!place) return;
    const [x, y, w, h, top, foot] = place.split(" ").map(Number) as [number, number, number, number, number, number];
    Object.assign(this.name.style, {
      left: `${x}px`,
      top: `${y}px`,
      width: `${w}px`,
      height: `${h}px`,
      lineHeight: `${h}px`,
      clipPath: `inset(${Math.max(0, top - y)}px 0 ${Math.max(0, y + h - foot)}px)`,
    });
  }

  // Something outside changed what it shows.
  redraw(): void {
    this.after();
    this.ask();
  }

  // No frame is due.
  get idle(): boolean {
    return this.asked === 0;
  }

  // ---- frames -----------------------------------------------------------------------------------

  private ask(): void {
    if (this.asked || !this.drawable()) return;
    this.frames += 1;
    this.asked = requestAnimationFrame((now) => {
      this.asked = 0;
      this.draw(now);
    });
  }

  private drawable(): boolean {
    return this.shown && !this.lost && document.visibilityState === "visible";
  }

  private draw(now: number): void {
    if (!this.drawable()) return;
    const more = this.slip.core.ask("canvas_frame", now);
    this.placeName();
    if (more) this.ask();
    this.after();
  }

  // What the face did with the last event or frame.
  private after(): void {
    this.slip.look({ by: "drawn" });
    const wish = this.slip.core.ask("canvas_wish");
    if (wish) this.events.wish(wish);
  }

  // ---- size and look ----------------------------------------------------------------------------

  private listen(): void {
    const { canvas } = this;
    new ResizeObserver(() => this.look()).observe(this.probe);
    const sizes = new ResizeObserver(([entry]) => {
      const box = entry?.devicePixelContentBoxSize?.[0];
      this.device = box && { width: box.inlineSize, height: box.blockSize };
      if (this.shown) this.resize(true);
    });
    try {
      sizes.observe(canvas, { box: "device-pixel-content-box" });
    } catch {
      sizes.observe(canvas);
    }
    this.still.addEventListener("change", () => this.look());
    appearance.onChange(() => this.look());
    this.watchRatio();
    document.addEventListener("visibilitychange", () => this.ask());

    canvas.addEventListener("pointerdown", (event) => this.down(event));
    canvas.addEventListener("pointermove", (event) => this.move(event));
    canvas.addEventListener("pointerup", (event) => this.end(event, phase.up));
    canvas.addEventListener("pointercancel", (event) => this.end(event, phase.cancel));
    canvas.addEventListener("lostpointercapture", (event) => this.end(event, phase.cancel));
    canvas.addEventListener("contextmenu", (event) => event.preventDefault());
    canvas.addEventListener("wheel", (event) => this.wheel(event), { passive: false });
    canvas.addEventListener("keydown", (event) => this.key(event));
    canvas.addEventListener("webglcontextlost", (event) => this.contextLost(event));
    canvas.addEventListener("webglcontextrestored", () => this.contextRestored());
  }

  // A query for the present ratio stops matching when the ratio changes: then ask anew.
  private watchRatio(): void {
    matchMedia(`(resolution: ${devicePixelRatio}dppx)`).addEventListener(
      "change",
      () => {
        this.device = undefined;
        if (this.shown) this.resize();
        this.watchRatio();
      },
      { once: true },
    );
  }

  // `now`: a canvas that got a new size is empty, so it is drawn before the browser shows it.
  private resize(now = false): void {
    const { width, height } = this.canvas.getBoundingClientRect();
    if (width < 1 || height < 1) return;
    const ratio = devicePixelRatio || 1;
    const pixels = { width: Math.round(width * ratio), height: Math.round(height * ratio) };
    // Exact where the browser tells it; screens that a browser only emulates tell it in CSS pixels.
    if (this.device && Math.abs(this.device.width - pixels.width) <= 1) Object.assign(pixels, this.device);
    if (this.canvas.width !== pixels.width) this.canvas.width = pixels.width;
    if (this.canvas.height !== pixels.height) this.canvas.height = pixels.height;
    const style = getComputedStyle(this.probe);
    const inset = (side: string) => parseFloat(style.getPropertyValue(`padding-${side}`)) || 0;
    this.slip.core.ask("canvas_resize", width, height, pixels.width / width, inset("top"), inset("right"), inset("bottom"), inset("left"));
    if (!now || !this.drawable()) return this.ask();
    this.frames += 1;
    this.draw(performance.now());
  }

  private look(): void {
    const rootFont = parseFloat(getComputedStyle(document.documentElement).fontSize) || 16;
    const { shade, look, hand } = appearance;
    this.slip.core.ask("canvas_look", { light: 0, dark: 1, sun: 2 }[shade], look, rootFont / 16, this.still.matches, hand === "left");
    this.measureName();
    this.ask();
  }

  // ---- input ------------------------------------------------------------------------------------

  private down(event: PointerEvent): void {
    if (!event.isPrimary || event.button !== 0 || this.held !== undefined) return;
    this.held = event.pointerId;
    this.canvas.setPointerCapture(event.pointerId);
    this.point(phase.down, event);
  }
  private move(event: PointerEvent): void {
    if (!event.isPrimary) return;
    // A finger moves only while it is down; a mouse also points.
    if (this.held === event.pointerId || event.pointerType === "mouse") this.point(phase.move, event);
  }
  private end(event: PointerEvent, how: 2 | 3): void {
    if (this.held !== event.pointerId) return;
    this.held = undefined;
    this.point(how, event);
  }
  private point(what: 0 | 1 | 2 | 3, event: PointerEvent): void {
    const corner = this.canvas.getBoundingClientRect();
    const kind = event.pointerType === "mouse" ? 1 : 0;
    this.slip.core.ask("canvas_pointer", what, kind, event.clientX - corner.left, event.clientY - corner.top, event.timeStamp);
    this.after();
    this.ask();
  }
  private wheel(event: WheelEvent): void {
    if (event.ctrlKey) return; // zooms the page
    event.preventDefault();
    const unit = [1, lineOfWheel, this.canvas.clientHeight][event.deltaMode] ?? 1;
    this.slip.core.ask("canvas_wheel", event.deltaX * unit, event.deltaY * unit);
    this.after();
    this.ask();
  }
  private key(event: KeyboardEvent): void {
    if (event.isComposing || event.altKey) return;
    if (event.ctrlKey || event.metaKey) {
      const key = event.key.toLowerCase();
      if (key === "z" && !event.shiftKey) this.slip.undo();
      else if (key === "y" || key === "z") this.slip.redo();
      else return;
      return event.preventDefault();
    }
    if (!this.slip.core.ask("canvas_key", event.key, event.shiftKey)) return;
    event.preventDefault();
    this.after();
    this.ask();
  }

  // ---- the context goes and comes ---------------------------------------------------------------

  private contextLost(event: Event): void {
    event.preventDefault(); // else it never comes back
    this.lost = true;
    cancelAnimationFrame(this.asked);
    this.asked = 0;
    // Phones take it from pages in the background: patience counts from when the page is looked at.
    const wait = () => {
      if (document.visibilityState !== "visible") return;
      document.removeEventListener("visibilitychange", wait);
      setTimeout(() => {
        if (this.lost && this.shown) this.events.lostForGood();
      }, patienceWithLostContext);
    };
    document.addEventListener("visibilitychange", wait);
    wait();
  }
  private contextRestored(): void {
    this.lost = false;
    this.slip.core.ask("canvas_restored");
    if (this.shown) this.resize();
    this.events.back();
  }
}
