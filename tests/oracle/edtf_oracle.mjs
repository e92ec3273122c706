// SPDX-License-Identifier: Apache-2.0
// Compares the reading of dates with npm edtf 4.11.1 on 10,000 generated strings and on the examples of the
// specification: is it a date, its first and its last day. Where the two differ, the text must meet a departure of
// theirs that edtf_departures.mjs names, and ours must be what that page works out by another route.
// usage: node edtf_oracle.mjs [EDTF_LINES]; the last line is `N passed, N failed`
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

import edtf from 'edtf';

import { expected, names } from './edtf_departures.mjs';
import { strings } from './edtf_strings.mjs';

process.env.TZ = 'UTC';  // a time without a zone is local to them
const kCount = 10000, kSeed = 20190204;
const kFewestAgreeing = 0.7;  // of the strings without any departure; fewer, and the generator no longer tests much

const root = process.env.FOOTRING_ROOT ?? resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const bin = process.env.FOOTRING_BIN ? dirname(process.env.FOOTRING_BIN) : resolve(root, 'build/test/bin');
const program = process.argv[2] ?? resolve(bin, 'edtf_lines');

// The days on which their first and last millisecond lie. null: no limit on that side, which they give as an infinity
// (open) or as null (unknown; printed as a date, that null is the first day of 1970).
function ask(text) {
    let date;
    try {
        date = edtf(text);
    } catch {
        return { valid: false };
    }
    const day = (time) => {
        if (time === null || Math.abs(time) === Infinity) return null;
        if (Number.isNaN(time)) return 'beyond their calendar';
        const [, sign, year, month, date] = /^([+-]?)(\d+)-(\d\d)-(\d\d)T/.exec(new Date(time).toISOString());
        return `${sign === '-' ? '-' : ''}${Number(year)}-${month}-${date}`;
    };
    return { valid: true, earliest: day(date.min), latest: day(date.max) };
}

const agree = (a, b) => a.valid === b.valid && (!a.valid || (a.earliest === b.earliest && a.latest === b.latest));

function ours(texts) {
    const run = spawnSync(program, { input: texts.join('\n') + '\n', encoding: 'utf8', maxBuffer: 1 << 28 });
    process.stderr.write(run.stderr ?? '');
    const lines = (run.stdout ?? '').trim().split('\n');
    if (run.status !== 0 || lines.length !== texts.length) {
        console.log(`FAILED ${program} read ${lines.length} of ${texts.length} lines and ended with ${run.status}`);
        console.log('0 passed, 1 failed');
        process.exit(1);
    }
    return lines.map((line) => JSON.parse(line));
}

// The third column of the table of facts, which may be quoted.
const examples = ['valid', 'invalid'].flatMap((kind) =>
    readFileSync(resolve(root, `tests/facts/edtf_${kind}.csv`), 'utf8').trim().split('\n').slice(1)
        .map((line) => line.match(/("[^"]*"|[^,]*)(,|$)/g).map((field) => field.replace(/,$/, '').replace(/^"|"$/g, ''))[kind === 'valid' ? 2 : 0]));

let passed = 0, failed = 0;
const check = (name, holds, detail) => {
    if (holds) ++passed;
    else ++failed, console.log(`FAILED ${name}\n    ${detail}`);
};

if (!existsSync(program)) {
    console.log(`FAILED ${program} is missing: build the target edtf_lines`);
    console.log('0 passed, 1 failed');
    process.exit(1);
}
const texts = [...new Set([...strings(kCount, kSeed), ...examples])];
const answers = ours(texts);
const met = new Map(names.map((name) => [name, 0]));
let agreeing = 0;
texts.forEach((text, i) => {
    const theirs = ask(text), our = answers[i];
    if (agree(our, theirs)) {
        ++agreeing, ++passed;
        return;
    }
    const right = expected(text, ask);
    for (const name of right.met) met.set(name, met.get(name) + 1);
    const seen = `ours ${JSON.stringify(our)}\n    theirs ${JSON.stringify(theirs)}\n    ` +
        (right.met.length ? `right, as they depart by "${right.met.join('", "')}": ${JSON.stringify(right.answer)}` : 'no departure of theirs holds');
    check(`'${text}' is read alike`, right.met.length > 0 && agree(our, right.answer), seen);
});
for (const [name, count] of met) check(`the departure "${name}" is still needed`, count > 0, 'no string met it: take it out');
check('most strings agree without any departure', agreeing >= kFewestAgreeing * texts.length, `${agreeing} of ${texts.length}`);

console.log(`${texts.length} strings; ${agreeing} agree as they are; the others by departure (a string may meet several):`);
for (const [name, count] of met) console.log(`${String(count).padStart(6)}  ${name}`);
console.log(`${passed} passed, ${failed} failed`);
process.exit(failed ? 1 : 0);
