// The web app as a person meets it: the program, a browser, and every screen. `node tests/browser/run.mjs [WORDS]`
//   runs the facts whose name holds WORDS (or, of `one|other`, one of them), all without: the files are then shared out
//   among as many processes as there are processors, each with a program, a folder and a browser of its own.
//   FOOTRING_BIN names the program, CHROMIUM the browser.
// SPDX-License-Identifier: Apache-2.0
import { spawn } from 'node:child_process';
import { availableParallelism } from 'node:os';
import { fileURLToPath } from 'node:url';
import { runAll } from './harness.mjs';

// Those that take longest first: whoever is free takes the next.
const files = ['everywhere_wide', 'everywhere_narrow', 'states', 'whole_way', 'photographs', 'years', 'services', 'editing',
  'keyboard', 'care', 'worth', 'trust', 'site', 'letters', 'imports', 'together', 'papers'];

const here = fileURLToPath(import.meta.url);

/** Runs one file in a process of its own: what it said, and what it counted. */
function apart(file) {
  return new Promise((done) => {
    const one = spawn(process.execPath, [here, '--file', file], { stdio: ['ignore', 'pipe', 'inherit'] });
    let said = '';
    one.stdout.on('data', (chunk) => { said += chunk; });
    one.on('close', () => {
      const count = /^(\d+) passed, (\d+) failed$/m.exec(said);
      done({ said: said.replace(/^\d+ passed, \d+ failed\n/m, ''), passed: Number(count?.[1] ?? 0), failed: Number(count?.[2] ?? 1) });
    });
  });
}

async function allApart() {
  const waiting = [...files];
  const faults = [];
  let passed = 0;
  let failed = 0;
  const work = async () => {
    for (let file = waiting.shift(); file; file = waiting.shift()) {
      const result = await apart(file);
      console.log(`== ${file}: ${result.passed} passed of ${result.passed + result.failed}\n${result.said}`);
      passed += result.passed;
      failed += result.failed;
      faults.push(...(result.said.match(/^FAILED .*\n(?: {8}.*\n)*/gm) ?? []));
    }
  };
  await Promise.all(Array.from({ length: availableParallelism() }, work));
  // once more at the end: whoever reads the end of a long log reads these
  if (faults.length) console.log(`== what failed\n${faults.join('')}`);
  console.log(`${passed} passed, ${failed} failed`);
  process.exitCode = failed === 0 && passed > 0 ? 0 : 1;
}

const [first, file] = process.argv.slice(2);
if (first === undefined) {
  await allApart();
} else {
  for (const one of first === '--file' ? [file] : files) await import(`./${one}.mjs`);
  await runAll(first === '--file' ? '' : first);
}
