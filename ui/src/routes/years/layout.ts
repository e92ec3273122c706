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
  kind: RowKind; y: number; height: number; group: number; title: string; detail: string;
  treatment: string; // whose glyph leads it
  readonly marks: Mark[]; // made when they are first asked for: of thousands of rows few are ever near the window
};
export type Layout = { rows: Row[]; height: number; groups: string[]; readonly marks: Mark[] };

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
  const groups: string[] = [];
  let y = 0;
  const add = (kind: RowKind, title: string, detail: string, treatment: string, make: (row: number) => Mark[]) => {
    const index = rows.length;
    let made: Mark[] | undefined;
    rows.push({
      kind, y, height: tall[kind], group: groups.length - 1, title, detail, treatment,
      get marks() {
        return (made ??= make(index));
      },
    });
    y += tall[kind];
  };
  // A use of a treatment stands on its bar; what has no bar here stands on the lane, what has no lane on the first row.
  const lanes = new Set(years.lanes.map((lane) => lane.shape.id));
  const ticksOf = byOwner(shown.ticks ? years.ticks : [], lanes);
  const piecesOf = byOwner(shown.pieces ? years.pieces : [], lanes);
  const numbersOf = new Map<string, YearsNumber[]>();
  for (const one of shown.numbers ? years.numbers : []) {
    const some = numbersOf.get(one.shape);
    if (some) some.push(one);
    else numbersOf.set(one.shape, [one]);
  }
  const both = (row: number, ticks: YearsTick[], pieces: YearsPiece[]): Mark[] => [
    ...together(ticks, ({ span }) => `${span.first}-${span.last}`).map((some): Mark => ({
      id: `u-${row}-${some[0]?.span.first}-${some[0]?.span.last}`, kind: 'ticks', row, span: some[0]?.span ?? sharp(0, 0), what: some,
    })).sort(byYear),
    ...together(pieces, ({ median }) => String(median)).map((some): Mark => {
      const year = some[0]?.median ?? 0;
      return { id: `p-${row}-${year}`, kind: 'pieces', row, span: sharp(year, year), what: some };
    }).sort(byYear),
  ];

  // A lane has its own years on its head; anything else has them on the first row, with what belongs to no lane.
  const own = years.of.span && !lanes.has(years.of.id) ? years.of.span : null;
  const looseTicks = restOf(ticksOf.get(''));
  const loosePieces = restOf(piecesOf.get(''));
  if (own || looseTicks.length || loosePieces.length) {
    groups.push(years.of.name);
    add('loose', own || looseTicks.length ? years.of.name : 'Pieces not placed', '', '', (row) => [
      ...(own ? [{ id: `o-${row}`, kind: 'own', row, span: own, what: years.of } as const] : []), ...both(row, looseTicks, loosePieces),
    ]);
  }
  const glazes = years.glazes.flatMap((glaze) => (glaze.span ? [{ glaze, span: glaze.span }] : []));
  if (shown.glazes && glazes.length) {
    groups.push('Glazes');
    add('heading', 'Glazes', 'when each came in', '', () => []);
    for (const { glaze, span } of glazes.sort(byYear)) {
      add('glaze', glaze.name, '', '', (row) => [{ id: `g-${row}`, kind: 'glaze', row, span, what: glaze }]);
    }
  }
  for (const lane of [...years.lanes].sort(byBeginning)) {
    groups.push(lane.shape.name);
    const ticks = ticksOf.get(lane.shape.id);
    const pieces = piecesOf.get(lane.shape.id);
    add('lane', lane.shape.name, lane.maker?.name ?? '', '', (row) => [
      ...(lane.span ? [{ id: `s-${row}`, kind: 'lane', row, span: lane.span, what: lane } as const] : []),
      ...both(row, restOf(ticks), restOf(pieces)),
    ]);
    const bars = [...lane.bars].sort((a, b) => byYear(a, b) || inOrder(a.treatment.number, b.treatment.number));
    for (const bar of bars) {
      const { number, name, id } = bar.treatment;
      const uses = taken(ticks, id);
      const owned = taken(pieces, id);
      add('bar', number && name ? `${number}\u2002${name}` : number || name, '', id, (row) => {
        const mark: Mark = { id: `b-${row}`, kind: 'bar', row, span: bar.span, what: { bar, lane } };
        return uses || owned ? [mark, ...both(row, uses ?? [], owned ?? [])] : [mark];
      });
    }
    const numbers = numbersOf.get(lane.shape.id);
    if (numbers) {
      add('numbers', 'Numbers', '', '', (row) => numbers.sort((a, b) => a.line - b.line || a.number - b.number).map((one, i) => {
        const year = Math.floor(one.dated ? one.year : one.line);
        return { id: `n-${row}-${i}`, kind: 'number', row, span: sharp(year, year), what: one };
      }));
    }
  }
  let all: Mark[] | undefined;
  return {
    rows, height: y, groups,
    get marks() {
      return (all ??= rows.flatMap((row) => row.marks));
    },
  };
}

/** The mark of an id. The second part of an id is its row, so that no other row's marks need to be made. */
export const markById = ({ rows }: Layout, id: string): Mark | undefined =>
  id ? rows[Number(id.split('-')[1])]?.marks.find((mark) => mark.id === id) : undefined;

function byBeginning(a: YearsLane, b: YearsLane): number {
  const first = (lane: YearsLane) => lane.span?.first ?? Math.min(...lane.bars.map((bar) => bar.span.first), 9999);
  return first(a) - first(b) || inOrder(a.shape.name, b.shape.name);
}

// By lane ('' for none that is here), then by treatment ('' for none). Bars take theirs out; the lane has the rest.
type Owned<T> = Map<string, T[]>;
function byOwner<T extends { lane: string | null; treatment: string | null }>(all: readonly T[], lanes: ReadonlySet<string>): Map<string, Owned<T>> {
  const owners = new Map<string, Owned<T>>();
  for (const one of all) {
    const lane = one.lane && lanes.has(one.lane) ? one.lane : '';
    let own = owners.get(lane);
    if (!own) owners.set(lane, (own = new Map<string, T[]>()));
    const some = own.get(one.treatment ?? '');
    if (some) some.push(one);
    else own.set(one.treatment ?? '', [one]);
  }
  return owners;
}
const restOf = <T>(owned: Owned<T> | undefined): T[] => [...(owned?.values() ?? [])].flat();
function taken<T>(owned: Owned<T> | undefined, treatment: string): T[] | undefined {
  const some = owned?.get(treatment);
  if (some) owned?.delete(treatment);
  return some;
}

/** Those of one time together. */
function together<T>(all: readonly T[], time: (one: T) => string): T[][] {
  const times = new Map<string, T[]>();
  for (const one of all) {
    const key = time(one);
    const some = times.get(key);
    if (some) some.push(one);
    else times.set(key, [one]);
  }
  return [...times.values()];
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
