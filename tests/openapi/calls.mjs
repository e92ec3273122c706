// SPDX-License-Identifier: Apache-2.0
// The calls that exercise every operation of the document: what succeeds, and how each refuses.
//   call(operationId, {values, query, body, bytes, type, headers, status}) holds the answer to the document;
//   `status` is the expected one when it is not the operation's success.
//   To add an operation: add its calls here; run.mjs fails while one is missing.

import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const folders = ['demo/photos/shown', 'demo/cupboard/photos'].map((folder) => join(root, folder)).filter((folder) => existsSync(folder));

const plate = {
    id: 'p-openapi', form: 'dinner-plate', shape: { value: 'harrow', sure: 'likely' }, glaze: { value: 'oat' },
    looks: [{ place: 'rim', value: 'fern-pair', sure: 'sure' }, { place: 'edge', value: 'none' }], wear: 'light',
    mark: { value: 'none' }, number: { value: '1?7', sure: 'guess' }, faults: 'few', length_mm: 250,
};
// Photographs of the demo, by what they show; their truth lies beside them.
const truthOf = (file) => file.replace(/\.jpg$/, '.json');
const photographsOf = (fits) => folders
    .flatMap((folder) => readdirSync(folder).sort().map((name) => join(folder, name)))
    .filter((file) => file.endsWith('.jpg') && existsSync(truthOf(file)) && fits(JSON.parse(readFileSync(truthOf(file), 'utf8'))))
    .map((file) => [basename(file), readFileSync(file)]);
const decoratedFront = ({ side, kind, border, card, tilt_deg, low_contrast }) =>
    side === 'front' && kind === 'round' && border?.present && card && tilt_deg < 25 && !low_contrast;
const markedBack = ({ side, mark }) => side === 'back' && Boolean(mark);

// 3 x 2 pixels.
const png = Buffer.from('89504e470d0a1a0a0000000d49484452000000030000000208020000001216f14d0000001049444154789c6338b1'
    + 'a5028218e02c0077240bb923d042df0000000049454e44ae426082', 'hex');

// A workbook of one cell, as ODS.
const workbook = Buffer.from('UEsDBBQAAAAIAECXeV1ubpT5XQAAAL8AAAALAAAAY29udGVudC54bWyzSVGoyM3JK7bKT0vLTE61VcpXggqUJCblAPklcH5qRYmtUoWSnQ1YBi'
    + 'KvAGHnJeYClfpkFpegSusW5ZejCiSn5uQARYBmWRXYZabY6EOZQAaGKn0Mk5BFgLwUOwBQSwECFAMUAAAACABAl3ldbm6U+V0AAAC/AAAACwAA'
    + 'AAAAAAAAAAAAgAEAAAAAY29udGVudC54bWxQSwUGAAAAAAEAAQA5AAAAhgAAAAAA', 'base64');

export async function calls(call, hold) {
    await program(call);
    await bench(call);
    await dating(call, hold);
    await care(call, hold);
    await book(call);
    await editing(call, hold);
    await cupboard(call, hold);
    await photographs(call, hold);
    await services(call, hold);
    await reexaminations(call, hold);
    await papers(call, hold);
    await files(call, hold);
    await letters(call, hold);
    await sales(call, hold);
    await worth(call, hold);
    await backups(call, hold);
    await door(call);
}

async function backups(call, hold) {
    const { value: made } = await call('makeBackup');
    hold('the backup holds the demo', made.holds.pieces > 100 ? '' : JSON.stringify(made));
    const { value } = await call('backups');
    hold('the pieces are in a folder', value.in_database === false ? '' : JSON.stringify(value));
    hold('it is in the list', value.rows.some((row) => row.name === made.name) ? '' : JSON.stringify(value));
    await call('checkBackup', { values: { name: made.name } });
    await call('checkBackup', { values: { name: '../footring.db' }, status: 404 });
    const { value: before } = await call('pieces', { query: { limit: 0 } });
    await call('addPiece', { body: { piece: { id: 'p-after-the-backup' }, revision: 0 } });
    const { value: done } = await call('restoreBackup', { values: { name: made.name } });
    hold('what was there before is kept', done.kept?.startsWith('before-') ? '' : JSON.stringify(done));
    const { value: after } = await call('pieces', { query: { limit: 0 } });
    hold('the backup is back', after.total === before.total ? '' : `${after.total}, not ${before.total}`);
    await call('piece', { values: { id: 'p-after-the-backup' }, status: 404 });
}

async function program(call) {
    await call('alive');
    await call('door');
    await call('people');
    await call('signIn', { body: { name: 'ada', password: 'x' }, status: 400 });
    await call('health');
    await call('settings');
    await call('document');
}

async function bench(call) {
    await call('examine', { body: { piece: plate } });
    await call('examine', { body: { piece: { id: 'p-empty' } } });
    await call('examine', { body: { piece: { ...plate, glaze: { value: 'none such' } } }, status: 400 });
    await call('examine', { body: {}, status: 400 });
    await call('apart', { body: { form: 'dinner-plate', treatments: ['t-117', 't-617', 't-104'] } });
    await call('apart', { body: { treatments: ['t-117', 't-617'] } });
    await call('apart', { body: { treatments: ['t-117', 't-nowhere'] }, status: 404 });
    await call('key', { query: { shape: 'harrow', form: 'dinner-plate' } });
    await call('key', { query: { shape: 'nowhere' }, status: 404 });
    await call('glyphOfPiece', { body: { piece: plate, picked_out: ['rim'] } });
    await call('glyphOfPiece', { body: { piece: plate, picked_out: ['nose'] }, status: 400 });
    const drawn = await call('glyphOfTreatment', { values: { id: 't-117' }, query: { form: 'sugar', picked_out: 'rim,lid' } });
    await call('glyphOfTreatment', {
        values: { id: 't-117' }, query: { form: 'sugar', picked_out: 'rim,lid' }, status: 304,
        headers: { 'If-None-Match': drawn.headers.get('etag') },
    });
    await call('glyphOfTreatment', { values: { id: 't-nowhere' }, status: 404 });
    await call('rimStrip', { values: { ornament: 'fern-pair' } });
    await call('rimStrip', { values: { ornament: 'nothing' }, status: 404 });
    await call('drawing', { values: { ornament: 'fern-pair' } });
    await call('drawing', { values: { ornament: 'nothing' }, status: 404 });
}

async function dating(call, hold) {
    for (const of of ['ornament:fern-pair', 'shape:harrow', 'maker:kettlewharf', 'glaze:oat', 'treatment:t-117', 'cupboard']) {
        const { value } = await call('years', { query: { of } });
        hold(`${of} has lanes`, value.lanes.length > 0 ? '' : JSON.stringify(value));
    }
    const alone = (await call('years', { query: { of: 'ornament:fern-pair', pieces: false } })).value;
    hold('years without pieces have none', alone.pieces.length === 0 ? '' : `${alone.pieces.length} pieces`);
    await call('years', { query: { of: 'ornament:nothing' }, status: 404 });
    await call('years', { query: { of: 'lot:nothing' }, status: 404 });
    await call('years', { query: { of: 'form:sugar' }, status: 400 });
    await call('years', { status: 400 });
    const dated = (await call('date', { body: { piece: plate, clues: ['MADE IN OCCUPIED JAPAN'] } })).value;
    hold('a clue is one of the statements',
        dated.statements.some(({ subject }) => subject === 'wording occupied-japan') ? '' : JSON.stringify(dated.statements));
    await call('date', { body: { piece: { id: 'p-empty' } } });
    await call('date', { body: { piece: { ...plate, shape: { value: 'none such' } } }, status: 400 });
    const found = (await call('clues', { body: { text: 'Rd No 424100\nENGLAND' } })).value;
    hold('an underside tells of clues', found.clues.length >= 2 ? '' : JSON.stringify(found));
    await call('clues', { body: { text: '' }, status: 400 });
    await call('code', { body: { scheme: 'registration-diamond', text: 'IV K 5 2 R' } });
    await call('code', { body: { scheme: 'registration-diamond', text: 'IV X 12 3 Q' }, status: 400 });
    await call('code', { body: { scheme: 'no-scheme', text: 'A' }, status: 404 });
    await call('codeSchemes');
    await call('sequence', { query: { shape: 'harrow', number: '143,118' } });
    await call('sequence', { query: { shape: 'harrow', number: 'one' }, status: 400 });
    await call('unseen', { query: { shape: 'weir' } });
    await call('unseen', { query: { ornament: 'fern-pair', from: 101 } });
    await call('unseen', { query: { shape: 'nowhere' }, status: 404 });
    await call('assemblage', { body: { pieces: ['p-0041', 'p-0001'] } });
    await call('assemblage', { body: {} });
    await call('assemblage', { body: { pieces: ['p-none'] }, status: 404 });
}

async function care(call, hold) {
    const { cautions } = (await call('cautions', { body: { piece: plate } })).value;
    hold('gold is kept out of microwaves', cautions.some(({ id }) => id === 'metal-trim') ? '' : JSON.stringify(cautions));
    await call('cautions', { body: { piece: { ...plate, form: 'no form' } }, status: 400 });
    await call('cautionsOfKept', { values: { id: 'p-0041' } });
    await call('cautionsOfKept', { values: { id: 'p-none' }, status: 404 });
    await call('regimes');
    const units = [{ unit: 'A', lead_mg_per_l: 1.2, cadmium_mg_per_l: '<0.02' }, { unit: 'B', lead_mg_per_l: 4.5 }];
    await call('leach', { body: { depth_mm: 20, volume_ml: 300, category: 'table', units } });
    await call('leach', { body: { csv: 'unit,lead_mg_per_dm2\nA,0.4\n' } });
    await call('leach', { body: { units: [{ lead_mg_per_l: 'much' }] }, status: 400 });
    await call('leach', { body: { units, depth_mm: -1 }, status: 400 });
}

async function book(call) {
    await call('vocabulary');
    const { counts } = (await call('book')).value;
    for (const table of Object.keys(counts)) {
        const { rows } = (await call('table', { values: { table }, query: { limit: 1000 } })).value;
        for (const [at, row] of rows.entries())
            await call('row', { values: { table, id: row.id ?? String(at) } });
        await call('row', { values: { table, id: 'no-such-row' }, status: 404 });
    }
    await call('table', { values: { table: 'treatments' }, query: { q: 'harrow oat', limit: 3, offset: 1 } });
    await call('table', { values: { table: 'plates' }, status: 404 });
    await call('table', { values: { table: 'glazes' }, query: { limit: -1 }, status: 400 });
    await call('search', { query: { q: 'fern' } });
    await call('search', { query: { q: '117' } });
    await call('search');
}

async function editing(call, hold) {
    const { packs, tables } = (await call('editing')).value;
    const pack = packs[0].id;
    for (const { name } of tables) await call('editRows', { values: { pack, table: name }, query: { limit: 3 } });
    await call('editRows', { values: { pack, table: 'nowhere' }, status: 404 });
    const [row] = (await call('editRows', { values: { pack, table: 'treatments' }, query: { first: 't-117' } })).value.rows;
    const edit = (cells) => ({ pack, rows: [{ table: 'treatments', do: 'change', line: row.line, was: row.cells, cells }] });
    const faults = (await call('editBook', { query: { dry_run: true }, body: edit({ shape: 'nowhere' }) })).value.faults;
    hold('a fault names its row and column', faults[0]?.row === 0 && faults[0].column === 'shape' ? '' : JSON.stringify(faults));
    await call('editBook', { query: { dry_run: true }, body: { ...edit({ name: 'Gilt' }), show: { treatment: 't-117' } } });
    await call('editBook', { body: edit({ shape: 'nowhere' }), status: 400 });
    await call('editBook', { body: { pack: 'nowhere' }, status: 404 });
    const { change } = (await call('editBook', { body: edit({ name: 'Gilt' }) })).value;
    await call('editBook', { body: edit({ name: 'Gold' }), status: 409 });
    await call('bookChanges', { query: { limit: 5 } });
    await call('undoEdit', { values: { change }, body: {} });
    await call('undoEdit', { values: { change: 999 }, body: {}, status: 404 });
    await call('reloadPacks', { body: {} });
    await call('dateWords', { query: { text: '1931~/1940' } });
    await call('dateWords', { query: { text: 'about 1934' }, status: 400 });
}

async function reexaminations(call, hold) {
    await call('reexaminations');
    await call('reexamine', { body: {} });
    let now;
    do now = (await call('reexaminations')).value;
    while (now.state === 'running');
    hold('every piece was seen', now.state === 'done' && now.done === now.of ? '' : JSON.stringify({ ...now, changed: now.changed.length }));
    await call('stopReexamining');
    await call('settleReexamined', { values: { piece: 'p-none' }, body: { accept: false, revision: 1 }, status: 404 });
    const { rows } = (await call('pieces', { query: { decided: 'true', limit: 1 } })).value;
    const [{ piece, revision }] = rows;
    await call('settleReexamined', { values: { piece: piece.id }, body: { accept: false, revision } });
    await call('settleReexamined', { values: { piece: piece.id }, body: { accept: true }, status: 400 });
    const open = (await call('pieces', { query: { decided: 'false', limit: 1 } })).value.rows[0];
    await call('settleReexamined', { values: { piece: open.piece.id }, body: { accept: false, revision: open.revision } });
    await call('settleReexamined', { values: { piece: open.piece.id }, body: { accept: true, revision: open.revision }, status: 400 });
}

async function cupboard(call, hold) {
    const all = (await call('pieces', { query: { limit: 1000 } })).value;
    hold('the demo fills the Cupboard', all.total > 0 && all.rows.length === all.total ? '' : `${all.total} pieces`);
    await call('pieces', { query: { q: 'fern', form: 'dinner-plate', decided: 'true', sort: 'number', order: 'asc', limit: 5 } });
    await call('pieces', { query: { sort: 'price' }, status: 400 });
    await call('facets');

    const lot = (await call('addLot', { body: { name: 'Auction <3>', date: '2019-05~', cost: 12.5, currency: 'GBP' } })).value;
    await call('addLot', { body: { name: 'x', date: 'last year' }, status: 400 });
    await call('lots');
    const changed = (await call('changeLot', { values: { id: lot.id }, body: { ...lot, note: 'By weight.' } })).value;
    await call('changeLot', { values: { id: lot.id }, body: { ...lot, note: 'Late.' }, status: 409 });
    hold('a lot keeps what it was given', changed.note === 'By weight.' ? '' : JSON.stringify(changed));

    const added = (await call('addPiece', { body: { piece: plate, lot: lot.id, cost: 3, note: 'new' } })).value;
    await call('addPiece', { body: { piece: plate }, status: 409 });
    await call('addPiece', { body: { piece: { id: 'p-x', form: 'no form' } }, status: 400 });
    await call('removeLot', { values: { id: lot.id }, status: 409 });
    const id = added.piece.id;
    await call('piece', { values: { id } });
    await call('piece', { values: { id: 'p-none' }, status: 404 });
    const noted = (await call('changePiece', { values: { id }, body: { ...added, note: 'on the dresser' } })).value;
    await call('changePiece', { values: { id }, body: added, status: 409 });
    const decision = { treatment: 't-117', grade: 'first', date: '1931/1939', note: 'by the rim' };
    const decided = (await call('decide', { values: { id }, body: { ...decision, revision: noted.revision } })).value;
    hold('a decision keeps what the engine said', decided.attribution?.answer.piece === id ? '' : 'it does not');
    await call('decide', { values: { id }, body: { ...decision, revision: noted.revision }, status: 409 });
    await call('decide', { values: { id }, body: { treatment: 't-nowhere', revision: decided.revision }, status: 400 });
    await call('history', { values: { id } });
    await call('history', { values: { id: 'p-none' }, status: 404 });

    const bulk = (await call('changeMany', { body: { ids: [id, 'p-0001'], set: { place: 'Shelf 9' } } })).value;
    hold('a change of two pieces changes two', bulk.changed === 2 ? '' : JSON.stringify(bulk));
    await call('changeMany', { body: { ids: [id], remove: false }, status: 400 });
    await call('changeMany', { body: { ids: ['p-none'], remove: true }, status: 404 });
    await call('changes', { query: { limit: 5 } });
    await call('changes', { query: { limit: 0 }, status: 400 });
    const { newest } = (await call('news')).value;
    const news = (await call('news', { query: { after: newest - 1, wait: 1 } })).value;
    hold('news tells of what came after', news.changes.length === 1 && news.newest === newest ? '' : JSON.stringify(news));
    await call('news', { query: { wait: 26 }, status: 400 });
    await call('undoLatest');
    hold('undoing takes both back', (await call('piece', { values: { id } })).value.place === '' ? '' : 'it did not');
    const removed = (await call('changeMany', { body: { ids: [id], remove: true } })).value;
    await call('undo', { values: { batch: removed.batch } });
    await call('undo', { values: { batch: removed.batch }, status: 409 });
    await call('undo', { values: { batch: 99999999 }, status: 404 });
    await call('piece', { values: { id } });
    const empty = (await call('addLot', { body: { name: 'Empty' } })).value;
    await call('removeLot', { values: { id: empty.id } });
    await call('removeLot', { values: { id: empty.id }, status: 404 });
}

async function services(call, hold) {
    const tea = { id: 'tea-openapi', name: 'Tea for two', settings: 2, setting: [{ forms: ['cup'] }, { name: 'Saucer', forms: ['saucer'], count: 1 }], serving: [] };
    const composition = (await call('addComposition', { body: { composition: tea } })).value;
    await call('addComposition', { body: { composition: { ...tea, id: 'set-of-95' } }, status: 409 });
    await call('addComposition', { body: { composition: { id: 'nothing' } }, status: 400 });
    await call('compositions');
    await call('composition', { values: { id: 'service-for-8' } });
    await call('composition', { values: { id: 'none-such' }, status: 404 });
    await call('changeComposition', { values: { id: tea.id }, body: { composition: { ...tea, note: 'Small.' }, revision: composition.revision } });
    await call('changeComposition', { values: { id: tea.id }, body: { composition: tea, revision: composition.revision }, status: 409 });

    const service = { id: 'fern-openapi', treatments: ['t-117', 't-617'], composition: tea.id };
    const added = (await call('addService', { body: { service } })).value;
    hold('the places of a service are counted', added.places === 4 ? '' : JSON.stringify(added));
    await call('addService', { body: { service: { ...service, id: 'x', composition: 'nowhere' } }, status: 400 });
    await call('services');
    await call('service', { values: { id: service.id } });
    await call('service', { values: { id: 'none-such' }, status: 404 });
    const changed = (await call('changeService', { values: { id: service.id }, body: { service: { ...service, grades: 'mixed', note: 'For the bay window.' }, revision: added.revision } })).value;
    await call('changeService', { values: { id: service.id }, body: { service, revision: added.revision }, status: 409 });
    await call('whyServes', { values: { id: service.id, piece: 'p-0006' } });
    await call('whyServes', { values: { id: service.id, piece: 'p-none' }, status: 404 });
    await call('removeComposition', { values: { id: tea.id }, status: 409 });

    await call('allot', { body: { objective: 'beauty' }, status: 400 });
    await call('allot', { body: { objective: 'purchase', budget: -1 }, status: 400 });
    await call('allot', { body: { services: ['none-such'] }, status: 404 });
    const ended = async (body) => {
        let job = (await call('allot', { body })).value;
        while (['waiting', 'working'].includes(job.state)) job = (await call('allotment', { values: { id: job.id } })).value;
        hold(`an allotment of ${JSON.stringify(body)} is proved`, job.allotment?.proved ? '' : JSON.stringify(job));
        return job;
    };
    const first = await ended({});
    const second = await ended({ objective: 'purchase', budget: 30, services: [service.id], prices: [{ form: 'cup', price: 12 }] });
    await call('allotments');
    await call('allotment', { values: { id: 'a-none' }, status: 404 });
    await call('stopAllotment', { values: { id: first.id } });
    await call('laidTable', { values: { id: first.id, service: service.id } });
    await call('laidTable', { values: { id: first.id, service: 'none-such' }, status: 404 });
    const { value: wanted } = await call('wants', { values: { id: first.id } });
    hold('wants are priced by the sales', wanted.prices.currency === 'USD' && wanted.list.every((row) => row.low < row.price && row.price < row.high) ? '' : JSON.stringify(wanted.prices));
    const { value: given } = await call('wants', { values: { id: second.id } });
    hold('prices that are handed in go before estimates', given.prices.known && given.prices.basis === '' ? '' : JSON.stringify(given.prices));
    const bare = await ended({ services: [service.id], prices: [] });
    hold('no prices can be asked for', bare.allotment.prices.known ? JSON.stringify(bare.allotment.prices) : '');
    const pounds = await ended({ services: [service.id], objective: 'value', currency: 'GBP' });
    hold('another currency can be asked for', pounds.allotment.prices.currency === 'GBP' ? '' : JSON.stringify(pounds.allotment.prices));
    await call('allot', { body: { currency: 'shells' }, status: 400 });
    await call('paper', { values: { kind: 'wants' }, query: { allotment: first.id, format: 'html', date: '2026-01-01' } });
    await call('parting', { values: { id: first.id } });
    await call('found', { body: { piece: { ...plate, form: 'saucer' } } });
    const { value: known } = await call('found', { body: { piece: { id: 'f', form: 'saucer' }, treatment: 't-117', allotment: first.id } });
    hold('a find that is known needs no looks', known.fits && known.services[0].odds === 1 ? '' : JSON.stringify(known));
    await call('found', { body: { piece: plate, treatment: 't-none' }, status: 404 });
    await call('found', { body: { piece: plate, allotment: 'a-none' }, status: 404 });
    await call('compareAllotments', { query: { a: first.id, b: second.id } });
    await call('compareAllotments', { query: { a: first.id, b: 'a-none' }, status: 404 });
    await call('removeService', { values: { id: changed.service.id } });
    await call('removeComposition', { values: { id: tea.id } });
}

async function photographs(call, hold) {
    const id = plate.id;
    const photo = (await call('addPhoto', { values: { id }, query: { name: 'rim.png' }, bytes: png, type: 'image/png' })).value;
    await call('addPhoto', { values: { id }, bytes: Buffer.from('no photograph'), type: 'image/png', status: 400 });
    await call('addPhoto', { values: { id: 'p-none' }, bytes: png, type: 'image/png', status: 404 });
    await call('piece', { values: { id } });
    const { raw } = await call('photo', { values: { sha256: photo.sha256 } });
    hold('the original comes back as it was', raw.equals(png) ? '' : 'it does not');
    await call('photo', { values: { sha256: '0'.repeat(64) }, status: 404 });
    await call('thumbnail', { values: { sha256: photo.sha256 } });
    await call('thumbnail', { values: { sha256: 'x' }, status: 404 });
    await readings(call, hold, id, photo.sha256);
    await call('removePhoto', { values: { id, sha256: photo.sha256 } });
    await call('removePhoto', { values: { id, sha256: photo.sha256 }, status: 404 });
}

const wait = (ms) => new Promise((go) => { setTimeout(go, ms); });

async function readings(call, hold, id, small) {
    await call('viewOfPhoto', { values: { sha256: small }, query: { longest: 64 } });
    await call('viewOfPhoto', { values: { sha256: small }, query: { longest: 9 }, status: 400 });
    await call('readingOfPhoto', { values: { sha256: small }, status: 404 });
    await call('suggestions', { values: { id } });
    await call('suggestions', { values: { id: 'p-none' }, status: 404 });
    const blank = (await call('readPhoto', { values: { sha256: small }, body: { side: 'front', rim_height_mm: 20 } })).value;
    hold('three pixels are no piece', blank.reading?.outline.kind === 'none' ? '' : JSON.stringify(blank.reading?.outline));
    await call('readPhoto', { values: { sha256: small }, body: { side: 'above' }, status: 400 });
    await call('readPhoto', { values: { sha256: '0'.repeat(64) }, body: {}, status: 404 });

    // Reads one by the queue; gives what was read.
    async function queued(name, bytes) {
        const { sha256 } = (await call('addPhoto', { values: { id }, query: { name }, bytes, type: 'image/jpeg' })).value;
        let job = (await call('readPhotos', { body: { photos: [sha256] } })).value;
        for (let i = 0; i < 600 && job.state === 'running'; i += 1) {
            await wait(100);
            job = (await call('readingJob', { values: { job: job.id } })).value;
        }
        hold(`${name} is read by the queue`, job.state === 'done' && job.failed.length === 0 ? '' : JSON.stringify(job));
        return (await call('readingOfPhoto', { values: { sha256 } })).value;
    }
    async function pictured(sha256, kind) {
        const made = await call(`${kind}OfPhoto`, { values: { sha256 } });
        await call(`${kind}OfPhoto`, { values: { sha256 }, status: 304, headers: { 'If-None-Match': made.headers.get('etag') } });
    }
    const [name, bytes] = photographsOf(decoratedFront)[0] ?? [];
    if (!bytes) throw new Error(`no decorated round front with a card in ${folders.join(', ') || 'demo/'}`);
    const { sha256 } = await queued(name, bytes);
    for (const kind of ['strip', 'upright', 'repeat']) await pictured(sha256, kind);
    await call('piecesWithABorderLikeIt', { values: { sha256 } });
    await call('piecesWithABorderLikeIt', { values: { sha256: '0'.repeat(64) }, status: 404 });
    let marked;
    for (const [back, more] of photographsOf(markedBack).slice(0, 6)) {
        const read = await queued(back, more);
        if (read.pictures?.mark) { marked = read.sha256; break; }
    }
    hold('a mark is found on one of six undersides', marked ? '' : 'on none');
    if (marked) await pictured(marked, 'mark');
    const { rows } = (await call('suggestions', { values: { id } })).value;
    hold('a decorated plate suggests what is at its rim', rows.some((row) => row.place === 'rim') ? '' : JSON.stringify(rows));
    await call('correctReading', {
        values: { id, sha256 },
        body: { repeats: 9, words: 'MADE BY HAND', refused: [{ field: 'looks', place: 'rim', value: 'fern-pair' }], accepted: [{ field: 'glaze', value: 'oat' }] },
    });
    await call('correctReading', { values: { id, sha256 }, body: { repeats: -1 }, status: 400 });
    await call('correctReading', { values: { id: 'p-none', sha256 }, body: {}, status: 404 });
    await call('piece', { values: { id } });
    await call('suggestions', { values: { id } });
    await call('markOfPhoto', { values: { sha256: small }, status: 404 });
    await call('readPhotos', { body: { photos: ['x'] }, status: 404 });
    const rest = (await call('readPhotos', { body: {} })).value;
    await call('stopReadingJob', { values: { job: rest.id } });
    await call('readingJob', { values: { job: 'r-0' }, status: 404 });
    await call('stopReadingJob', { values: { job: 'r-0' }, status: 404 });
    await call('readingJobs');
}

async function papers(call, hold) {
    const { value } = await call('paperKinds');
    hold('a paper of every kind can be asked for', value.kinds.length === 8 ? '' : JSON.stringify(value.kinds));
    const date = '2026-03-01';
    const { raw } = await call('paper', { values: { kind: 'key' }, query: { of: 'shape:corbel', date } });
    hold('a paper is a PDF', raw.subarray(0, 5).toString() === '%PDF-' ? '' : raw.subarray(0, 20).toString());
    await call('paper', { values: { kind: 'dossier' }, query: { of: 'treatment:t-117', format: 'html', date } });
    await call('paper', { values: { kind: 'talk' }, query: { of: 'ornament:etched-vine', format: 'html', date } });
    await call('paper', { values: { kind: 'labels' }, query: { piece: 'p-0004,p-0041', labels: 'price', price: 'p-0004=28.00', format: 'html', date } });
    await call('paper', { values: { kind: 'condition' }, query: { piece: 'p-0004', mark: '0.4,0.6,chip', format: 'html', date } });
    await call('schedulePaper', { query: { rows: '[{"piece":"p-0004","low":20,"middle":30,"high":45}]', format: 'html', date } });
    await call('paper', { values: { kind: 'novel' }, status: 404 });
    await call('paper', { values: { kind: 'dossier' }, status: 400 });
    await call('paper', { values: { kind: 'dossier' }, query: { of: 'ornament:nowhere' }, status: 404 });
    await call('paper', { values: { kind: 'key' }, query: { of: 'shape:corbel', paper: 'a3' }, status: 400 });
    await call('paper', { values: { kind: 'labels' }, query: { sheet: '3x7' }, status: 400 });
    await call('paper', { values: { kind: 'wants' }, query: { allotment: 'a-none' }, status: 404 });
    await call('paper', { values: { kind: 'schedule' }, query: { lot: 'lot-01', format: 'html', date } });
    await call('paper', { values: { kind: 'schedule' }, query: { currency: 'shells' }, status: 400 });
}

/** Sends a text or bytes, brings them in, and waits for the end. */
async function bring(call, table, ask) {
    const { value: sent } = await call('sendTable', { query: { name: 'list.csv' }, bytes: Buffer.from(table), type: 'application/octet-stream' });
    let { value: job } = await call('import', { body: { dry_run: false, ...ask, table: sent.id } });
    do ({ value: job } = await call('importJob')); while (job.state === 'running');
    return job;
}

async function files(call, hold) {
    const { value: sent } = await call('sendTable', { bytes: workbook, type: 'application/octet-stream' });
    hold('a workbook has its sheet', sent.sheets[0]?.rows === 1 && !sent.json ? '' : JSON.stringify(sent));
    await call('sendTable', { bytes: Buffer.from('PK\x03\x04 no archive'), type: 'application/octet-stream', status: 400 });
    await call('importFields');
    const text = 'id,form,glaze,colour\np-import,dinner-plate,Oat,red\np-bad,dinner-plate,no glaze,\n';
    const tried = await bring(call, text, { into: 'pieces', dry_run: true });
    hold('a trial tells its faults', tried.result?.faults === 1 ? '' : JSON.stringify(tried));
    hold('a table with a fault is refused whole', (await bring(call, text, { into: 'pieces' })).state === 'failed' ? '' : 'it was taken');
    const kept = await bring(call, text, { into: 'pieces', keep_good: true, mapping: { colour: 'note', id: 'id', form: 'form', glaze: null } });
    hold('good rows are kept beside bad ones', kept.result?.added === 2 ? '' : JSON.stringify(kept));
    await call('import', { body: { table: sent.id, into: 'soup' }, status: 400 });
    await call('import', { body: { table: 'none', into: 'pieces' }, status: 404 });
    await call('stopImport');
    for (const format of ['csv', 'json']) {
        const { raw } = await call('export', { query: { format } });
        const { result: back } = await bring(call, raw, { into: 'pieces' });
        hold(`an export as ${format} comes back without a change`,
            back?.added === 0 && back.changed === 0 && back.others === 0 && back.unchanged > 100 ? '' : JSON.stringify({ ...back, preview: [] }));
    }
    const list = 'No.,Line,Body,Description,Dates\n9901,Harrow,Oat,Fern and line,1931/1935\n9902,Harrow,Oat,,the thirties\n';
    const asked = { into: 'treatments', pack: 'ambrel-valley', source: 's-history' };
    const catalogue = await bring(call, list, { ...asked, dry_run: true });
    hold('a catalogue is tried', catalogue.result?.added === 1 && catalogue.result.faults === 1 ? '' : JSON.stringify(catalogue));
    const into = await bring(call, list, { ...asked, keep_good: true });
    hold('its good rows are brought in', into.result?.added === 1 ? '' : JSON.stringify(into));
    await call('undoEdit', { values: { change: (await call('bookChanges', { query: { limit: 1 } })).value[0].id }, body: {} });
    await call('export', { query: { format: 'xls' }, status: 400 });
    const base = 'https://plates.example';
    await call('linkedArt', { values: { id: 'p-0004' }, query: { base } });
    await call('linkedArt', { values: { id: 'p-0004' }, query: { base: 'shelf' }, status: 400 });
    await call('linkedArt', { values: { id: 'p-none' }, status: 404 });
    await call('manifest', { values: { id: 'p-0004' } });
    await call('manifest', { values: { id: 'p-import' }, status: 404 });
}

async function letters(call, hold) {
    const letter = { name: 'Ms Carr', received: '2026-03', subject: 'a plate', text: 'What is it?', pieces: ['p-0004'] };
    const sent = (await call('addLetter', { body: { letter, revision: 0 } })).value;
    await call('addLetter', { body: { letter: { ...letter, state: 'lost' } }, status: 400 });
    await call('addLetter', { body: { letter: { ...letter, pieces: ['p-none'] } }, status: 404 });
    await call('addLetter', { body: {}, status: 400 });
    await call('replyAsPaper', { values: { id: sent.id }, status: 404 });
    const { value: reply } = await call('composeReply', { values: { id: sent.id }, body: { signature: 'Orla' } });
    hold('a reply greets who asked and is signed', reply.text.startsWith('Dear Ms Carr,') && reply.text.endsWith('Orla\n') ? '' : reply.text);
    const answered = { ...sent.letter, state: 'answered', answered: '2026-03-04', reply: reply.text, sighting: true };
    const { value: kept } = await call('changeLetter', { values: { id: sent.id }, body: { letter: answered, revision: sent.revision } });
    await call('changeLetter', { values: { id: sent.id }, body: { letter: answered, revision: sent.revision - 1 }, status: 409 });
    hold('an answered letter keeps its reply', kept.letter.reply === reply.text ? '' : JSON.stringify(kept));
    const { value: seen } = await call('sightings');
    hold('a decided piece of an answered letter is a sighting', seen.rows.some((row) => row.piece === 'p-0004' && row.letter === sent.id) ? '' : JSON.stringify(seen));
    const { raw: paper } = await call('replyAsPaper', { values: { id: sent.id }, query: { paper: 'letter' } });
    hold('a reply is set as a PDF', paper.subarray(0, 5).toString() === '%PDF-' ? '' : paper.subarray(0, 50).toString());
    await call('replyAsPaper', { values: { id: sent.id }, query: { format: 'html' } });
    await call('replyAsPaper', { values: { id: sent.id }, query: { format: 'doc' }, status: 400 });
    await call('letter', { values: { id: sent.id } });
    await call('letters', { query: { state: 'answered' } });
    await call('letters');
    await call('removeLetter', { values: { id: sent.id } });
    await call('letter', { values: { id: sent.id }, status: 404 });
    await call('composeReply', { values: { id: sent.id }, body: {}, status: 404 });
}

async function sales(call, hold) {
    const { value: all } = await call('sales');
    hold('the demo has 600 sales in two currencies', all.total === 600 && all.currencies.length === 2 ? '' : JSON.stringify(all.currencies));
    await call('sales', { query: { q: 'auction teapot', form: 'teapot', market: 'auction', sort: 'price', order: 'asc', limit: 3 } });
    await call('sales', { query: { sort: 'beauty' }, status: 400 });
    const sale = { date: '2024-05', price: 31.5, currency: 'usd', form: 'dinner-plate', treatment: 't-117', condition: 'good', venue: 'Barn sale', revision: 0 };
    const { value: kept } = await call('addSale', { body: sale });
    hold('a sale is kept with full ids', kept.currency === 'USD' && kept.treatment === 'ambrel-valley:t-117' ? '' : JSON.stringify(kept));
    await call('addSale', { body: { ...sale, price: -1 }, status: 400 });
    await call('addSale', { body: { ...sale, date: '2999' }, status: 400 });
    await call('addSale', { body: { ...sale, currency: 'XQX' }, status: 400 });
    await call('changeSale', { values: { id: kept.id }, body: { ...sale, price: 33, revision: kept.revision } });
    await call('changeSale', { values: { id: kept.id }, body: { ...sale, price: 34, revision: kept.revision }, status: 409 });
    await call('changeSale', { values: { id: 'sale-none' }, body: sale, status: 404 });
    await call('sale', { values: { id: kept.id } });
    await call('removeSale', { values: { id: kept.id } });
    await call('sale', { values: { id: kept.id }, status: 404 });
    const text = 'sold,paid,item,number\n2024-01,20,Dinner plate,t-117\n2024-02,nothing,Dinner plate,t-117\n';
    const asked = { into: 'sales', currency: 'USD' };
    hold('a list with a fault is refused whole', (await bring(call, text, asked)).state === 'failed' ? '' : 'it was taken');
    const { result: read } = await bring(call, text, { ...asked, keep_good: true, mapping: { number: 'treatment' } });
    hold('the good row is kept', read?.added === 1 && read.skipped === 1 ? '' : JSON.stringify(read));
    const { result: later } = await bring(call, text, { ...asked, dry_run: true });
    hold('the mapping is remembered', later?.remembered ? '' : JSON.stringify(later));
    const { value: before } = await call('doubtfulSales');
    hold('the demo has prices that look mistaken', before.mistaken.length > 5 && before.mistaken.every((one) => one.counted < 0.5) ? '' : JSON.stringify(before.mistaken.length));
    const alike = { date: '2024-05-05', price: 31, currency: 'USD', form: 'saucer', treatment: 't-117' };
    const twice = [(await call('addSale', { body: alike })).value, (await call('addSale', { body: { ...alike, venue: 'Quay Fair' } })).value];
    const { value: after } = await call('doubtfulSales');
    const group = after.repeats.find((one) => one.sales.some((sale) => sale.id === twice[0].id));
    hold('two that may be one are named', group?.sales.length === 2 && !group.same ? '' : JSON.stringify(after.repeats));
    for (const { id } of twice) await call('removeSale', { values: { id } });
    await call('salesVocabulary');
    const { raw } = await call('exportSales');
    const { result: again } = await bring(call, raw, { into: 'sales' });
    hold('an export of sales comes back without a change', again?.added === 0 && again.unchanged === 601 ? '' : JSON.stringify({ ...again, preview: [] }));
}

async function worth(call, hold) {
    const thing = { form: 'teapot', treatment: 't-117' };
    const { value: teapot } = await call('estimate', { body: { thing, condition: 'good', grade: 'first' } });
    const { value: saucer } = await call('estimate', { body: { thing: { form: 'saucer', treatment: 't-117' }, condition: 'good' } });
    hold('a teapot is dearer than a saucer', teapot.worth.median > 2 * saucer.worth.median ? '' : `${teapot.worth.median} and ${saucer.worth.median}`);
    hold('intervals are in order', teapot.worth.ninety[0] < teapot.worth.fifty[0] && teapot.worth.fifty[1] < teapot.worth.ninety[1] ? '' : JSON.stringify(teapot.worth));
    // The model follows the sales: ten dearer ones move it (not so dear that they look mistaken), and undoing them moves it back.
    const dear = Array.from({ length: 10 }, (_, i) => `2025-0${1 + (i % 9)}-1${i},${Math.round(2.2 * teapot.worth.median)},USD,teapot,t-117,good,first`).join('\n');
    await bring(call, `date,price,currency,form,treatment,condition,grade\n${dear}\n`, { into: 'sales' });
    const moved = (await call('estimate', { body: { thing, condition: 'good', grade: 'first' } })).value;
    hold('new sales move an estimate', moved.worth.median > 1.1 * teapot.worth.median ? '' : `${teapot.worth.median} to ${moved.worth.median}`);
    await call('undoLatest');
    const back = (await call('estimate', { body: { thing, condition: 'good', grade: 'first' } })).value;
    hold('undoing them moves it back', JSON.stringify(back.worth) === JSON.stringify(teapot.worth) ? '' : JSON.stringify(back.worth));
    const began = Date.now();
    for (let i = 0; i < 20; i += 1) await call('estimate', { body: { thing, date: `${2005 + i}` } });
    hold('an estimate comes at once when the model is fitted', (Date.now() - began) / 20 < 1000 ? '' : `${(Date.now() - began) / 20} ms each`);
    await call('estimate', { body: { piece_id: 'p-0041', market: 'dealer', currency: 'GBP' } });
    await call('estimate', { body: { piece: plate, date: '2024' } });
    await call('estimate', { body: { piece: plate, thing }, status: 400 });
    await call('estimate', { body: { thing: { form: 'nothing' } }, status: 400 });
    await call('estimate', { body: { piece_id: 'p-none' }, status: 404 });
    await call('estimate', { body: { thing, currency: 'JPY' }, status: 404 });
    await call('priceHistory', { query: { form: 'dinner-plate' } });
    await call('priceHistory', { query: { treatment: 't-117', condition: 'good' } });
    await call('priceHistory', { status: 400 });
    await call('priceModel');
    await call('priceModel', { query: { currency: 'nope' }, status: 400 });
    const { value: held } = await call('portfolio');
    hold('the portfolio ends with every priced piece', held.points.at(-1).pieces > 100 ? '' : JSON.stringify(held.points.at(-1)));
    const { value: list } = await call('worthSchedule', { query: { lot: 'lot-01' } });
    hold('replacement is above sale', list.totals.replacement.median > list.totals.sale.median ? '' : JSON.stringify(list.totals));
    const pieces = [{ thing, condition: 'fair', count: 2 }, { piece: plate }, { piece_id: 'p-0041' }];
    const { value: lot } = await call('haul', { body: { pieces, premium_percent: 25, carriage: 10, selling_percent: 12 } });
    hold('a bid is found and judged', lot.top_bid > 0 && lot.at_bid.loss_chance > 0 && lot.at_bid.loss_chance < 0.6 ? '' : JSON.stringify(lot.at_bid));
    await call('haul', { body: { pieces: [] }, status: 400 });
    await call('haul', { body: { pieces, premium_percent: -5 }, status: 400 });
    await call('shareLotCost', { values: { id: 'lot-01' }, body: {} });
    const { value: shared } = await call('shareLotCost', { values: { id: 'lot-01' }, body: { apply: true, cost: 99.99 } });
    const sum = shared.rows.reduce((total, row) => total + row.cost, 0);
    hold('the shares sum to the cost', Math.abs(sum - 99.99) < 0.001 ? '' : String(sum));
    await call('shareLotCost', { values: { id: 'lot-none' }, body: {}, status: 404 });
}

async function door(call) {
    await call('examine', { body: { piece: plate }, headers: { Origin: 'http://elsewhere.example' }, status: 403 });
    await call('examine', { bytes: Buffer.from('{}'), type: 'text/plain', status: 400 });
    await call('examine', { bytes: Buffer.from('{'), type: 'application/json', status: 400 });
    await call('examine', { bytes: Buffer.alloc(17 << 20, 32), type: 'application/json', status: 413 });
}
