// The last line of a run: how many passed and failed, for the runner that adds up all kinds of tests. What passed
// only on a second try is named, and is a failure when there are more of it than a slow machine explains.
import { readFileSync } from "node:fs";

const mostFlaky = 2;
// Tests about what is kept are tagged, and never tried again (playwright.config.mjs).
const kept = "@kept";

// Titles of tests whose own lines save something and load the page again.
function untagged(tests) {
  const titles = [];
  for (const file of new Set(tests.map(({ location }) => location.file))) {
    const lines = readFileSync(file, "utf8").split("\n");
    for (const test of tests.filter(({ location, tags }) => location.file === file && !tags.includes(kept))) {
      const from = test.location.line - 1;
      // To the end of its call, which closes no deeper than it began.
      const indent = /^ */.exec(lines[from])[0];
      const length = lines.slice(from + 1).findIndex((line) => line.startsWith(`${indent}});`)) + 1;
      const text = lines.slice(from, from + 1 + length).join("\n");
      if (/\bsaved\(/.test(text) && /\.reload\(/.test(text)) titles.push(test.title);
    }
  }
  return titles;
}

export default class Count {
  #results = new Map();
  #wrong = [];

  onBegin(_config, suite) {
    const tests = suite.allTests();
    this.#wrong.push(...untagged(tests).map((title) => `saves and reloads, but is not tagged ${kept}: ${title}`));
    const again = tests.filter(({ tags, retries }) => tags.includes(kept) && retries > 0);
    this.#wrong.push(...again.map(({ title }) => `is tagged ${kept}, but would be tried again: ${title}`));
  }
  onTestEnd(test, result) {
    this.#results.set(test.id, { title: test.title, status: result.status, again: result.retry > 0 });
  }
  printsToStdio() {
    return true;
  }
  async onEnd() {
    if (this.#flaky().length > mostFlaky || this.#wrong.length > 0) return { status: "failed" };
  }
  async onExit() {
    const all = [...this.#results.values()];
    const flaky = this.#flaky();
    for (const { title } of flaky) console.log(`passed on a second try only: ${title}`);
    const count = (status) => all.filter((each) => each.status === status).length;
    for (const each of this.#wrong) console.log(each);
    const wrong = (flaky.length > mostFlaky ? flaky.length : 0) + this.#wrong.length;
    const passed = count("passed") - wrong;
    console.log(`web: ${passed} passed, ${all.length - passed - count("skipped")} failed`);
  }
  #flaky() {
    return [...this.#results.values()].filter(({ status, again }) => again && status === "passed");
  }
}
