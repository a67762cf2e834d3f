// A text as a QR code (ISO/IEC 18004), as picture for a screen, a printer and a file.
import { encode } from "uqr";
import { t } from "../base/words";

export interface QrCode {
  modules: number; // small squares along one side, without the white around
  svg: string; // black on white, with the white around that readers want
  png(): Promise<Blob>;
}

const quiet = 4; // modules of white around, as the standard asks for
// A phone of a hand's breadth shows 0.4 mm a module at this size; smaller ones are a trial for cameras.
const mostModules = 117; // version 25
const pngModule = 8; // pixels

export function qrCode(text: string): QrCode {
  let code;
  try {
    code = encode(text, { ecc: "L", border: 0, maxVersion: (mostModules - 17) / 4 });
  } catch {
    throw new Error(t("This link is too long for a code that a phone can read: choose fewer things, or shorten notes. The link itself can be sent."));
  }
  const modules = code.size;
  const all = modules + 2 * quiet;
  const bars: string[] = []; // runs of dark modules
  code.data.forEach((row, y) => {
    for (let x = 0; x < modules; ++x) {
      const from = x;
      while (row[x]) ++x;
      if (x > from) bars.push(`M${from + quiet} ${y + quiet}h${x - from}v1h${from - x}z`);
    }
  });
  // Dark on white in every look: many readers take nothing else.
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${all} ${all}" shape-rendering="crispEdges"><path fill="#fff" d="M0 0h${all}v${all}H0z"/><path fill="#000" d="${bars.join("")}"/></svg>`;
  return {
    modules,
    svg,
    png: () => {
      const canvas = document.createElement("canvas");
      canvas.width = canvas.height = all * pngModule;
      const context = canvas.getContext("2d")!;
      context.fillStyle = "#fff";
      context.fillRect(0, 0, canvas.width, canvas.height);
      context.fillStyle = "#000";
      context.scale(pngModule, pngModule);
      context.fill(new Path2D(bars.join("")));
      return new Promise((done, fail) =>
        canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error(t("This browser could not make the picture."))))),
      );
    },
  };
}
