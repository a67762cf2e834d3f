// One tap, one act. A wet finger often taps twice, and what it taps the second time may be another button that came
// to lie under it. So a click counts once on the same button or at nearly the same place, and a button whose act
// goes on waits for its end. Other buttons at other places work at once.

const soon = 400; // ms
const near = 24; // CSS pixels

interface Tap {
  on: Element;
  at: number; // ms, when it happened: a busy page hears of it later
  x: number;
  y: number;
  byKey: boolean; // no place
}
let last: Tap | undefined;
const working = new WeakSet<Element>();

// Until the act is over, its button does nothing else.
export async function during(button: Element, act: Promise<void>): Promise<void> {
  working.add(button);
  await act.finally(() => working.delete(button));
}

function again({ on, at, x, y, byKey }: Tap): boolean {
  if (working.has(on)) return true;
  if (!last || at - last.at > soon) return false;
  return on === last.on || (!byKey && !last.byKey && Math.hypot(x - last.x, y - last.y) <= near);
}

function refuse(event: Event): void {
  event.preventDefault();
  event.stopImmediatePropagation();
}

const tapOf = (event: MouseEvent, on: Element): Tap => ({ on, at: event.timeStamp, x: event.clientX, y: event.clientY, byKey: event.detail === 0 });

addEventListener(
  "click",
  (event) => {
    const on = event.target instanceof Element ? event.target.closest("button, summary, a, label, input, canvas") : null;
    if (!on) return;
    const tap = tapOf(event, on);
    // A box may be ticked and unticked as fast as one likes, and the canvas has keys of its own.
    const acts = on.matches("button, summary, a");
    if (acts || last?.on !== on ? again(tap) : false) refuse(event);
    else if (acts || on.matches("canvas")) last = tap;
  },
  true,
);

// The canvas acts on the pointer itself.
addEventListener(
  "pointerdown",
  (event) => {
    if (!(event.target instanceof HTMLCanvasElement) || event.target === last?.on) return;
    if (again({ ...tapOf(event, event.target), byKey: false })) refuse(event);
  },
  true,
);

// A key that is held down is pressed once.
addEventListener(
  "keydown",
  (event) => {
    if (event.repeat && event.key === "Enter" && event.target instanceof HTMLButtonElement) event.preventDefault();
  },
  true,
);
