<<<<<<< HEAD
// A text as a QR code (ISO/IEC 18004), as picture for a screen, a printer and a file.
import { encode } from "uqr";
import { t } from "../words";
import type { QrCode } from "./codec-types";

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
        canvas.toBlob((blob) => (blob ? done(blob) : fail(new Error(t("This browser could not make the picture."))))));
    },
  };
=======
// Links as QR codes (ISO/IEC 18004). Part of what the page loads later: it may import nothing that has a
// state.
import encode from "qr";

// The standard goes up to version 40, 177 modules wide. On a card or a screen 6 cm wide, 117 modules and
// the quiet zone leave 0.48 mm a module; much below 0.4 mm a phone's camera at arm's length no longer tells
// them apart (common practice, no source). So version 25 is the most: 1273 bytes with the lowest error
// correction, which is nearly twice an ordinary link.
const mostBytes = 1273;
// Up to version 15, where modules are large enough, more of the code may be dirty or hidden.
const widestMedium = 17 + 4 * 15;

// Four light modules all round, as the standard wants.
const quiet = 4;

// Rows of dark and light with the quiet zone, or undefined when the link is too long for a phone (load.ts
// has the sentence).
export function qrModules(link: string): boolean[][] | undefined {
  if (new TextEncoder().encode(link).length > mostBytes) return undefined;
  const medium = encode(link, "raw", { ecc: "medium", border: quiet, encoding: "byte" });
  if (medium.length <= widestMedium + 2 * quiet) return medium;
  return encode(link, "raw", { ecc: "low", border: quiet, encoding: "byte" });
}

// Dark on white whatever the page's colours are: many cameras read no other. Undefined: too long.
export function qrSvg(link: string, name: string): string | undefined {
  const code = qrModules(link);
  if (!code) return undefined;
  const size = code.length;
  let path = "";
  code.forEach((row, y) => {
    for (let x = 0; x < row.length; ++x) {
      if (!row[x]) continue;
      const from = x;
      while (row[x + 1]) ++x;
      path += `M${from} ${y}h${x + 1 - from}v1h-${x + 1 - from}z`;
    }
  });
  const title = name.replace(/[&<>"]/g, (c) => `&#${c.charCodeAt(0)};`);
  return (
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${size} ${size}" role="img" aria-label="${title}" ` +
    `shape-rendering="crispEdges"><path fill="#fff" d="M0 0h${size}v${size}H0z"/><path fill="#000" d="${path}"/></svg>`
  );
}

// The same as a picture to send or to print, some `wide` pixels wide: a module is a whole number of them.
export async function qrPng(link: string, wide = 1000): Promise<Blob | undefined> {
  const code = qrModules(link);
  if (!code) return undefined;
  const scale = Math.max(1, Math.round(wide / code.length));
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = scale * code.length;
  const to = canvas.getContext("2d")!;
  to.fillStyle = "#fff";
  to.fillRect(0, 0, canvas.width, canvas.height);
  to.fillStyle = "#000";
  code.forEach((row, y) =>
    row.forEach((dark, x) => dark && to.fillRect(x * scale, y * scale, scale, scale)),
  );
  return new Promise((resolve) => canvas.toBlob((blob) => resolve(blob ?? undefined), "image/png"));
>>>>>>> work-hand
}
