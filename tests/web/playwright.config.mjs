// How the browser tests run. `npm --prefix web test` starts them on the site in build/site.
import { defineConfig, kept } from "./harness.mjs";

export default defineConfig({
  testDir: ".",
  testMatch: "*.test.mjs",
  outputDir: "../../build/web-tests",
  // A machine of two cores draws WebGL by software, but every other test waits half of its time.
  workers: 3,
  fullyParallel: true,
  // The tests are what runs: nothing is translated, and no stack has to be told in other words (harness.mjs).
  build: { external: ["**/*"] },
  timeout: 120_000,
  expect: { timeout: 10_000 },
  forbidOnly: Boolean(process.env.CI),
  // A stalled machine is no wrong page: in continuous integration what fails is tried once more. What passes only then is
  // named, and more than a few of it fail (count.mjs). Where something is to be kept there is no second try: once lost
  // is lost. Half of what a browser does for a new page is to put all its files by for later: the others do without, but
  // where a file says that it is about that.
  projects: [
    { name: "kept", grep: new RegExp(kept), retries: 0 },
    { name: "other", grepInvert: new RegExp(kept), retries: process.env.CI ? 1 : 0, use: { serviceWorkers: "block" } },
  ],
  reporter: [["list"], ["./count.mjs"]],
});
