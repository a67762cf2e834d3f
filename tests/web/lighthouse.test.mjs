// What Lighthouse says of the page on a phone. Its performance is for tests/bench/run: how long a busy machine takes
// says little of the page.
import { least, scores } from "../bench/lighthouse.mjs";
import { expect, test } from "./harness.mjs";

const { performance: _, ...wanted } = least;

for (const face of ["drawn", "plain"])
  test(`Lighthouse finds nothing wanting in the ${face} face on a first visit`, async ({ site }) => {
    test.setTimeout(120_000);
    const { scored, short } = await scores(site.url, face, Object.keys(wanted));
    expect(short).toEqual([]);
    expect(scored).toEqual(wanted);
  });
