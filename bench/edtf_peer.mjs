// SPDX-License-Identifier: Apache-2.0
// usage: node bench/edtf_peer.mjs --strings     prints the dates that both read, one a line
//        node bench/edtf_peer.mjs FILE          reads them with npm edtf for two seconds; prints {"dates_per_second": N},
//                                               of processor time, as Google Benchmark counts ours
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '..');
const from = createRequire(resolve(root, 'tests/oracle/package.json'));
const loaded = await import(pathToFileURL(from.resolve('edtf')).href);
const edtf = typeof loaded.default === 'function' ? loaded.default : loaded.default.default;

// One line of the table of tests/facts; cells have no line breaks.
function cells(line) {
    return [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map(([, cell]) => cell.replace(/^"|"$/g, '').replaceAll('""', '"'));
}

if (process.argv[2] === '--strings') {
    const [head, ...rows] = readFileSync(resolve(root, 'tests/facts/edtf_valid.csv'), 'utf8').trim().split('\n').map(cells);
    for (const row of rows) {
        const date = row[head.indexOf('string')];
        try {
            edtf(date);
            console.log(date);
        } catch { /* only what both read */ }
    }
} else {
    const dates = readFileSync(process.argv[2], 'utf8').trim().split('\n');
    const run = () => { for (const date of dates) edtf(date); return dates.length; };
    for (const until = performance.now() + 1000; performance.now() < until;) run();  // let the compiler warm up
    const begun = performance.now();
    const worked = process.cpuUsage();
    let read = 0;
    while (performance.now() - begun < 2000) read += run();
    console.log(JSON.stringify({ dates_per_second: read / (process.cpuUsage(worked).user / 1e6) }));
}
