// Runs the terminal face, which knows all that the lines declare. `face`: its command and arguments.
import { spawnSync } from "node:child_process";

export function run(face, args, input) {
  const { status, stdout, stderr } = spawnSync(face[0], [...face.slice(1), ...args], { input, encoding: "utf8", maxBuffer: 1 << 28 });
  if (status !== 0) throw new Error(`wetsleeve ${args.join(" ")}: status ${status}\n${stderr}${stdout.slice(0, 400)}`);
  return stdout;
}
