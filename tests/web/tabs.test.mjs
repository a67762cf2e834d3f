// Two and three tabs worked at random (tabs.mjs). WETSLEEVE_ACTS says how many acts, WETSLEEVE_SEED by which seed;
// WETSLEEVE_TELL tells each.
import { test } from "./harness.mjs";
import { work } from "./tabs.mjs";

const acts = Number(process.env.WETSLEEVE_ACTS ?? 150);
const seed = Number(process.env.WETSLEEVE_SEED ?? 1);

for (const tabs of [2, 3])
  test(`${tabs} tabs worked at random keep all that was acknowledged, and show the same`, { tag: "@kept" }, async ({ context, site }) => {
    test.setTimeout(60_000 + acts * 2_000);
    const counts = await work(context, site, { seed, acts, tabs, told: process.env.WETSLEEVE_TELL ? console.log : undefined });
    console.log(`${tabs} tabs: ${JSON.stringify(counts)}`);
  });
