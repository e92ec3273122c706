// routes/years/draw.ts - rows and axis as SVG text. The page and the exported picture are drawn by the same lines.
//   in      rows from layout.ts, the plot (where which year lies), the ink
//   out     text of SVG elements; everything that comes from data is escaped; px, y down
//   A bar is its treatment's glaze between two lines of ink. Its soft ends fall off evenly from the year that is sure to
//   the year that is no longer possible, as the weights do by which the program dates.
// SPDX-License-Identifier: Apache-2.0
import type { Span, YearsNumber, YearsPiece } from '../../lib/types';
import { heights, type Mark, type Options, type Row } from './layout';
import { xOf, yearLines, type Plot } from './window';
import { listed, plainWord, plural } from '../../lib/words';

/** Colours and fonts: names of the page's own, or what they stand for when the picture has to stand alone. */
export type Ink = { paper: string; ink: string; soft: string; line: string; rule: string; focus: string; serif: string; sans: string };
export const pageInk: Ink = {
  paper: 'var(--paper)', ink: 'var(--ink)', soft: 'var(--soft)', line: 'var(--line)', rule: 'var(--rule)', focus: 'var(--focus)',
  serif: 'var(--serif)', sans: 'var(--sans)',
};
export type View = { plot: Plot; options: Options; ink: Ink; active?: string; chosen?: string; optionId?: (mark: Mark) => string };

export const esc = (text: string): string =>
  text.replace(/[&<>"']/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' })[c] ?? c);
/** A colour from the data, when it is one. */
export const paint = (colour: string | null): string | null => (colour && /^#[0-9a-f]{3,8}$/i.test(colour) ? colour : null);
const n = (px: number): string => (Math.round(px * 10) / 10).toString();

// Widths of letters in parts of the type size, for cutting words to their room; rather too wide than too narrow.
const WIDTHS: [RegExp, number][] = [[/[iljtfrI.,:;'|!()[\] ]/, 0.31], [/[mwMW@%]/, 0.86], [/[A-Z&]/, 0.66], [/[0-9]/, 0.51]];
const known = new Map<string, number>();
function widthOf(c: string): number {
  let width = known.get(c);
  if (width === undefined) known.set(c, (width = WIDTHS.find(([some]) => some.test(c))?.[1] ?? 0.53));
  return width;
}
export function textWidth(text: string, size: number): number {
  let sum = 0;
  for (const c of text) sum += widthOf(c);
  return sum * size;
}
export function cut(text: string, size: number, room: number): string {
  if (textWidth(text, size) <= room) return text;
  let kept = '';
  let width = widthOf('…') * size;
  for (const c of text) {
    width += widthOf(c) * size;
    if (width > room) break;
    kept += c;
  }
  return kept === '' ? '' : `${kept.trimEnd()}…`;
}

type Words = { x: number; y: number; size: number; fill: string; font: string; anchor?: string; weight?: number; style?: string };
export function words(text: string, { x, y, size, fill, font, anchor = 'start', weight = 400, style }: Words): string {
  return `<text x="${n(x)}" y="${n(y)}" font-size="${size}" fill="${fill}" font-family="${esc(font)}" font-weight="${weight}"` +
    `${anchor === 'start' ? '' : ` text-anchor="${anchor}"`}${style ? ` font-style="${style}"` : ''}>${esc(text)}</text>`;
}

/** Gradients that soft ends need; each kind once. A share of the bar's width from its left end to where it is sure. */
export class Fades {
  #made = new Map<string, string>();
  fill(colour: string, span: Span): string {
    const whole = span.soft_last + 1 - span.soft_first;
    const left = (span.first - span.soft_first) / whole;
    const right = (span.soft_last - span.last) / whole;
    if (left <= 0 && right <= 0) return colour;
    const id = `fade-${colour.replace(/[^a-z0-9]/gi, '')}-${Math.round(left * 1000)}-${Math.round(right * 1000)}`;
    if (!this.#made.has(id)) {
      const stop = (at: number, opacity: number) => `<stop offset="${at.toFixed(4)}" stop-color="${colour}" stop-opacity="${opacity}"/>`;
      this.#made.set(id, `<linearGradient id="${id}">${left > 0 ? stop(0, 0) : ''}${stop(left, 1)}${stop(1 - right, 1)}${right > 0 ? stop(1, 0) : ''}</linearGradient>`);
    }
    return `url(#${id})`;
  }
  defs(ink: Ink): string {
    const hatch = (id: string, colour: string) =>
      `<pattern id="${id}" width="5" height="5" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><path d="M0 0V5" stroke="${colour}" stroke-opacity="0.6" stroke-width="1.25"/></pattern>`;
    return hatch('hatch-dark', '#25211b') + hatch('hatch-light', '#fbf8f1') + hatch('hatch', ink.ink) + [...this.#made.values()].join('');
  }
}

/** The hatching that shows on a glaze; without a glaze the bar is paper. */
export function hatchOn(colour: string | null): string {
  const hex = colour?.length === 7 ? colour : null;
  if (!hex) return 'url(#hatch)';
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => parseInt(hex.slice(at, at + 2), 16));
  return 0.299 * r + 0.587 * g + 0.114 * b > 110 ? 'url(#hatch-dark)' : 'url(#hatch-light)';
}

const edges = (plot: Plot, span: Span): [number, number] => {
  // A bar that runs far out of the window is cut well outside it: browsers lose precision with very large numbers.
  const wide = (plot.right - plot.left) * 60;
  return [Math.max(xOf(plot, span.soft_first), plot.left - wide), Math.min(xOf(plot, span.soft_last + 1), plot.right + wide)];
};
const middle = (plot: Plot, span: Span): number => xOf(plot, (span.first + span.last + 1) / 2);

/** Heads of dated uses, by kind: told apart by their outline, not by colour. */
export const HEADS: Record<string, (x: number, y: number) => string> = {
  catalogue: (x, y) => `M${n(x - 3.5)} ${n(y - 3.5)}h7v7h-7Z`,
  advertisement: (x, y) => `M${n(x)} ${n(y - 4.5)}l4.5 8h-9Z`,
  'order form': (x, y) => `M${n(x)} ${n(y - 4.5)}l4.5 4.5-4.5 4.5-4.5-4.5Z`,
  'dated mark': (x, y) => `M${n(x - 1.5)} ${n(y - 4.5)}h3v3h3v3h-3v3h-3v-3h-3v-3h3Z`,
  letter: (x, y) => `M${n(x - 4.5)} ${n(y - 3)}h9v6h-9ZM${n(x - 4.5)} ${n(y - 3)}l4.5 3.5 4.5-3.5`,
  find: (x, y) => `M${n(x)} ${n(y + 4.5)}l4.5-8h-9Z`,
};
const HOLLOW = new Set(['letter']);
const otherHead = (x: number, y: number) => `M${n(x - 4)} ${n(y)}h8`;
export function head(kind: string, x: number, y: number, ink: Ink): string {
  const hollow = HOLLOW.has(kind) || !(kind in HEADS);
  return `<path d="${(HEADS[kind] ?? otherHead)(x, y)}" fill="${hollow ? ink.paper : ink.ink}" stroke="${hollow ? ink.ink : ink.paper}" stroke-width="${hollow ? 1.3 : 1}"/>`;
}

// Where the parts of a row stand, in px from its top.
function parts(row: Row, options: Options): { words: number; bar: number; thick: number } {
  const tall = heights(options)[row.kind];
  if (row.kind === 'bar' && options.close) return { words: -1, bar: 1, thick: 6 };
  if (row.kind === 'bar') return options.narrow ? { words: 18, bar: 32, thick: 11 } : { words: 20, bar: 11, thick: 11 };
  if (row.kind === 'glaze') return options.close ? { words: -1, bar: 7, thick: 3 } : options.narrow ? { words: 17, bar: 30, thick: 3 } : { words: 17, bar: 13, thick: 3 };
  if (row.kind === 'lane') return options.narrow ? { words: 27, bar: 46, thick: 3 } : { words: 30, bar: 26, thick: 3 };
  if (row.kind === 'loose') return options.narrow ? { words: 18, bar: 36, thick: 3 } : { words: 22, bar: 18, thick: 3 };
  if (row.kind === 'numbers') return { words: options.narrow ? 15 : tall - 10, bar: options.narrow ? 27 : 8, thick: 0 };
  return { words: tall - 10, bar: tall / 2, thick: 0 };
}

/** The words at the left of a row (above it when narrow). They do not depend on the years shown. */
export function rowWords(row: Row, view: View, room: number, lead: number): string {
  const { ink, options } = view;
  const at = parts(row, options);
  if (at.words < 0) return '';
  const y = row.y + at.words;
  if (row.kind === 'heading' || row.kind === 'lane') {
    const name = cut(row.title, 19, room);
    const detail = cut(row.detail, 13.5, room - textWidth(name, 19) - 10);
    return `${row.y > 0 ? `<path d="M0 ${n(row.y + 8.5)}H${n(view.plot.right)}" stroke="${ink.rule}"/>` : ''}` +
      words(name, { x: 0, y, size: 19, fill: ink.ink, font: ink.serif, weight: 500 }).replace('</text>',
        `<tspan dx="10" font-size="13.5" font-weight="400" fill="${ink.soft}" font-family="${esc(ink.sans)}">${esc(detail)}</tspan></text>`);
  }
  const indent = row.kind === 'bar' ? lead : 0;
  const soft = row.kind === 'numbers' || row.kind === 'loose';
  return words(cut(row.title, 14.5, room - indent), { x: indent, y, size: soft ? 13.5 : 14.5, fill: soft ? ink.soft : ink.ink, font: ink.sans });
}

/** What stands on a row in the years shown. Marks that are wholly outside are left out, except the active one. */
export function rowMarks(row: Row, view: View, fades: Fades): string {
  const { plot } = view;
  const drawn = row.marks.filter((mark) => {
    const [a, b] = edges(plot, mark.kind === 'pieces' && mark.what[0] ? around(mark.what[0]) : mark.span);
    return (b >= plot.left - 12 && a <= plot.right + 12) || mark.id === view.active;
  });
  if (row.kind === 'numbers') return numbers(row, drawn, view);
  return drawn.map((mark) => marked(mark, view, shape(mark, row, view, fades))).join('');
}
const around = (piece: YearsPiece): Span => ({ soft_first: piece.hpd68[0], first: piece.hpd68[0], last: piece.hpd68[1], soft_last: piece.hpd68[1] });

function marked(mark: Mark, view: View, drawing: string): string {
  const { optionId } = view;
  if (!optionId) return `<g>${drawing}</g>`;
  return `<g id="${esc(optionId(mark))}" data-mark="${esc(mark.id)}" role="option" aria-selected="${mark.id === view.chosen}" aria-label="${esc(said(mark))}">${drawing}</g>`;
}

function shape(mark: Mark, row: Row, view: View, fades: Fades): string {
  const { plot, ink, options } = view;
  const at = parts(row, options);
  const y = row.y + at.bar;
  const [a, b] = edges(plot, mark.span);
  const width = Math.max(b - a, 2);
  // Something to take hold of, larger than what is seen.
  const touch = (x: number, top: number, w: number, h: number) => `<rect x="${n(x)}" y="${n(top)}" width="${n(w)}" height="${n(h)}" fill="transparent"/>`;
  switch (mark.kind) {
    case 'own':
    case 'lane':
      return touch(a, y - 10, width, 24) +
        `<rect x="${n(a)}" y="${n(y)}" width="${n(width)}" height="3" fill="${fades.fill(ink.line, mark.span)}"/>` +
        active(mark, view, a, y - 2, width, 7);
    case 'glaze': {
      const x = xOf(plot, mark.span.first);
      const comesIn = x >= plot.left && x <= plot.right;
      const colour = paint(mark.what.colour);
      return touch(a - 10, y - 11, width + 10, 22) +
        `<rect x="${n(a)}" y="${n(y - 2)}" width="${n(width)}" height="4" fill="${fades.fill(colour ?? ink.rule, mark.span)}" stroke="${fades.fill(ink.line, mark.span)}" stroke-width="0.75"/>` +
        (comesIn ? `<circle cx="${n(x)}" cy="${n(y)}" r="${options.close ? 5 : 7.5}" fill="${colour ?? ink.paper}" stroke="${ink.ink}" stroke-width="1.25"${colour ? '' : ' stroke-dasharray="2 2"'}/>` : '') +
        active(mark, view, a, y - 6, width, 12);
    }
    case 'bar': {
      const { glaze, grade, stated } = mark.what.bar;
      const colour = paint(glaze?.colour ?? null);
      const dashes = stated && colour ? '' : ` stroke-dasharray="4 3"`;
      const solid = { soft_first: mark.span.first, first: mark.span.first, last: mark.span.last, soft_last: mark.span.last };
      const [c, d] = edges(plot, solid);
      const h = at.thick;
      return (options.close ? '' : touch(a, row.y + 2, width, row.height - 4)) +
        `<rect x="${n(a)}" y="${n(y)}" width="${n(width)}" height="${h}" fill="${colour ? fades.fill(colour, mark.span) : ink.paper}" stroke="${fades.fill(ink.line, mark.span)}" stroke-width="1"${dashes}/>` +
        (grade === 'second' ? `<rect x="${n(c)}" y="${n(y)}" width="${n(Math.max(d - c, 1))}" height="${h}" fill="${hatchOn(colour)}"/>` : '') +
        active(mark, view, a, y, width, h);
    }
    case 'ticks': {
      const x = middle(plot, mark.span);
      const [c, d] = edges(plot, mark.span);
      const top = options.close && row.kind === 'bar' ? y - 1 : y - 5;
      const foot = y + Math.max(at.thick, 3) + (options.close && row.kind === 'bar' ? 1 : 4);
      if (options.close && row.kind === 'bar') {
        return touch(x - 3, top, 6, foot - top) + stem(x, top, foot, ink);
      }
      const kinds = new Set(mark.what.map((use) => use.kind));
      const kind = kinds.size === 1 ? (mark.what[0]?.kind ?? '') : 'several';
      return touch(x - 8, top - 7, 16, foot - top + 7) +
        (mark.span.last > mark.span.first ? `<path d="M${n(c)} ${n(y - 4)}H${n(d)}" stroke="${ink.ink}" stroke-width="1.25"/>` : '') +
        stem(x, top, foot, ink) + (kind === 'several' ? plenty(mark.what.length, x, top - 1, ink) : head(kind, x, top, ink)) +
        active(mark, view, x - 5, top - 5, 10, foot - top + 6);
    }
    case 'pieces': {
      const x = middle(plot, mark.span);
      const small = options.close && row.kind === 'bar';
      const cy = small ? y + at.thick / 2 : y + at.thick + (row.kind === 'bar' ? 4 : 8);
      const one = mark.what[0];
      const spread = mark.what.length === 1 && one && !small ? edges(plot, around(one)) : undefined;
      const decided = mark.what.filter((piece) => piece.decided).length * 2 >= mark.what.length;
      const r = small ? 2.5 : mark.what.length > 1 ? 7 : 4;
      return touch(x - 8, cy - 8, 16, 16) +
        (spread ? `<path d="M${n(spread[0])} ${n(cy)}H${n(spread[1])}" stroke="${ink.soft}" stroke-width="1" stroke-opacity="0.7"/>` : '') +
        `<circle cx="${n(x)}" cy="${n(cy)}" r="${r}" fill="${decided ? ink.ink : ink.paper}" stroke="${decided ? ink.paper : ink.ink}" stroke-width="${decided ? 1 : 1.5}"/>` +
        (mark.what.length > 1 && !small ? words(String(mark.what.length), { x, y: cy + 3.6, size: 10.5, fill: decided ? ink.paper : ink.ink, font: ink.sans, anchor: 'middle', weight: 600 }) : '') +
        active(mark, view, x - r, cy - r, 2 * r, 2 * r);
    }
    case 'number':
      return '';
  }
}

// Ink with paper on both sides, so that it shows on pale glazes by night as well.
const stem = (x: number, top: number, foot: number, ink: Ink): string =>
  `<path d="M${n(x)} ${n(top)}V${n(foot)}" stroke="${ink.paper}" stroke-width="4"/><path d="M${n(x)} ${n(top)}V${n(foot)}" stroke="${ink.ink}" stroke-width="1.5"/>`;
const plenty = (count: number, x: number, y: number, ink: Ink): string =>
  `<circle cx="${n(x)}" cy="${n(y)}" r="6.5" fill="${ink.paper}" stroke="${ink.ink}" stroke-width="1.25"/>` +
  words(String(count), { x, y: y + 3.6, size: 10.5, fill: ink.ink, font: ink.sans, anchor: 'middle', weight: 600 });

function active(mark: Mark, view: View, x: number, y: number, w: number, h: number): string {
  if (mark.id !== view.active) return '';
  const left = Math.max(x, view.plot.left);
  const right = Math.min(x + w, view.plot.right);
  return `<rect x="${n(left - 3)}" y="${n(y - 3)}" width="${n(Math.max(right - left, 4) + 6)}" height="${n(h + 6)}" rx="3" fill="none" stroke="${view.ink.focus}" stroke-width="3"/>`;
}

// Numbers as on a ruler: all have a stroke, and as many as have room their figures; dated ones first.
function numbers(row: Row, drawn: Mark[], view: View): string {
  const { plot, ink, options } = view;
  const base = row.y + parts(row, options).bar;
  const taken: [number, number][] = [];
  const places = new Map<string, string>();
  const some = drawn.flatMap((mark) => (mark.kind === 'number' ? [mark] : []));
  const first = [...some].sort((p, q) => rank(p) - rank(q) || p.what.number - q.what.number);
  for (const mark of first) {
    const x = middle(plot, mark.span);
    const text = `${numberOf(mark.what)}${mark.what.outlier ? '?' : ''}`;
    const half = textWidth(text, 12) / 2 + 4;
    const free = x - half >= plot.left - 8 && x + half <= plot.right + 8 && taken.every(([a, b]) => x + half <= a || x - half >= b);
    if (free || mark.id === view.active) {
      taken.push([x - half, x + half]);
      places.set(mark.id, text);
    }
  }
  const line = `<path d="M${n(plot.left)} ${n(base)}H${n(plot.right)}" stroke="${ink.rule}"/>`;
  return line + some.map((mark) => {
    const x = middle(plot, mark.span);
    const text = places.get(mark.id);
    const guess = !mark.what.dated;
    const label = text ? words(text, { x, y: base + 15, size: 12, fill: guess ? ink.soft : ink.ink, font: ink.sans, anchor: 'middle', ...(guess ? { style: 'italic' } : {}) }) : '';
    const half = text ? textWidth(text, 12) / 2 + 2 : 3;
    return marked(mark, view, `<rect x="${n(x - half)}" y="${n(base - 5)}" width="${n(2 * half)}" height="22" fill="transparent"/>` +
      `<path d="M${n(x)} ${n(base - (guess ? 3 : 5))}V${n(base + 3)}" stroke="${guess ? ink.line : ink.ink}" stroke-width="${guess ? 1 : 1.5}"/>${label}` +
      active(mark, view, x - half, base - 5, 2 * half, 22));
  }).join('');
}
const rank = (mark: Extract<Mark, { kind: 'number' }>): number => (mark.what.outlier ? 2 : mark.what.dated ? 0 : 1);

export function grid(plot: Plot, top: number, bottom: number, ink: Ink): string {
  return yearLines(plot).map(({ year, strong }) =>
    `<path d="M${n(xOf(plot, year))} ${n(top)}V${n(bottom)}" stroke="${ink.rule}" stroke-width="1"${strong ? '' : ' stroke-opacity="0.55"'}/>`).join('');
}
export function axis(plot: Plot, y: number, ink: Ink): string {
  return yearLines(plot).map(({ year, strong }) => {
    const x = xOf(plot, year);
    if (x < plot.left - 1 || x > plot.right - 8) return '';
    return `<path d="M${n(x)} ${n(y + 4)}v6" stroke="${ink.line}"/>` +
      words(String(year), { x, y, size: 13.5, fill: strong ? ink.ink : ink.soft, font: ink.sans, anchor: x < plot.left + 16 ? 'start' : 'middle', weight: strong ? 600 : 400 });
  }).join('');
}

export const numberOf = ({ sequence, number }: YearsNumber): string => `${sequence.toUpperCase()}${number}`;
export const datedIn = ({ low, high, year }: YearsNumber): string =>
  Math.floor(high) > Math.floor(low) ? `${Math.floor(low)} to ${Math.floor(high)}` : String(Math.floor(year));
const ordinal = (grade: string) => (grade === 'any' ? 'first run or second' : plainWord(grade));
/** A mark in a sentence, for those who do not see the picture and for the line below it. */
export function said(mark: Mark): string {
  switch (mark.kind) {
    case 'own':
      return `${mark.what.name}, ${mark.what.words}`;
    case 'lane':
      return [mark.what.shape.name, mark.what.maker?.name, `made ${mark.what.words}`].filter(Boolean).join(', ');
    case 'glaze':
      return `Glaze ${mark.what.name}, ${mark.what.words}`;
    case 'bar': {
      const { bar, lane } = mark.what;
      return [`${bar.treatment.number} ${bar.treatment.name}`.trim(), `on ${lane.shape.name}`, bar.glaze?.name, ordinal(bar.grade), bar.words, bar.stated ? '' : 'not recorded, but as its shape, glaze and ornaments were'].filter(Boolean).join(', ');
    }
    case 'ticks': {
      const [one] = mark.what;
      if (mark.what.length === 1 && one) return `${one.subject.name || one.subject.id}: ${one.kind}, ${one.words}${one.source ? `, ${one.source.title}` : ''}`;
      return `${one?.subject.name ?? ''}: ${plural(mark.what.length, 'dated use')}, ${one?.words ?? ''}, ${listed([...new Set(mark.what.map((use) => use.kind))])}`;
    }
    case 'number': {
      const { line, low, high, dated, outlier, seconds } = mark.what;
      return `Number ${numberOf(mark.what)}${seconds ? ' of seconds' : ''}, ${dated ? 'dated' : 'by its place in the sequence about'} ${dated ? datedIn(mark.what) : Math.floor(line)}${dated ? '' : `, within ${Math.floor(low)} to ${Math.floor(high)}`}${outlier ? ', out of step with its neighbours' : ''}`;
    }
    case 'pieces': {
      const [one] = mark.what;
      if (mark.what.length === 1 && one) return `Your ${one.id}, ${one.form?.name ?? 'form not known'}, ${one.decided ? 'decided' : 'not decided'}, about ${one.median}, 68 % within ${one.hpd68[0]} to ${one.hpd68[1]}`;
      return `${plural(mark.what.length, 'piece')} of yours about ${one?.median}: ${listed(mark.what.slice(0, 8).map((piece) => piece.id))}${mark.what.length > 8 ? ' and more' : ''}`;
    }
  }
}
