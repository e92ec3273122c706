// SPDX-License-Identifier: Apache-2.0
// Allotments against HiGHS: 200 generated cases are allotted by the program, and solved again here from what each piece
// may do. The program here is another one: a 0-1 variable for every piece at every line, and none of our classes.
// Equal values of every goal, in order. Ends with `N passed, N failed`.
import highsLoader from 'highs';
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { dirname, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const bin = dirname(process.env.FOOTRING_BIN ?? resolve(root, 'build/test/bin/footring'));
const program = resolve(bin, 'allot_cases');
const kCases = 200, kSeed = 20;

let passed = 0, failed = 0;
const check = (name, holds, detail) => {
    if (holds) ++passed;
    else ++failed, console.log(`FAILED ${name}\n    ${detail}`);
};
const end = () => { console.log(`${passed} passed, ${failed} failed`); process.exit(failed === 0 ? 0 : 1); };

if (!existsSync(program)) {
    check('the cases are there', false, `${program} is missing: build the target allot_cases`);
    end();
}
const run = spawnSync(program, [String(kCases), String(kSeed)], { encoding: 'utf8', maxBuffer: 1 << 28 });
const cases = (run.stdout ?? '').trim().split('\n').filter(Boolean).map((line) => JSON.parse(line));
check('every case was allotted', run.status === 0 && cases.length === kCases, run.stderr);

const highs = await highsLoader();
const sum = (terms) => terms.filter(([, value]) => value !== 0).map(([name, value]) => `${value < 0 ? '-' : '+'} ${Math.abs(value)} ${name}`).join(' ');

// The rows and columns of one case, and its goals as [name, sense, terms].
function model({ objective, budget, services, pieces }) {
    const rows = [], binary = [], whole = [], bounds = [], at = new Map(), sizes = new Map();
    pieces.forEach((fits, i) => {
        const own = [];
        for (const [s, l, size] of fits) {
            const name = `x_${i}_${s}_${l}`;
            binary.push(name);
            own.push([name, 1]);
            const line = `${s}_${l}`;
            if (!at.has(line)) at.set(line, []), sizes.set(line, new Map());
            at.get(line).push([name, 1]);
            const same = sizes.get(line);
            if (!same.has(size)) same.set(size, []);
            same.get(size).push(name);
        }
        if (own.length > 0) rows.push(`${sum(own)} <= 1`);
    });
    // What could be bought for a line is of a form and trade size as well; one is chosen for all that stands there.
    if (objective === 'purchase') services.forEach(({ lines }, s) => lines.forEach((line, l) => line.offers.forEach(([size]) => {
        const at_line = `${s}_${l}`;
        if (!sizes.has(at_line)) sizes.set(at_line, new Map());
        if (!sizes.get(at_line).has(size)) sizes.get(at_line).set(size, []);
    })));
    for (const [line, same] of sizes) {
        if (same.size < 2) continue;
        const chosen = [...same.keys()].map((size) => [`z_${line}_${size}`, 1]);
        binary.push(...chosen.map(([name]) => name));
        rows.push(`${sum(chosen)} <= 1`);
        for (const [size, names] of same) for (const name of names) rows.push(`${name} - z_${line}_${size} <= 0`);
    }
    const settings = [], services_whole = [], value = [], serving = [], bought = [], money = [];
    services.forEach(({ settings: count, weight, setting_value: given, lines }, s) => {
        if (lines.some((line) => line.in_setting)) whole.push(`S_${s}`), bounds.push(`0 <= S_${s} <= ${count}`), settings.push([`S_${s}`, weight]);
        binary.push(`W_${s}`);
        services_whole.push([`W_${s}`, weight]);
        let worth = 0;
        lines.forEach((line, l) => {
            const filled = [...(at.get(`${s}_${l}`) ?? [])];
            for (const [size, price] of objective === 'purchase' ? line.offers : []) {
                const name = `b_${s}_${l}_${size}`;
                whole.push(name);
                bounds.push(`0 <= ${name} <= ${line.places}`);
                filled.push([name, 1]);
                bought.push([name, 1]);
                money.push([name, price]);
                if (sizes.get(`${s}_${l}`).size > 1) rows.push(`${name} - ${line.places} z_${s}_${l}_${size} <= 0`);
            }
            if (filled.length > 0) rows.push(`${sum(filled)} <= ${line.places}`);
            rows.push(`${sum([...filled, [`W_${s}`, -line.places]])} >= 0`);
            if (line.in_setting) {
                rows.push(`${sum([...filled, [`S_${s}`, -line.count]])} >= 0`);
                worth += line.count * (line.price ?? 0);
            } else {
                for (const [name] of filled) value.push([name, weight * (line.price ?? 0)]), serving.push([name, 1]);
            }
        });
        if (settings.some(([name]) => name === `S_${s}`)) {
            rows.push(`S_${s} - ${count} W_${s} >= 0`);
            value.push([`S_${s}`, weight * (given ?? worth)]);
        }
    });
    if (budget !== null && money.length > 0) rows.push(`${sum(money)} <= ${budget}`);
    const goals = {
        settings: [['complete settings', 'Maximize', settings]],
        services: [['whole services', 'Maximize', services_whole], ['complete settings', 'Maximize', settings]],
        value: [['value', 'Maximize', value]],
        purchase: [['complete settings', 'Maximize', settings], ['serving places', 'Maximize', serving],
            ['pieces bought', 'Minimize', bought], ['money spent', 'Minimize', money]],
    }[objective];
    return { rows, binary, whole, bounds, goals };
}

let pieces = 0;
cases.forEach((one, n) => {
    const { rows, binary, whole, bounds, goals } = model(one);
    pieces += one.pieces.length;
    const kept = [];
    const theirs = goals.map(([, sense, terms]) => {
        if (terms.every(([, value]) => value === 0)) return 0;
        const text = `${sense}\n obj: ${sum(terms)}\nSubject To\n${[...rows, ...kept].map((row, i) => ` r${i}: ${row}`).join('\n')}\n`
            + `Bounds\n${bounds.map((bound) => ` ${bound}`).join('\n')}\nGeneral\n ${whole.join(' ')}\nBinary\n ${binary.join(' ')}\nEnd\n`;
        const solved = highs.solve(text, { mip_rel_gap: 0, mip_abs_gap: 1e-9 });
        if (solved.Status !== 'Optimal') return `${solved.Status}`;
        const best = solved.ObjectiveValue;
        kept.push(`${sum(terms)} ${sense === 'Maximize' ? '>=' : '<='} ${best + (sense === 'Maximize' ? -1e-6 : 1e-6)}`);
        return best;
    });
    const ours = one.goals.map(({ value }) => value);
    check(`case ${n} (${one.objective}) is as good as HiGHS has it`,
        one.proved && ours.length === theirs.length && ours.every((value, i) => Math.abs(value - theirs[i]) < 1e-4),
        `ours ${JSON.stringify(one.goals)}, theirs ${JSON.stringify(theirs)}, proved ${one.proved}`);
});
const reached = cases.filter(({ goals }) => goals[0].value > 0).length;
check('most cases have something to reach', reached > kCases / 2, `${reached} of ${kCases}`);
console.log(`${cases.length} cases with ${pieces} pieces`);
end();
