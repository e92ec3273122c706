// routes/years/sample.ts - a small chronology for the tests, and one of any size. Invented.
// SPDX-License-Identifier: Apache-2.0
import type { Span, Years, YearsBar, YearsLane } from '../../lib/types';

export const span = (first: number, last: number, soft = 0): Span => ({ soft_first: first - soft, first, last, soft_last: last + soft });
const source = { id: 's-1', title: 'Sheet of <ware>', trust: 0.9 };
export const bar = (id: string, number: string, at: Span, grade = 'first', colour: string | null = '#e4dccb'): YearsBar => ({
  treatment: { id, number, name: `Fern ${number}` }, grade, glaze: { id: 'oat', name: 'Oat', colour }, places: ['rim'], edtf: `${at.first}/${at.last}`,
  words: `${at.first} to ${at.last}`, stated: true, span: at, sources: [source],
});
const lane = (id: string, name: string, at: Span | null, bars: YearsBar[]): YearsLane => ({
  shape: { id, name }, maker: { id: 'works', name: 'The Works & Sons' }, span: at, words: at ? `${at.first} to ${at.last}` : '', sources: [source], bars,
});

export const sample = (): Years => ({
  title: 'Fern <pair>', of: { table: 'ornament', id: 'fern', name: 'Fern <pair>', span: span(1912, 1956, 3), words: 'about 1912 to about 1956', sources: [source] }, first: 1909, last: 1962,
  lanes: [
    lane('winnow', 'Winnow', span(1947, 1962), [bar('t-303', '303', span(1948, 1960, 3))]),
    lane('harrow', 'Harrow', span(1924, 1949), [bar('t-117', '117', span(1930, 1939)), bar('t-101', '101', span(1924, 1949)), bar('t-617', '617', span(1930, 1939), 'second')]),
  ],
  ticks: [
    { date: '1932', words: '1932', span: span(1932, 1932), kind: 'advertisement', subject: { table: 'treatment', id: 't-117', name: '117 Fern' }, lane: 'harrow', treatment: 't-117', source },
    { date: '1932', words: '1932', span: span(1932, 1932), kind: 'catalogue', subject: { table: 'treatment', id: 't-117', name: '117 Fern' }, lane: 'harrow', treatment: 't-117', source },
    { date: '1926', words: '1926', span: span(1926, 1926), kind: 'catalogue', subject: { table: 'shape', id: 'harrow', name: 'Harrow' }, lane: 'harrow', treatment: null, source },
    { date: '1919', words: '1919', span: span(1919, 1919), kind: 'letter', subject: { table: 'ornament', id: 'fern', name: 'Fern' }, lane: null, treatment: null, source: null },
  ],
  glazes: [{ id: 'oat', name: 'Oat', colour: '#e4dccb', span: span(1924, 1949), words: '1924 to 1949', sources: [source] }],
  numbers: [
    { shape: 'harrow', sequence: '', seconds: false, line: 1924, number: 101, year: 1924, low: 1924, high: 1924, treatment: 't-101', dated: true, outlier: false },
    { shape: 'harrow', sequence: '', seconds: false, line: 1930, number: 117, year: 1930, low: 1928, high: 1933, treatment: 't-117', dated: false, outlier: false },
  ],
  pieces: [
    { id: 'p-1', form: { id: 'plate', name: 'Plate' }, lane: 'harrow', treatment: 't-117', decided: true, median: 1934, hpd68: [1932, 1936], hpd95: [1930, 1939] },
    { id: 'p-2', form: { id: 'plate', name: 'Plate' }, lane: 'harrow', treatment: 't-117', decided: false, median: 1934, hpd68: [1931, 1937], hpd95: [1930, 1939] },
    { id: 'p-3', form: { id: 'plate', name: 'Plate' }, lane: 'harrow', treatment: 't-999', decided: true, median: 1930, hpd68: [1928, 1932], hpd95: [1924, 1939] },
  ],
  notes: [],
});

/** Lanes of a hundred bars each, every third with soft ends, a dated use on every fifth. The same each time. */
export function many(bars: number): Years {
  const lanes: YearsLane[] = [];
  const ticks: Years['ticks'] = [];
  let state = 7;
  const next = (most: number) => (state = (state * 48271) % 2147483647) % most;
  for (let made = 0; made < bars; made += 1) {
    if (made % 100 === 0) lanes.push(lane(`shape-${made / 100}`, `Shape ${made / 100}`, span(1880, 1979), []));
    const first = 1880 + next(80);
    const at = span(first, first + 2 + next(20), made % 3 === 0 ? 3 : 0);
    const here = lanes[lanes.length - 1];
    const id = `t-${made}`;
    here?.bars.push(bar(id, String(made), at, ['first', 'second', 'any'][made % 3], ['#e4dccb', '#cdd5bb', '#d9722f', '#69717e'][made % 4] ?? null));
    if (made % 5 === 0) {
      ticks.push({ date: String(first), words: String(first), span: span(first, first), kind: 'catalogue', subject: { table: 'treatment', id, name: id }, lane: here?.shape.id ?? null, treatment: id, source });
    }
  }
  return { ...sample(), title: `${bars} treatments`, first: 1877, last: 1985, lanes, ticks, numbers: [], pieces: [], glazes: [] };
}
