// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { cut, esc, Fades, grid, hatchOn, pageInk, rowMarks, said, textWidth, type Ink, type View } from './draw';
import { heights, layOut, markById, rowsBetween, type Options } from './layout';
import { pictureOf, wrapped } from './picture';
import { many, sample, span } from './sample';
import { held, LEAST, panned, pinched, showing, wholeOf, xOf, yearAt, yearLines, zoomed } from './window';

const limits = { from: 1900, to: 1980 };
const everything: Options = { shown: { ticks: true, glazes: true, numbers: true, pieces: true }, close: false, narrow: false };
const plainInk: Ink = { paper: '#fff', ink: '#111', soft: '#333', line: '#555', rule: '#ccc', focus: '#00f', serif: "'A', serif", sans: "'B', sans-serif" };

describe('The window of years', () => {
  it('shows all with air on both sides', () => expect(wholeOf(1909, 1962)).toEqual({ from: 1907, to: 1965 }));
  it('never leaves its limits, and keeps its width when it is pushed against them', () => {
    expect(held({ from: 1890, to: 1910 }, limits)).toEqual({ from: 1900, to: 1920 });
    expect(panned({ from: 1960, to: 1975 }, 40, limits)).toEqual({ from: 1965, to: 1980 });
    expect(held({ from: 1800, to: 2000 }, limits)).toEqual(limits);
  });
  it('never shows fewer years than can be told apart', () => {
    const close = zoomed({ from: 1930, to: 1936 }, 100, 1933, limits);
    expect(close.to - close.from).toBeCloseTo(LEAST);
    expect(held({ from: 1930, to: 1931 }, limits)).toEqual({ from: 1928.5, to: 1932.5 });
  });
  it('keeps the year under the finger where it is when it zooms', () => {
    const before = { from: 1920, to: 1960 };
    const after = zoomed(before, 2, 1930, limits);
    const at = (window: typeof before) => (1930 - window.from) / (window.to - window.from);
    expect(at(after)).toBeCloseTo(at(before));
    expect(after.to - after.from).toBeCloseTo(20);
  });
  it('comes back from zooming in and out by the same factor', () => {
    const there = zoomed({ from: 1920, to: 1960 }, 1.5, 1944, limits);
    const back = zoomed(there, 1 / 1.5, 1944, limits);
    expect(back.from).toBeCloseTo(1920);
    expect(back.to).toBeCloseTo(1960);
  });
  it('keeps both years under two fingers that spread', () => {
    const begun = { from: 1920, to: 1960 };
    const now = pinched(begun, [0.4, 0.6], [0.3, 0.7], limits);
    expect(now.from + 0.3 * (now.to - now.from)).toBeCloseTo(1936);
    expect(now.from + 0.7 * (now.to - now.from)).toBeCloseTo(1944);
  });
  it('moves as little as it takes to show a bar, and not at all when it is shown', () => {
    expect(showing({ from: 1920, to: 1940 }, 1925, 1935, limits)).toEqual({ from: 1920, to: 1940 });
    expect(showing({ from: 1920, to: 1940 }, 1945, 1950, limits)).toEqual({ from: 1931, to: 1951 });
    expect(showing({ from: 1920, to: 1930 }, 1950, 1979, limits)).toEqual({ from: 1959.5, to: 1969.5 });
  });
  it('turns years into px and back', () => {
    const plot = { left: 200, right: 1000, window: { from: 1900, to: 1940 } };
    expect(xOf(plot, 1920)).toBe(600);
    expect(yearAt(plot, xOf(plot, 1913.25))).toBeCloseTo(1913.25);
  });
  it('draws lines at round years with room for their figures', () => {
    const lines = yearLines({ left: 0, right: 600, window: { from: 1902, to: 1963 } });
    expect(lines.map(({ year }) => year)).toEqual([1910, 1920, 1930, 1940, 1950, 1960]);
    expect(yearLines({ left: 0, right: 1100, window: { from: 1925, to: 1941 } }).filter(({ strong }) => strong).map(({ year }) => year)).toEqual([1930, 1940]);
  });
});

describe('The rows', () => {
  it('stand one under the other without gap or overlap', () => {
    for (const narrow of [false, true]) {
      for (const close of [false, true]) {
        const { rows, height } = layOut(sample(), { ...everything, narrow, close });
        let y = 0;
        for (const row of rows) {
          expect(row.y).toBe(y);
          expect(row.height).toBe(heights({ ...everything, narrow, close })[row.kind]);
          y += row.height;
        }
        expect(height).toBe(y);
      }
    }
  });
  it('go by the year in which shape and treatment begin', () => {
    const titles = layOut(sample(), everything).rows.filter(({ kind }) => kind === 'lane' || kind === 'bar').map(({ title }) => title);
    expect(titles).toEqual(['Harrow', '101\u2002Fern 101', '117\u2002Fern 117', '617\u2002Fern 617', 'Winnow', '303\u2002Fern 303']);
  });
  it('put a dated use on its treatment, else on its shape, else on the first row', () => {
    const { rows } = layOut(sample(), everything);
    const withTicks = rows.filter((row) => row.marks.some(({ kind }) => kind === 'ticks')).map(({ kind, title }) => [kind, title]);
    expect(withTicks).toEqual([['loose', 'Fern <pair>'], ['lane', 'Harrow'], ['bar', '117\u2002Fern 117']]);
  });
  it('put dated uses of one year together, and pieces of one year', () => {
    const row = layOut(sample(), everything).rows.find(({ title }) => title.startsWith('117'));
    expect(row?.marks.map(({ kind }) => kind)).toEqual(['bar', 'ticks', 'pieces']);
    const ticks = row?.marks[1];
    expect(ticks?.kind === 'ticks' && ticks.what.map(({ kind }) => kind)).toEqual(['advertisement', 'catalogue']);
  });
  it('put a piece whose treatment is not here on its shape', () => {
    const harrow = layOut(sample(), everything).rows.find(({ title }) => title === 'Harrow');
    const pieces = harrow?.marks.find(({ kind }) => kind === 'pieces');
    expect(pieces?.kind === 'pieces' && pieces.what.map(({ id }) => id)).toEqual(['p-3']);
  });
  it('leave out what is not to be shown', () => {
    const shown = { ticks: false, glazes: false, numbers: false, pieces: false };
    const { marks, rows } = layOut(sample(), { ...everything, shown });
    expect(new Set(marks.map(({ kind }) => kind))).toEqual(new Set(['own', 'lane', 'bar']));
    expect(rows.some(({ kind }) => kind === 'glaze' || kind === 'numbers')).toBe(false);
  });
  it('give every mark a name of its own', () => {
    for (const years of [sample(), many(500)]) {
      const ids = layOut(years, everything).marks.map(({ id }) => id);
      expect(new Set(ids).size).toBe(ids.length);
    }
  });
  it('find a mark by its id, the same one each time, and none by an id that is not there', () => {
    const layout = layOut(sample(), everything);
    for (const mark of layout.marks) expect(markById(layout, mark.id)).toBe(mark);
    for (const id of ['', 'b-0', 'b-9999', 'nonsense', 'u-1']) expect(markById(layout, id)).toBe(undefined);
  });
  it('are found by height as by looking at each', () => {
    const { rows, height } = layOut(many(300), everything);
    for (const [top, bottom] of [[0, 100], [-50, 10], [777, 1999], [height - 3, height + 50], [height, height + 10]] as const) {
      const slow = rows.flatMap((row, i) => (row.y + row.height > top && row.y < bottom ? [i] : []));
      const [first, end] = rowsBetween(rows, top, bottom);
      expect([...Array(end - first).keys()].map((i) => i + first)).toEqual(slow);
    }
  });
});

describe('The drawing', () => {
  const view = (window = { from: 1905, to: 1965 }): View => ({ plot: { left: 200, right: 1000, window }, options: everything, ink: plainInk });
  const rowOf = (title: string) => {
    const row = layOut(sample(), everything).rows.find((one) => one.title.startsWith(title));
    if (!row) throw new Error(title);
    return row;
  };
  it('lets a soft end fall off evenly over its own years, and draws a sharp one plain', () => {
    const fades = new Fades();
    expect(fades.fill('#e4dccb', span(1930, 1939))).toBe('#e4dccb');
    // 3 soft years, 13 sure ones, 3 soft ones: 3/19 and 16/19 of the width
    const name = /#(.+)\)/.exec(fades.fill('#e4dccb', span(1948, 1960, 3)))?.[1];
    expect(fades.defs(plainInk)).toContain(
      `<linearGradient id="${name}"><stop offset="0.0000" stop-color="#e4dccb" stop-opacity="0"/><stop offset="0.1579" stop-color="#e4dccb" stop-opacity="1"/>` +
      '<stop offset="0.8421" stop-color="#e4dccb" stop-opacity="1"/><stop offset="1.0000" stop-color="#e4dccb" stop-opacity="0"/></linearGradient>');
  });
  it('lets a bar reach from the beginning of its first year to the end of its last', () => {
    const drawn = rowMarks(rowOf('117'), view(), new Fades());
    const [, x, width] = /<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="11" fill="#e4dccb"/.exec(drawn) ?? [];
    expect(Number(x)).toBeCloseTo(xOf(view().plot, 1930), 0);
    expect(Number(x) + Number(width)).toBeCloseTo(xOf(view().plot, 1940), 0);
  });
  it('hatches seconds, darkly on pale glazes and palely on dark ones', () => {
    expect(rowMarks(rowOf('617'), view(), new Fades())).toContain('url(#hatch-dark)');
    expect(rowMarks(rowOf('117'), view(), new Fades())).not.toContain('hatch');
    expect(hatchOn('#46484f')).toBe('url(#hatch-light)');
  });
  it('leaves out what lies outside the years shown', () => expect(rowMarks(rowOf('303'), view({ from: 1910, to: 1930 }), new Fades())).toBe(''));
  it('writes nothing from the data unescaped', () => {
    expect(esc('<b a="1">&\'')).toBe('&lt;b a=&quot;1&quot;&gt;&amp;&#39;');
    const years = sample();
    const first = years.lanes[0]?.bars[0];
    if (first?.glaze) first.glaze.colour = '"/><script>';
    const { svg } = pictureOf({ years, window: wholeOf(1909, 1962), options: everything, width: 1600, ink: plainInk, subtitle: '<i>', note: ['<u>'], lead: '', glyphs: new Map(), fonts: '' });
    expect(/<script|<i>|<u>|<ware>|<pair>|Works & /.exec(svg)?.[0]).toBeUndefined();
  });
  it('cuts words to their room and says so', () => {
    expect(cut('Fern pair with rosette', 14, 400)).toBe('Fern pair with rosette');
    const short = cut('Fern pair with rosette', 14, 80);
    expect(short.endsWith('…')).toBe(true);
    expect(textWidth(short, 14)).toBeLessThanOrEqual(80);
    expect(cut('Fern', 14, 3)).toBe('');
  });
  it('draws the grid in the ink it is given', () => expect(grid(view().plot, 0, 10, pageInk)).toContain('stroke="var(--rule)"'));
  it('says each mark in a sentence', () => {
    const sentences = layOut(sample(), everything).marks.map(said);
    expect(sentences).toEqual([
      'Fern <pair>, about 1912 to about 1956',
      'Fern: letter, 1919',
      'Glaze Oat, 1924 to 1949',
      'Harrow, The Works & Sons, made 1924 to 1949',
      'Harrow: catalogue, 1926, Sheet of <ware>',
      'Your p-3, Plate, decided, about 1930, 68 % within 1928 to 1932',
      '101 Fern 101, on Harrow, Oat, first run, 1924 to 1949',
      '117 Fern 117, on Harrow, Oat, first run, 1930 to 1939',
      '117 Fern: 2\u00a0dated uses, 1932, advertisement and catalogue',
      '2\u00a0pieces of yours about 1934: p-1 and p-2',
      '617 Fern 617, on Harrow, Oat, second, 1930 to 1939',
      'Number 101, dated 1924',
      'Number 117, by its place in the sequence about 1930, within 1928 to 1933',
      'Winnow, The Works & Sons, made 1947 to 1962',
      '303 Fern 303, on Winnow, Oat, first run, 1948 to 1960',
    ]);
  });
});

describe('The picture to take away', () => {
  const picture = () => pictureOf({
    years: sample(), window: wholeOf(1909, 1962), options: everything, width: 1600, ink: plainInk, subtitle: '1909 to 1962', lead: 'data:image/svg+xml;base64,AA==',
    note: ['Drawn from the pack Ambrel valley 1.0.0.'], glyphs: new Map([['t-117', 'data:image/svg+xml;base64,BB==']]), fonts: '@font-face{font-family:A}',
  });
  it('holds title, legend, drawings, and where the data came from', () => {
    const { svg } = picture();
    for (const part of ['Fern &lt;pair&gt;', '1909 to 1962', 'made, in the colour of its glaze', 'advertisement', 'a piece of yours', 'Ambrel valley 1.0.0.', 'base64,BB==', '@font-face']) {
      expect(svg).toContain(part);
    }
  });
  it('points nowhere outside itself', () => {
    const { svg } = picture();
    const addresses = [...svg.matchAll(/(?:href|src|url)\s*[=(]\s*["']?([^"')\s>]+)/g)].map(([, address]) => address ?? '');
    expect(addresses.filter((address) => !address.startsWith('#') && !address.startsWith('data:'))).toEqual([]);
    expect(svg.includes('var(--')).toBe(false);
  });
  it('defines every gradient and pattern that it uses', () => {
    const { svg } = picture();
    const used = new Set([...svg.matchAll(/url\(#([^)]+)\)/g)].map(([, id]) => id));
    for (const id of used) expect(svg).toContain(`id="${id}"`);
  });
  it('is as tall as what it holds', () => {
    const { svg, height, width } = picture();
    expect(svg).toContain(`viewBox="0 0 ${width} ${height}"`);
    expect(height).toBeGreaterThan(layOut(sample(), everything).height + 200);
  });
  it('breaks its notes into lines that fit', () => {
    const lines = wrapped('one two three four five six seven eight nine ten', 13, 100);
    expect(lines.join(' ')).toBe('one two three four five six seven eight nine ten');
    for (const line of lines) expect(textWidth(line, 13)).toBeLessThanOrEqual(100);
  });
});
