// routes/years/layout.ts - the rows of the picture from top to bottom, and what stands on each. Pure.
//   Nothing here depends on which years are shown, so turning, zooming and dragging never move a row.
//   in      the answer of /api/years, what is to be shown, the room (narrow, close together)
//   out     rows with their place in px, each with its marks; a mark is what one can reach by keyboard and ask about
// SPDX-License-Identifier: Apache-2.0
import type { Span, Years, YearsBar, YearsGlaze, YearsLane, YearsNumber, YearsPiece, YearsTick } from '../../lib/types';

export type Shown = { ticks: boolean; glazes: boolean; numbers: boolean; pieces: boolean };
export type Options = { shown: Shown; close: boolean; narrow: boolean };

type Any<Kind extends string, What> = { id: string; kind: Kind; row: number; span: Span; what: What };
export type Mark =
  | Any<'own', Years['of']>
  | Any<'lane', YearsLane>
  | Any<'bar', { bar: YearsBar; lane: YearsLane }>
  | Any<'ticks', YearsTick[]>
  | Any<'glaze', YearsGlaze>
  | Any<'number', YearsNumber>
  | Any<'pieces', YearsPiece[]>;

export type RowKind = 'heading' | 'lane' | 'bar' | 'glaze' | 'numbers' | 'loose';
export type Row = {
  kind: RowKind; y: number; height: number; group: number; title: string; detail: string; marks: Mark[];
  treatment: string; // whose glyph leads it
};
export type Layout = { rows: Row[]; height: number; marks: Mark[]; groups: string[] };

const sharp = (first: number, last: number): Span => ({ soft_first: first, first, last, soft_last: last });
const byYear = (a: { span: Span }, b: { span: Span }) => a.span.first - b.span.first || a.span.last - b.span.last;
const inOrder = new Intl.Collator('en-GB', { numeric: true }).compare;

/** Heights in px. Close together, a bar is a hair line without words; narrow, its words stand above it. */
export function heights({ close, narrow }: Options): Record<RowKind, number> {
  const words = narrow ? 24 : 0;
  return {
    heading: 44, lane: narrow ? 62 : 48, bar: close ? 9 : 32 + words, glaze: close ? 14 : narrow ? 42 : 26,
    numbers: narrow ? 48 : 26, loose: 30 + words,
  };
}

export function layOut(years: Years, options: Options): Layout {
  const { shown } = options;
  const tall = heights(options);
  const rows: Row[] = [];
  const marks: Mark[] = [];
  const groups: string[] = [];
  let y = 0;
  const add = (kind: RowKind, title: string, detail: string, treatment = ''): Row => {
    const row: Row = {
      kind, y, height: tall[kind], group: groups.length - 1, title, detail, marks: [], treatment };
    rows.push(row);
    y += row.height;
    return row;
  };
  const put = (row: Row, made: Mark) => {
    row.marks.push(made);
    marks.push(made);
  };
  const barsOf = new Map(years.lanes.map((lane) => [lane.shape.id, new Set(lane.bars.map((bar) => bar.treatment.id))]));
  // A use of a treatment stands on its bar; what has no bar here stands on the lane, what has no lane on the first row.
  const ownerOf = ({ lane, treatment }: { lane: string | null; treatment: string | null }): string => {
    const bars = barsOf.get(lane ?? '');
    if (!lane || !bars) return '';
    return treatment && bars.has(treatment) ? `t:${lane}:${treatment}` : lane;
  };
  const ticksOf = together(shown.ticks ? years.ticks : [], ownerOf, ({ span }) => `${span.first}-${span.last}`);
  const piecesOf = together(shown.pieces ? years.pieces : [], ownerOf, ({ median }) => String(median));
  const numbersOf = new Map<string, YearsNumber[]>();
  for (const one of shown.numbers ? years.numbers : []) numbersOf.set(one.shape, [...(numbersOf.get(one.shape) ?? []), one]);
  const putBoth = (row: Row, owner: string) => {
    const index = rows.length - 1;
    const ticks = (ticksOf.get(owner) ?? []).map((some): Mark => ({
      id: `u-${index}-${some[0]?.span.first}-${some[0]?.span.last}`, kind: 'ticks', row: index, span: some[0]?.span ?? sharp(0, 0), what: some,
    }));
    for (const made of ticks.sort(byYear)) put(row, made);
    const pieces = (piecesOf.get(owner) ?? []).map((some): Mark => {
      const year = some[0]?.median ?? 0;
      return { id: `p-${index}-${year}`, kind: 'pieces', row: index, span: sharp(year, year), what: some };
    });
    for (const made of pieces.sort(byYear)) put(row, made);
  };

  // A lane has its own years on its head; anything else has them on the first row, with what belongs to no lane.
  const own = years.of.span && !years.lanes.some((lane) => lane.shape.id === years.of.id) ? years.of.span : null;
  if (own || ticksOf.has('') || piecesOf.has('')) {
    groups.push(years.of.name);
    const row = add('loose', own || ticksOf.has('') ? years.of.name : 'Pieces not placed', '');
    if (own) put(row, { id: 'own', kind: 'own', row: rows.length - 1, span: own, what: years.of });
    putBoth(row, '');
  }
  const glazes = years.glazes.flatMap((glaze) => (glaze.span ? [{ glaze, span: glaze.span }] : []));
  if (shown.glazes && glazes.length) {
    groups.push('Glazes');
    add('heading', 'Glazes', 'when each came in');
    for (const { glaze, span } of glazes.sort(byYear)) {
      const row = add('glaze', glaze.name, '');
      put(row, { id: `g-${rows.length - 1}`, kind: 'glaze', row: rows.length - 1, span, what: glaze });
    }
  }
  for (const lane of [...years.lanes].sort(byBeginning)) {
    groups.push(lane.shape.name);
    const head = add('lane', lane.shape.name, lane.maker?.name ?? '');
    if (lane.span) put(head, { id: `s-${rows.length - 1}`, kind: 'lane', row: rows.length - 1, span: lane.span, what: lane });
    putBoth(head, lane.shape.id);
    const bars = [...lane.bars].sort((a, b) => byYear(a, b) || inOrder(a.treatment.number, b.treatment.number));
    for (const bar of bars) {
      const { number, name, id } = bar.treatment;
      const row = add('bar', [number, name].filter(Boolean).join('\u2002'), '', id);
      put(row, { id: `b-${rows.length - 1}`, kind: 'bar', row: rows.length - 1, span: bar.span, what: { bar, lane } });
      putBoth(row, `t:${lane.shape.id}:${id}`);
    }
    const numbers = numbersOf.get(lane.shape.id) ?? [];
    if (numbers.length) {
      const row = add('numbers', 'Numbers', '');
      for (const one of [...numbers].sort((a, b) => a.line - b.line || a.number - b.number)) {
        const year = Math.floor(one.dated ? one.year : one.line);
        const span = sharp(year, year);
        put(row, { id: `n-${rows.length - 1}-${row.marks.length}`, kind: 'number', row: rows.length - 1, span, what: one });
      }
    }
  }
  return { rows, height: y, marks, groups };
}

function byBeginning(a: YearsLane, b: YearsLane): number {
  const first = (lane: YearsLane) => lane.span?.first ?? Math.min(...lane.bars.map((bar) => bar.span.first), 9999);
  return first(a) - first(b) || inOrder(a.shape.name, b.shape.name);
}

/** By owner, then those of one time together. */
function together<T>(all: readonly T[], owner: (one: T) => string, time: (one: T) => string): Map<string, T[][]> {
  const owners = new Map<string, Map<string, T[]>>();
  for (const one of all) {
    const of = owner(one);
    const times = owners.get(of) ?? new Map<string, T[]>();
    owners.set(of, times);
    const key = time(one);
    const some = times.get(key);
    if (some) some.push(one);
    else times.set(key, [one]);
  }
  return new Map([...owners].map(([of, times]) => [of, [...times.values()]]));
}

/** The rows of which something lies between two heights, by index: first and one past the last. */
export function rowsBetween(rows: readonly Row[], top: number, bottom: number): [number, number] {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    const row = rows[middle];
    if (row && row.y + row.height <= top) low = middle + 1;
    else high = middle;
  }
  let end = low;
  while (end < rows.length && (rows[end]?.y ?? 0) < bottom) end += 1;
  return [low, end];
}
