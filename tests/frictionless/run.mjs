// SPDX-License-Identifier: Apache-2.0
// Every pack under packs/ is a valid Tabular Data Package in the eyes of another implementation: its descriptor by the
// published profile, each row by its Table Schema, each foreign key. That the judge is awake is shown by spoilt copies.
//   usage: node run.mjs [FOLDER...]     prints `N passed, N failed`
import { createRequire } from 'node:module';
import { cpSync, existsSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const { Package } = createRequire(import.meta.url)('datapackage');
const packs = resolve(dirname(fileURLToPath(import.meta.url)), '../../packs');

// What is wrong with a pack; empty: nothing.
async function faultsOf(folder) {
    const faults = [];
    const pack = await Package.load(join(folder, 'datapackage.json'));
    if (!pack.valid) return pack.errors.map((error) => `datapackage.json: ${error.message}`);
    if (pack.profile.name !== 'tabular-data package') faults.push(`datapackage.json: the profile is ${pack.profile.name}`);
    for (const resource of pack.resources) {
        const told = (error) => {
            for (const one of error.errors?.length ? error.errors : [error])
                faults.push(`${resource.name}: ${one.message}${one.rowNumber ? ` (row ${one.rowNumber})` : ''}`);
        };
        if (!resource.tabular) { faults.push(`${resource.name}: it is not tabular`); continue; }
        try {
            const rows = await resource.read({ keyed: true });
            if (rows.length === 0) faults.push(`${resource.name}: it has no rows`);
        } catch (error) { told(error); continue; }
        try { await resource.checkRelations(); } catch (error) { told(error); }
    }
    return faults;
}

let passed = 0, failed = 0;
function hold(name, faults) {
    if (faults.length === 0) { passed += 1; return; }
    failed += 1;
    console.log(`FAILED ${name}`);
    for (const fault of faults.slice(0, 20)) console.log(`  ${fault}`);
}

const given = process.argv.slice(2).map((folder) => resolve(folder));
const folders = given.length ? given : readdirSync(packs)
    .map((name) => join(packs, name)).filter((folder) => existsSync(join(folder, 'datapackage.json')));
if (folders.length === 0) hold('there is a pack to judge', ['none under packs/']);
for (const folder of folders) hold(`${folder} is a valid Data Package`, await faultsOf(folder));

// Each spoils one thing of a sound pack; the judge has to say so, in these words.
const spoils = [
    ['a share of 1.5', 'treatment_ornaments.csv', 'share', '1.5', /^treatment_ornaments: The value "1.5" does not conform to the "maximum" constraint for column "share"/],
    ['a place that is in no list', 'treatment_ornaments.csv', 'place', 'rimm', /^treatment_ornaments: The value "rimm" does not conform to the "enum" constraint for column "place"/],
    ['a shape without its maker', 'shapes.csv', 'maker', 'nobody', /^shapes: Foreign key "maker" violation in row 2/],
    ['an ornament without a finish', 'ornaments.csv', 'finish', '', /^ornaments: The value "null" does not conform to the "required" constraint for column "finish"/],
    ['an id in capitals', 'glazes.csv', 'id', 'OAT', /^glazes: The value "OAT" does not conform to the "pattern" constraint for column "id"/],
    ['a length in words', 'shape_forms.csv', 'length_mm', 'long', /^shape_forms: The value "long" in column "length_mm" is not type "number"/],
];
if (folders.length > 0) {
    for (const [name, file, column, value, wanted] of spoils) {
        const copy = mkdtempSync(join(tmpdir(), 'footring-pack-'));
        try {
            cpSync(folders[0], copy, { recursive: true });
            const lines = readFileSync(join(copy, file), 'utf8').split('\n');
            const cells = lines[1].split(',');  // the first row's cells before the spoilt one hold no comma
            cells[lines[0].split(',').indexOf(column)] = value;
            lines[1] = cells.join(',');
            writeFileSync(join(copy, file), lines.join('\n'));
            const faults = await faultsOf(copy);
            hold(`the judge sees ${name}`, faults.some((fault) => wanted.test(fault)) ? [] : ['it said:', ...faults]);
        } finally { rmSync(copy, { recursive: true }); }
    }
}
console.log(`${passed} passed, ${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
