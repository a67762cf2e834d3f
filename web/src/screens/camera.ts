// A hand-over’s code, read by the camera where the browser can. The camera is asked for by a tap, and off again as
// soon as a code is read or the screen closes.
import { el, say, show } from "../base/dom";
import { t } from "../base/words";
import { attempt } from "./parts";
import { fragmentIn, openPasted } from "./paste";
import type { Kit } from "./kit";
import type { Screen } from "./stack";

interface Detector {
  detect(from: HTMLVideoElement): Promise<{ rawValue: string }[]>;
}
type Detectors = (new (options: { formats: string[] }) => Detector) & { getSupportedFormats?(): Promise<string[]> };
const detectors = (): Detectors | undefined => (globalThis as { BarcodeDetector?: Detectors }).BarcodeDetector;

const between = 250; // ms from one look to the next

export async function readsCodes(): Promise<boolean> {
  try {
    const formats = (await detectors()?.getSupportedFormats?.()) ?? [];
    return formats.includes("qr_code") && typeof navigator.mediaDevices?.getUserMedia === "function";
  } catch {
    return false;
  }
}

export async function cameraScreen(kit: Kit): Promise<Screen> {
  let stream: MediaStream;
  try {
    stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  } catch {
    throw new Error(t("The camera is not available. Allow it in the settings of the browser, or paste the link instead."));
  }
  const off = () => stream.getTracks().forEach((track) => track.stop());
  const video = el("video", { class: "camera", playsinline: true, "aria-label": t("What the camera sees") });
  video.muted = true;
  video.srcObject = stream;
  const other = el("p", { class: "question", role: "status", hidden: true });
  let open = true;
  const look = async () => {
    const detector = new (detectors()!)({ formats: ["qr_code"] });
    void video.play().catch(() => {}); // it is there as soon as it is
    while (open) {
      const found = await detector.detect(video).catch(() => []);
      const fragment = found.map(({ rawValue }) => fragmentIn(rawValue)).find(Boolean);
      if (fragment && open) {
        kit.stack.pop();
        return openPasted(kit, fragment);
      }
      if (found.length > 0) {
        say(other, t("This code is not from this page."));
        show(other, true);
      }
      await new Promise((next) => setTimeout(next, between));
    }
  };
  void attempt(look);
  return {
    title: t("Read a code"),
    body: [el("p", {}, t("Hold the camera over the code until it is read.")), video, other],
    closed: () => {
      open = false;
      off();
    },
  };
}
