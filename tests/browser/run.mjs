// The web app as a person meets it: the program, a browser, and every screen. `node tests/browser/run.mjs [WORDS]`
//   runs the facts whose name holds WORDS (or, of `one|other`, one of them), all without. FOOTRING_BIN names the program, CHROMIUM the browser.
// SPDX-License-Identifier: Apache-2.0
import { runAll } from './harness.mjs';
import './whole_way.mjs';
import './photographs.mjs';
import './years.mjs';
import './care.mjs';
import './keyboard.mjs';
import './states.mjs';
import './papers.mjs';
import './site.mjs';
import './editing.mjs';
import './everywhere.mjs';
import './together.mjs';

await runAll();
