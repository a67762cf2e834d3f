// The last line of a run: how many passed and failed, for the runner that adds up all kinds of tests.
export default class Count {
  #results = new Map();

  onTestEnd(test, result) {
    this.#results.set(test.id, result.status);
  }
  printsToStdio() {
    return true;
  }
  async onExit() {
    const all = [...this.#results.values()];
    const passed = all.filter((status) => status === "passed").length;
    const skipped = all.filter((status) => status === "skipped").length;
    console.log(`web: ${passed} passed, ${all.length - passed - skipped} failed`);
  }
}
