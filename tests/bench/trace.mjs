// Time that scripts took in each frame, from the browser's own trace.
import { median } from "./median.mjs";

const script = new Set([
  "FunctionCall",
  "EvaluateScript",
  "v8.run",
  "RunMicrotasks",
  "TimerFire",
  "FireAnimationFrame",
  "EventDispatch",
  "v8.callFunction",
  "IntersectionObserverController::computeIntersections",
  "FireIdleCallback",
]);
const taskName = "RunTask";

// `act` runs while the browser traces. Milliseconds of the page's main thread: what it worked, not what it waited
// for a busy machine.
export async function scriptInFrames(page, act) {
  const client = await page.context().newCDPSession(page);
  const events = [];
  client.on("Tracing.dataCollected", ({ value }) => events.push(...value));
  await client.send("Tracing.start", {
    transferMode: "ReportEvents",
    traceConfig: { includedCategories: ["devtools.timeline", "toplevel", "v8.execute", "disabled-by-default-devtools.timeline"] },
  });
  await act();
  const ended = new Promise((done) => client.once("Tracing.tracingComplete", done));
  await client.send("Tracing.end");
  await ended;
  await client.detach();
  return summed(events);
}

function summed(events) {
  // The thread with most of the page's frames is its main one.
  const threads = new Map();
  for (const { name, pid, tid } of events) if (name === "Commit") threads.set(`${pid} ${tid}`, (threads.get(`${pid} ${tid}`) ?? 0) + 1);
  const [main] = [...threads].sort((a, b) => b[1] - a[1])[0] ?? [];
  if (!main) throw new Error("The trace has no frames.");
  const ours = events.filter(({ pid, tid, ph }) => `${pid} ${tid}` === main && ph === "X").sort((a, b) => a.ts - b.ts);
  const frames = ours.filter(({ name }) => name === "Commit").map(({ ts }) => ts);
  const inFrame = new Array(frames.length).fill(0);
  let end = 0; // of the outermost script event
  let frame = 0;
  let task = 0;
  for (const { name, ts, dur = 0, tdur = dur } of ours) {
    if (name.endsWith(taskName)) task = Math.max(task, tdur);
    if (!script.has(name) || ts < end) continue;
    end = ts + dur;
    while (frame + 1 < frames.length && frames[frame + 1] <= ts) ++frame;
    inFrame[frame] += tdur;
  }
  const sorted = inFrame.map((microseconds) => microseconds / 1000).sort((a, b) => a - b);
  return { frames: frames.length, longest: sorted.at(-1), median: median(sorted), task: task / 1000, all: sorted };
}
