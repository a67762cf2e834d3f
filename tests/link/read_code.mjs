// Reads the code in a PNG by ZBar, which shares nothing with what makes it. Undefined when there is none to read.
import { spawnSync } from "node:child_process";

export function readCode(png) {
  const asked = ["--quiet", "--raw", "--nodbus", "-Sdisable", "-Sqrcode.enable", "png:-"];
  const { status, stdout, error } = spawnSync("zbarimg", asked, { input: png, encoding: "utf8" });
  if (error) throw error;
  return status === 0 ? stdout.replace(/\n$/, "") : undefined;
}
