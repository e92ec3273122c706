// The last line of every test run, alike in all the project's languages: "N passed, N failed".
// SPDX-License-Identifier: Apache-2.0
import type { Reporter, TestModule } from 'vitest/node';

export default class Counts implements Reporter {
  onTestRunEnd(modules: readonly TestModule[]): void {
    let passed = 0;
    let failed = 0;
    for (const module of modules) {
      if (module.state() === 'failed' && module.errors().length > 0) failed += 1;
      for (const test of module.children.allTests()) {
        const { state } = test.result();
        if (state === 'passed') passed += 1;
        if (state === 'failed') failed += 1;
      }
    }
    // after the default reporter has written its summary
    setTimeout(() => console.log(`${passed} passed, ${failed} failed`));
  }
}
