import type { Reporter, TestModule } from 'vitest/node';

/** Ends a run with one plain line, `N passed, N failed, N skipped`, that any script can read. */
export default class ClosingLine implements Reporter {
  onTestRunEnd(modules: ReadonlyArray<TestModule>, unhandled: ReadonlyArray<unknown>): void {
    const count = { passed: 0, failed: unhandled.length, skipped: 0 };
    for (const module of modules) {
      // A module that could not be loaded has no tests to fail, yet it must not pass for an empty one.
      if (module.state() === 'failed' && module.errors().length > 0) count.failed += 1;
      for (const test of module.children.allTests()) {
        const state = test.result().state;
        if (state === 'passed' || state === 'failed' || state === 'skipped') count[state] += 1;
      }
    }
    const line = `${count.passed} passed, ${count.failed} failed, ${count.skipped} skipped\n`;
    // After the other reporters: theirs is printed in the same turn.
    process.once('exit', () => process.stdout.write(line));
  }
}
