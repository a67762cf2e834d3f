// The last line of a run: how many passed and failed, for the runner that adds up all kinds of tests. What passed
// only on a second try is named, and is a failure when there are more of it than a slow machine explains.
import { kept } from "./harness.mjs";

const mostFlaky = 2;

export default class Count {
  #results = new Map();
  #wrong = [];

  onBegin(_config, suite) {
    const again = suite.allTests().filter(({ tags, retries }) => tags.includes(kept) && retries > 0);
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
