// A stand-in for `footring serve` while the pages are being drawn: it reads the invented pack and answers roughly.
// Development only; its odds are crude. FOOTRING_URL in vite.config.ts uses the real program instead.
// SPDX-License-Identifier: Apache-2.0
import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('../..', import.meta.url));
const pack = join(root, 'packs/ambrel-valley');
const cupboard = join(root, 'demo/cupboard');
const PLACES = ['rim', 'verge', 'centre', 'edge', 'handle', 'lid', 'finial', 'body', 'inside', 'foot', 'underside'];

function csv(text) {
  const rows = [];
  let row = [''];
  let quoted = false;
  for (let i = 0; i < text.length; i += 1) {
    const c = text[i];
    if (quoted) {
      if (c === '"' && text[i + 1] === '"') { row[row.length - 1] += '"'; i += 1; } else if (c === '"') quoted = false;
      else row[row.length - 1] += c;
    } else if (c === '"') quoted = true;
    else if (c === ',') row.push('');
    else if (c === '\n') { rows.push(row); row = ['']; } else row[row.length - 1] += c;
  }
  const [head, ...body] = rows;
  return body.map((cells) => Object.fromEntries(head.map((name, i) => [name, cells[i] ?? ''])));
}
const T = {};
for (const name of readdirSync(pack).filter((one) => one.endsWith('.csv'))) T[name.slice(0, -4)] = csv(readFileSync(join(pack, name), 'utf8'));
const by = (table, id) => T[table].find((row) => row.id === id);
const name = (table, id) => (by(table, id) ? { id, name: by(table, id).name } : null);
const sourcesOf = (row) => (row.source ?? '').split(';').map((id) => by('sources', id.trim())).filter(Boolean).map((one) => ({ id: one.id, title: one.title, trust: Number(one.trust) }));
const yearsWords = (years) => (years ?? '').replace('/', ' to ').replaceAll('~', '');
const colour = (glaze) => {
  const [l, a, b] = [Number(glaze.lab_l), Number(glaze.lab_a), Number(glaze.lab_b)];
  const f = (t) => (t > 6 / 29 ? t ** 3 : 3 * (6 / 29) ** 2 * (t - 4 / 29));
  const fy = (l + 16) / 116;
  const [x, y, z] = [0.9505 * f(fy + a / 500), f(fy), 1.089 * f(fy - b / 200)];
  const lin = [3.2406 * x - 1.5372 * y - 0.4986 * z, -0.9689 * x + 1.8758 * y + 0.0415 * z, 0.0557 * x - 0.204 * y + 1.057 * z];
  return `#${lin.map((c) => Math.round(255 * Math.min(1, Math.max(0, c <= 0.0031308 ? 12.92 * c : 1.055 * c ** (1 / 2.4) - 0.055))).toString(16).padStart(2, '0')).join('')}`;
};
const wareOf = (form) => by('forms', form)?.ware ?? '';
function carried(treatment, form) {
  const at = {};
  for (const row of T.treatment_ornaments.filter((one) => one.treatment === treatment)) {
    const rank = row.on === form ? 2 : row.on === wareOf(form) && form ? 1 : row.on === '*' ? 0 : -1;
    if (rank < 0 || (at[row.place] && at[row.place].rank > rank)) continue;
    at[row.place] = { rank, id: row.ornament, share: row.share === '' ? 1 : Number(row.share) };
  }
  return at;
}
const full = (table, row) => {
  const out = { ...row, years_words: yearsWords(row.years ?? row.date), sources: sourcesOf(row) };
  delete out.source;
  for (const [column, other] of [['maker', 'makers'], ['shape', 'shapes'], ['glaze', 'glazes'], ['supplier', 'makers']]) if (typeof row[column] === 'string' && column in row) out[column] = name(other, row[column]);
  if (table === 'sources') out.trust = Number(row.trust);
  if (table === 'ornaments') out.shared = row.shared === 'yes';
  if (row.subject) {
    const [kind, found] = Object.entries(T).map(([one, rows]) => [one, rows.find((r) => r.id === row.subject)]).find(([, r]) => r) ?? [];
    out.subject = { table: kind, id: row.subject, name: found?.name || found?.wording || row.subject };
  }
  return out;
};
const line = (row) => ({ id: row.id, number: row.number, name: row.name, shape: name('shapes', row.shape), glaze: name('glazes', row.glaze), grade: row.grade, years_words: yearsWords(row.years) });
const evidence = (id) => {
  const groups = {};
  for (const row of T.statements.filter((one) => one.subject === id)) {
    const group = (groups[row.property] ??= { property: row.property, for: [], against: [], contested: false });
    group[row.stance].push(full('statements', row));
    group.contested = group.for.length > 0 && group.against.length > 0;
  }
  return { statements: Object.values(groups), dated_uses: T.dated_uses.filter((one) => one.subject === id).map((row) => full('dated_uses', row)) };
};
const formsOf = (shape) => T.shape_forms.filter((row) => row.shape === shape).map((row) => row.form);
const lookKey = (id, form) => JSON.stringify([by('treatments', id).shape, by('treatments', id).glaze, Object.entries(carried(id, form)).map(([p, c]) => [p, c.id, c.share]).sort()]);
function detail(table, id) {
  const row = by(table, id);
  if (!row) return null;
  const out = { ...full(table, row), ...evidence(id) };
  if (table === 'treatments') {
    const mine = T.treatment_ornaments.filter((one) => one.treatment === id);
    out.decoration = mine.map((one) => ({ place: one.place, ornament: name('ornaments', one.ornament), on: one.on, share: one.share === '' ? 1 : Number(one.share), sources: sourcesOf(one) }));
    out.twins_by_form = formsOf(row.shape).map((form) => ({ form: name('forms', form), twins: T.treatments.filter((o) => o.id !== id && o.shape === row.shape && lookKey(o.id, form) === lookKey(id, form)).map(line) })).filter((o) => o.twins.length);
    out.same_ornaments = [...new Set(mine.map((one) => one.ornament))].map((o) => ({ ornament: name('ornaments', o), treatments: T.treatments.filter((t) => t.id !== id && T.treatment_ornaments.some((r) => r.treatment === t.id && r.ornament === o)).map(line) }));
    out.grade_pair = T.treatments.filter((o) => o.id !== id && o.shape === row.shape && o.glaze === row.glaze && o.grade !== row.grade && ['dinner-plate', 'sugar'].every((f) => lookKey(o.id, f) === lookKey(id, f))).map(line);
    out.pieces = pieces().filter((one) => one.decision?.treatment === id).length;
  } else if (table === 'ornaments') {
    out.used_by = T.treatments.map((t) => [t, [...new Set(T.treatment_ornaments.filter((r) => r.treatment === t.id && r.ornament === id).map((r) => r.place))]]).filter(([, p]) => p.length).map(([t, places]) => ({ ...line(t), id: undefined, treatment: line(t), places }));
  } else if (table === 'shapes') {
    out.forms = T.shape_forms.filter((r) => r.shape === id).map((r) => ({ ...r, form: name('forms', r.form) }));
    out.treatments = T.treatments.filter((t) => t.shape === id).map(line);
  } else if (table === 'sources') {
    out.rows = Object.entries(T).flatMap(([one, rows]) => rows.map((r, i) => [one, r, i]).filter(([, r]) => (r.source ?? '').includes(id)).map(([t, r, i]) => ({ table: t.replaceAll('_', '-'), id: r.id ?? r.treatment ?? r.subject, name: r.name || r.wording || r.subject || r.treatment, row: `${t}.csv:${i + 2}` })));
  } else out.treatments = T.treatments.filter((t) => t.glaze === id || by('shapes', t.shape)?.maker === id).map(line);
  return out;
}
const FINISH = { gold: '#b8862f', platinum: '#9a9c9e', silver: '#a4a7a8' };
const inkOf = (id) => FINISH[by('ornaments', id)?.finish] ?? '#4a5f77';
function draw(form, ground, at, picked) {
  const flat = wareOf(form) !== 'hollow';
  const g = (place, body) => `<g data-place="${place}"><title>${place}</title>${body}${picked.includes(place) ? '<circle cx="100" cy="100" r="97" fill="none" stroke="#a33" stroke-width="1.5" stroke-dasharray="2 3"/>' : ''}</g>`;
  const state = (place) => at[place];
  const ring = (place, r, w) => {
    const s = state(place);
    const stroke = s === undefined ? '#b5aa97' : s === 'none' ? '#d8cebb' : PLACES.includes(s) ? '#777' : inkOf(s);
    return g(place, `<circle cx="100" cy="100" r="${r}" fill="none" stroke="${stroke}" stroke-width="${w}" ${s === undefined ? 'stroke-dasharray="3 5" stroke-opacity=".7"' : ''}/><circle cx="100" cy="100" r="${r}" fill="none" stroke="transparent" stroke-width="14"/>`);
  };
  const parts = [`<circle cx="100" cy="100" r="94" fill="${ground}" stroke="#8a7f6d" stroke-width="1"/>`];
  if (flat) parts.push(ring('edge', 92, 2.5), ring('rim', 78, 12), ring('verge', 62, 1.5), g('centre', `<circle cx="100" cy="100" r="26" fill="${state('centre') && state('centre') !== 'none' ? inkOf(state('centre')) : 'transparent'}" fill-opacity=".7" stroke="#b5aa97" stroke-dasharray="3 5"/>`));
  else {
    const colour = (p) => (state(p) === undefined ? '#b5aa97' : state(p) === 'none' ? '#d8cebb' : inkOf(state(p)));
    parts[0] = '';
    parts.push(g('body', `<path d="M45 80q0 80 55 80t55-80z" fill="${ground}" stroke="#8a7f6d"/>`), g('rim', `<rect x="46" y="82" width="108" height="16" fill="${colour('rim')}" fill-opacity=".75"/>`), g('edge', `<rect x="42" y="74" width="116" height="6" fill="${colour('edge')}"/>`), g('handle', `<path d="M155 92q36 0 24 34-10 18-32 14" fill="none" stroke="${colour('handle')}" stroke-width="8"/>`), g('lid', `<path d="M50 70q10-26 50-26t50 26z" fill="${ground}" stroke="${colour('lid')}" stroke-width="3"/>`), g('finial', `<circle cx="100" cy="36" r="9" fill="${colour('finial')}"/>`), g('foot', `<rect x="72" y="160" width="56" height="7" fill="${colour('foot')}"/>`));
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 200 200">${parts.join('')}</svg>`;
}
const groundOf = (glaze) => (by('glazes', glaze) ? colour(by('glazes', glaze)) : '#f6f1e6');
const glyphOfTreatment = (id, form, picked) => draw(form, groundOf(by('treatments', id).glaze), Object.fromEntries(Object.entries(carried(id, form)).map(([p, c]) => [p, c.id])), picked);
const glyphOfPiece = (piece, picked) => draw(piece.form, groundOf(piece.glaze?.value), Object.fromEntries((piece.looks ?? []).map((look) => [look.place, look.value])), picked);
const SURE = { sure: 0.98, likely: 0.85, guess: 0.6 };
function likelihood(piece, t) {
  const at = carried(t.id, piece.form);
  const one = (seen, truth, n) => (seen.value === truth ? SURE[seen.sure ?? 'sure'] : (1 - SURE[seen.sure ?? 'sure']) / n);
  const parts = [];
  if (piece.shape) parts.push(['shape', piece.shape.value, one(piece.shape, t.shape, 12)]);
  if (piece.glaze) parts.push(['glaze', piece.glaze.value, one(piece.glaze, t.glaze, 13)]);
  for (const look of piece.looks ?? []) {
    const truth = at[look.place]?.id ?? 'none';
    const some = ['something', 'worn'].includes(look.value);
    parts.push([look.place, look.value, some ? (truth !== 'none' ? 0.9 : 0.1) : one(look, truth, 10)]);
  }
  const number = typeof piece.number === 'string' ? { value: piece.number } : piece.number;
  if (number?.value && number.value !== 'none') parts.push(['number', number.value, new RegExp(`^${number.value.replaceAll('?', '.').replaceAll('*', '.*')}$`).test(t.number) ? 0.3 : 0.01]);
  if (piece.faults) parts.push(['faults', piece.faults, (t.grade === 'second') === (piece.faults !== 'none') ? 0.5 : 0.2]);
  if (piece.mark) parts.push(['mark', piece.mark.value, 0.3]);
  return parts;
}
function examine(piece) {
  const all = T.treatments.map((t) => ({ t, parts: likelihood(piece, t) })).map((o) => ({ ...o, w: o.parts.reduce((p, [, , x]) => p * x, 1) }));
  const open = 0.05 * Math.max(...all.map((o) => o.w)) * 0.4;
  const sum = all.reduce((s, o) => s + o.w, 0) + 2 * open;
  const sorted = all.sort((a, b) => b.w - a.w).filter((o) => o.w / sum > 1e-4);
  const best = sorted[0];
  const years = {};
  for (const { t, w } of sorted) {
    const [from, to] = (yearsWords(t.years).match(/\d{4}/g) ?? [1900, 1950]).map(Number);
    for (let y = from; y <= (to ?? from); y += 1) years[y] = (years[y] ?? 0) + w / sum / ((to ?? from) - from + 1);
  }
  const list = Object.entries(years).map(([y, p]) => [Number(y), p]);
  const run = (share) => { const s = [...list].sort((a, b) => b[1] - a[1]); const taken = []; let got = 0; for (const [y, p] of s) { if (got >= share) break; taken.push(y); got += p; } return [Math.min(...taken), Math.max(...taken)]; };
  const first = list[0]?.[0] ?? 1900;
  const done = new Set([...(piece.looks ?? []).map((l) => l.place), ...Object.keys(piece)]);
  const second = sorted.reduce((s, o) => s + (o.w / sum) * { first: 0.05, second: 0.98, any: 0.3 }[o.t.grade], 0);
  return {
    piece: piece.id,
    verdict: best ? `Most likely ${best.t.number}, ${best.t.name}, on ${by('shapes', best.t.shape).name}. ${best.w / sum < 0.5 ? 'The looks so far leave others open.' : ''}` : '',
    notes: [], open: { unlisted: open / sum, elsewhere: open / sum }, grade: { first: 1 - second, second },
    candidates: sorted.map((o) => ({ treatment: o.t.id, number: o.t.number, probability: o.w / sum, twins: sorted.filter((x) => x !== o && x.t.shape === o.t.shape && lookKey(x.t.id, piece.form) === lookKey(o.t.id, piece.form)).map((x) => x.t.id) })),
    date: { median: run(0.1)[0], hpd68: run(0.68), hpd95: run(0.95), edtf: run(0.95).join('/'), by_year: { first_year: first, p: Array.from({ length: 90 }, (_, i) => years[first + i] ?? 0) } },
    reasons: (best?.parts ?? []).map(([look, value, p], i) => ({ look, value, decibans: 10 * Math.log10(p / (all.slice(1).reduce((s, o) => s + o.parts[i][2], 0) / (all.length - 1))), sources: ['s-history'], rows: ['treatment_ornaments.csv:31'] })).sort((a, b) => Math.abs(b.decibans) - Math.abs(a.decibans)),
    next: ['underside', 'rim', 'centre', 'handle', 'lid', 'finial', 'glaze', 'shape'].filter((l) => !done.has(l)).map((look, i) => ({ look, bits: 1.2 / (i + 1), effort_min: look === 'underside' ? 1 : 0.5, effect: { grade_bits: 0.2, year_bits: 0.3, bits_per_min: 1.2 / (i + 1) } })),
    conflicts: piece.glaze?.value === 'sedge' && piece.mark?.value === 'm-3' ? [{ statements: ['mark m-3 ends 1930', 'glaze Sedge begins 1938'] }] : [],
  };
}
let store;
let changes = [];
function pieces() {
  if (store) return store;
  const records = JSON.parse(readFileSync(join(cupboard, 'records.json'), 'utf8'));
  store = readdirSync(join(cupboard, 'pieces')).map((file) => JSON.parse(readFileSync(join(cupboard, 'pieces', file), 'utf8'))).map((piece) => {
    const r = records[piece.id] ?? {};
    const t = r.decision && by('treatments', r.decision.treatment);
    return { piece, lot: r.lot ?? '', place: r.kept ?? '', cost: r.cost, currency: 'USD', note: r.note ?? '', decision: r.decision ?? null, attribution: r.decision ? { answer: examine(piece), packs: 'ambrel-valley@1.0.0 stand-in', when: '2026-03-01T09:30:00Z' } : null, created: '2026-03-01T09:30:00Z', changed: '2026-03-01T09:30:00Z', revision: 1, photos: [], ...(t ? { treatment_number: t.number, treatment_name: t.name } : {}) };
  });
  return store;
}
const lots = () => JSON.parse(readFileSync(join(cupboard, 'lots.json'), 'utf8')).map((lot) => ({ revision: 1, ...lot }));
let past = [];
function change(what, key, next) {
  past.push(store);
  store = next;
  changes = [{ id: changes.length + 1, when: new Date().toISOString(), entity: 'piece', key, what, before: null, after: null, batch: changes.length + 1 }, ...changes];
  return changes[0].batch;
}
function apart(form, ids) {
  const looks = ['shape', 'glaze', ...PLACES];
  const value = (id, look, on) => (look === 'shape' || look === 'glaze' ? by('treatments', id)[look] : carried(id, on)[look]?.id ?? 'none');
  const groups = {};
  for (const id of ids) (groups[lookKey(id, form)] ??= []).push(id);
  return { differences: looks.map((look) => ({ look, values: ids.map((id) => value(id, look, form)) })).filter((d) => new Set(d.values).size > 1), telling_forms: T.forms.map((f) => f.id).filter((f) => new Set(ids.map((id) => lookKey(id, f))).size > 1), twin_groups: Object.values(groups) };
}
function key(shape, form) {
  const nodes = [];
  const grow = (ids) => {
    const at = nodes.push({ treatments: ids, look: '', effort_min: 0, branches: [] }) - 1;
    const split = PLACES.concat('glaze', 'shape').map((look) => [look, Object.groupBy ? Object.groupBy(ids, (id) => (look === 'glaze' || look === 'shape' ? by('treatments', id)[look] : carried(id, form)[look]?.id ?? 'none')) : {}]).sort((a, b) => Object.keys(b[1]).length - Object.keys(a[1]).length)[0];
    if (split && Object.keys(split[1]).length > 1) Object.assign(nodes[at], { look: split[0], effort_min: 0.5, branches: Object.entries(split[1]).map(([value, some]) => ({ value, node: grow(some) })) });
    return at;
  };
  grow(T.treatments.filter((t) => !shape || t.shape === shape).map((t) => t.id));
  return { nodes, expected_effort_min: 1.3, optimal: false };
}
const vocabulary = () => ({
  forms: T.forms.map((f) => ({ ...f, places: PLACES.filter((p) => T.treatment_ornaments.some((r) => r.place === p && (r.on === '*' || r.on === f.ware || r.on === f.id))) })),
  shapes: T.shapes.map((s) => ({ ...s, maker_name: by('makers', s.maker)?.name ?? '', forms: formsOf(s.id) })),
  glazes: T.glazes.map((g) => ({ ...g, colour: colour(g) })),
  ornaments: T.ornaments.map((o) => ({ ...o, places: [...new Set(T.treatment_ornaments.filter((r) => r.ornament === o.id).map((r) => r.place))] })),
  marks: T.marks.map((m) => ({ ...m, second: m.grade === 'second' })), makers: T.makers, places: PLACES, sures: ['sure', 'likely', 'guess'], wears: ['none', 'light', 'moderate', 'heavy'], faults: ['none', 'few', 'many'], efforts: {},
});
const has = (row, q) => q.toLowerCase().split(/\s+/).filter(Boolean).every((word) => JSON.stringify(row).toLowerCase().includes(word));

export async function answer(request, response) {
  const url = new URL(request.url, 'http://x');
  const parts = url.pathname.split('/').filter(Boolean).map(decodeURIComponent);
  const q = Object.fromEntries(url.searchParams);
  const chunks = [];
  for await (const chunk of request) chunks.push(chunk);
  const body = chunks.length && (request.headers['content-type'] ?? '').includes('json') ? JSON.parse(Buffer.concat(chunks).toString() || '{}') : {};
  const json = (value, status = 200) => { response.statusCode = status; response.setHeader('Content-Type', 'application/json'); response.end(JSON.stringify(value)); };
  const svg = (text) => { response.setHeader('Content-Type', 'image/svg+xml'); response.end(text); };
  const missing = (what) => json({ problems: [{ code: 'not-found', where: what, what: `There is no ${what}.`, remedy: 'Check the id.' }] }, 404);
  const [room, a, b, c] = parts;
  const way = `${request.method} ${room}${a ? ` ${['glyph', 'book', 'pieces'].includes(room) ? '' : a}` : ''}`.trim();
  const picked = (q.picked_out ?? '').split(',').filter(Boolean);
  if (room === 'health') return json({ status: 'ok', version: 'stand-in', packs: [{ id: 'ambrel-valley', title: 'Potteries of the Ambrel valley (invented)', version: '1.0.0', digest: '0123456789abcdef' }], data: '/tmp/stand-in', pieces: pieces().length });
  if (room === 'settings') return json([{ name: 'open_prior', value: 0.05, default: 0.05, lowest: 0, highest: 0.999, sentence: 'Prior of all that no pack lists.' }]);
  if (room === 'examine') return json(examine(body.piece));
  if (room === 'apart') return json(apart(body.form ?? '', body.treatments));
  if (room === 'key') return json(key(q.shape, q.form || 'dinner-plate'));
  if (room === 'drawing' || (room === 'glyph' && a === 'strip')) {
    const file = join(pack, by('ornaments', room === 'drawing' ? a : b)?.drawing || 'none');
    return existsSync(file) ? svg(readFileSync(file, 'utf8')) : missing('drawing');
  }
  if (room === 'glyph' && a === 'treatment') return by('treatments', b) ? svg(glyphOfTreatment(b, q.form ?? 'dinner-plate', picked)) : missing('treatment');
  if (room === 'glyph') return svg(glyphOfPiece(body.piece, body.picked_out ?? []));
  if (room === 'book' && !a) return json({ packs: [{ id: 'ambrel-valley', title: 'Potteries of the Ambrel valley (invented)', description: 'An invented reference.', version: '1.0.0', digest: '0123456789abcdef', contributors: ['all invented'] }], counts: Object.fromEntries(Object.entries(T).map(([n, r]) => [n.replaceAll('_', '-'), r.length])) });
  if (room === 'book' && a === 'vocabulary') return json(vocabulary());
  if (room === 'book') {
    const table = a.replaceAll('-', '_');
    if (!T[table]) return missing('table');
    if (b) { const row = detail(table, b); return row ? json(row) : missing('row'); }
    const rows = T[table].map((row) => full(table, row)).filter((row) => has(row, q.q ?? ''));
    return json({ rows: rows.slice(Number(q.offset ?? 0), Number(q.offset ?? 0) + Number(q.limit ?? 100)), total: rows.length });
  }
  if (room === 'search') return json({ pieces: pieces().filter((p) => has(p.piece, q.q)).slice(0, 8).map((p) => ({ id: p.piece.id, form: p.piece.form, shape: p.piece.shape?.value, number: '' })), book: ['treatments', 'ornaments', 'shapes', 'makers'].flatMap((t) => T[t].filter((r) => has([r.id, r.name, r.number], q.q)).map((r) => ({ table: t, id: r.id, name: `${r.number ?? ''} ${r.name}`.trim(), detail: r.shape ?? '' }))).slice(0, 20) });
  if (room === 'lots') return json(lots());
  if (room === 'changes' && request.method === 'GET') return json(changes.slice(0, Number(q.limit ?? 50)));
  if (room === 'changes') { store = past.pop() ?? store; return json({ batch: 1, what: 'the latest change' }); }
  if (room === 'import') return json({ added: 2, changed: 0, skipped: 0, problems: [], preview: pieces().slice(0, 2).map((p) => p.piece), columns: [{ column: 'form', field: 'form' }] });
  if (room === 'pieces' && a === 'facets') return json(['form', 'lot', 'place'].flatMap((field) => Object.entries(pieces().reduce((n, p) => { const v = field === 'form' ? p.piece.form : p[field]; n[v] = (n[v] ?? 0) + 1; return n; }, {})).map(([value, count]) => ({ field, value, label: value, count }))));
  if (room === 'pieces' && a === 'bulk') { const n = body.remove ? pieces().filter((p) => !body.ids.includes(p.piece.id)) : pieces().map((p) => (body.ids.includes(p.piece.id) ? { ...p, ...body.set } : p)); return json({ changed: body.ids.length, batch: change(body.remove ? 'Removed.' : 'Changed.', body.ids[0], n) }); }
  if (room === 'pieces' && !a && request.method === 'GET') {
    const rows = pieces().filter((p) => has(p, q.q ?? '') && (!q.lot || p.lot === q.lot) && (!q.place || p.place === q.place) && (!q.form || p.piece.form === q.form) && (!q.decided || String(Boolean(p.decision)) === q.decided));
    return json({ rows: rows.slice(0, Number(q.limit ?? 100)), total: rows.length });
  }
  if (room === 'pieces' && !a) { const record = { ...body, piece: { ...body.piece, id: `p-${String(pieces().length + 1).padStart(4, '0')}` }, revision: 1 }; change('Added.', record.piece.id, [...pieces(), record]); return json(record, 201); }
  const record = pieces().find((p) => p.piece.id === a);
  if (!record) return missing(`piece ${a} (${way})`);
  if (b === 'history') return json(changes.filter((one) => one.key === a));
  if (b === 'decide') { const t = by('treatments', body.treatment); const next = { ...record, decision: body, treatment_number: t?.number, treatment_name: t?.name, revision: record.revision + 1 }; change(`Decided: ${t?.number ?? body.treatment}.`, a, pieces().map((p) => (p === record ? next : p))); return json(next); }
  if (b === 'photos') return json(c ? {} : { sha256: 'x' }, 201);
  if (request.method === 'PUT') { const next = { ...body, revision: record.revision + 1 }; change('Changed.', a, pieces().map((p) => (p === record ? next : p))); return json(next); }
  return json(record);
}
