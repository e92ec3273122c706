// routes/years/picture.ts - the whole chronology as one SVG that needs nothing else: title, rows, axes, legend, and a note
//   of where the data came from. Pure.
//   in      what the page shows, the ink as plain colours, drawings as data: addresses, fonts as data: addresses
//   out     text of an SVG document, and its size in px
// SPDX-License-Identifier: Apache-2.0
import type { Years } from '../../lib/types';
import { axis, cut, esc, Fades, grid, hatchOn, head, HEADS, paint, rowMarks, rowWords, textWidth, words, type Ink, type View } from './draw';
import { layOut, type Options } from './layout';
import type { Window } from './window';

export type Picture = {
  years: Years; window: Window; options: Options; width: number; ink: Ink;
  subtitle: string; note: string[]; lead: string; glyphs: ReadonlyMap<string, string>; fonts: string;
};

export const MARGIN = 40;
const RIBBON = 72; // px that the ornament's ribbon is high, when the picture is wide enough for it
/** Room for the words at the left of the rows. */
export const gutterOf = (options: Options, width: number): number => (options.narrow ? 0 : Math.round(Math.min(Math.max(width * 0.23, 210), 330)));

export function pictureOf(picture: Picture): { svg: string; width: number; height: number } {
  const { years, window, options, ink } = picture;
  const width = picture.width;
  const inner = width - 2 * MARGIN;
  const layout = layOut(years, options);
  const view: View = { plot: { left: gutterOf(options, inner), right: inner, window }, options, ink };
  const fades = new Fades();
  const parts: string[] = [];
  let y = MARGIN;
  const put = (x: number, content: string) => parts.push(`<g transform="translate(${x} ${Math.round(y)})">${content}</g>`);

  put(MARGIN, words(cut(years.title, 38, inner), { x: 0, y: 34, size: 38, fill: ink.ink, font: ink.serif, weight: 500 }) +
    words(cut(picture.subtitle, 17, inner), { x: 0, y: 62, size: 17, fill: ink.soft, font: ink.sans }));
  y += 96;
  if (picture.lead) {
    // The rim unrolled, as on the page: what all of this is about.
    put(MARGIN, `<image href="${esc(picture.lead)}" y="-14" width="${inner}" height="${RIBBON}" preserveAspectRatio="xMinYMid meet"/>`);
    y += RIBBON + 10;
  }
  put(MARGIN, axis(view.plot, 0, ink));
  y += 18;

  const room = view.plot.left ? view.plot.left - 16 : inner;
  const lead = picture.glyphs.size ? LEAD : 0;
  const rows = layout.rows.map((row) => rowMarks(row, view, fades)).join('');
  const glyphs = layout.rows.map((row) => glyphAt(row.y, row.height, options, picture.glyphs.get(row.treatment))).join('');
  put(MARGIN, `<clipPath id="plot"><rect x="${view.plot.left - 2}" y="-12" width="${inner - view.plot.left + 4}" height="${layout.height + 24}"/></clipPath>` +
    `<g clip-path="url(#plot)">${grid(view.plot, 0, layout.height, ink)}</g>${layout.rows.map((row) => rowWords(row, view, room, lead)).join('')}${glyphs}<g clip-path="url(#plot)">${rows}</g>`);
  y += layout.height + 8;
  put(MARGIN, axis(view.plot, 14, ink));
  y += 44;
  const key = legend(years, options, inner, ink, fades);
  put(MARGIN, key.svg);
  y += key.height + 14;
  const lines = picture.note.flatMap((sentence) => wrapped(sentence, 13.5, inner));
  put(MARGIN, lines.map((line, i) => words(line, { x: 0, y: 14 + i * 19, size: 13.5, fill: ink.soft, font: ink.sans })).join(''));
  y += lines.length * 19 + MARGIN;

  const height = Math.ceil(y);
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="t d">` +
    `<title id="t">${esc(years.title)}</title><desc id="d">${esc([picture.subtitle, ...picture.note].join(' '))}</desc>` +
    `<defs>${picture.fonts ? `<style>${picture.fonts}</style>` : ''}${fades.defs(ink)}</defs>` +
    `<rect width="${width}" height="${height}" fill="${ink.paper}"/>${parts.join('')}</svg>`;
  return { svg, width, height };
}

export const LEAD = 34; // px that a row's glyph takes
/** Where the glyph of a row stands; nothing without one or when rows are close together. */
export function glyphAt(y: number, height: number, options: Options, href: string | undefined): string {
  if (!href || options.close) return '';
  const size = options.narrow ? 24 : 28;
  return `<image href="${esc(href)}" x="0" y="${options.narrow ? y + 1 : y + (height - size) / 2}" width="${size}" height="${size}"/>`;
}

/** What the marks mean: only those that the picture shows. */
export function legend(years: Years, { shown }: Options, width: number, ink: Ink, fades: Fades): { svg: string; height: number } {
  const entries: [string, string][] = [];
  const bars = years.lanes.flatMap((lane) => lane.bars);
  const colour = paint(bars.find((bar) => paint(bar.glaze?.colour ?? null))?.glaze?.colour ?? null) ?? '#cccccc';
  const soft = { soft_first: 0, first: 3, last: 8, soft_last: 11 };
  const sharp = { soft_first: 0, first: 0, last: 8, soft_last: 8 };
  const bar = (span: typeof soft) => `<rect x="0" y="-10" width="34" height="11" fill="${fades.fill(colour, span)}" stroke="${fades.fill(ink.line, span)}"/>`;
  if (bars.length) entries.push([bar(sharp), 'made, in the colour of its glaze']);
  if (bars.some(({ span }) => span.soft_first < span.first || span.soft_last > span.last)) entries.push([bar(soft), 'end known only about']);
  if (bars.some(({ grade }) => grade === 'second')) entries.push([`${bar(sharp)}<rect x="0" y="-10" width="34" height="11" fill="${hatchOn(colour)}"/>`, 'second']);
  if (bars.some(({ stated }) => !stated)) entries.push([`<rect x="0" y="-10" width="34" height="11" fill="${colour}" stroke="${ink.line}" stroke-dasharray="4 3"/>`, 'years not recorded, but follow']);
  if (years.lanes.some((lane) => lane.span)) entries.push([`<rect x="0" y="-6" width="34" height="3" fill="${ink.line}"/>`, 'the shape was made']);
  if (shown.glazes && years.glazes.length) entries.push([`<circle cx="17" cy="-5" r="7" fill="${colour}" stroke="${ink.ink}" stroke-width="1.25"/>`, 'a glaze comes in']);
  if (shown.ticks) {
    for (const kind of Object.keys(HEADS).filter((one) => years.ticks.some((tick) => tick.kind === one))) entries.push([head(kind, 17, -4.5, ink), kind]);
  }
  if (shown.numbers && years.numbers.length) {
    entries.push([`<path d="M17-13V-3" stroke="${ink.ink}" stroke-width="1.5"/>`, 'dated number']);
    if (years.numbers.some(({ dated }) => !dated)) entries.push([`<path d="M17-12V-4" stroke="${ink.line}"/>`, 'number dated by its place']);
    if (years.numbers.some(({ outlier }) => outlier)) entries.push([words('12?', { x: 17, y: -1, size: 12, fill: ink.ink, font: ink.sans, anchor: 'middle' }), 'out of step']);
  }
  if (shown.pieces && years.pieces.some(({ decided }) => decided)) entries.push([`<circle cx="17" cy="-4.5" r="4" fill="${ink.ink}"/>`, 'a piece of yours']);
  if (shown.pieces && years.pieces.some(({ decided }) => !decided)) entries.push([`<circle cx="17" cy="-4.5" r="4" fill="${ink.paper}" stroke="${ink.ink}" stroke-width="1.5"/>`, 'yours, not decided']);
  let x = 0;
  let y = 16;
  const placed = entries.map(([drawing, text]) => {
    const wide = 44 + textWidth(text, 13.5) + 22;
    if (x > 0 && x + wide > width) {
      x = 0;
      y += 26;
    }
    const made = `<g transform="translate(${Math.round(x)} ${y})">${drawing}${words(text, { x: 44, y: 0, size: 13.5, fill: ink.soft, font: ink.sans })}</g>`;
    x += wide;
    return made;
  });
  return { svg: placed.join(''), height: entries.length ? y + 8 : 0 };
}

/** A sentence in lines that fit. */
export function wrapped(text: string, size: number, room: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line !== '' && textWidth(longer, size) > room) {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}
