// lib/words.ts - numbers and ids as a person reads them. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Run, Vocabulary } from './types';

const nbsp = '\u00a0';

/** 0.614 -> "61 %". Never says 0 % or 100 % of something that is merely very unlikely or very likely. */
export function odds(p: number): string {
  if (!Number.isFinite(p)) return '–';
  if (p <= 0) return `0${nbsp}%`;
  if (p >= 1) return `100${nbsp}%`;
  const percent = p * 100;
  if (percent < 0.1) return `<${nbsp}0.1${nbsp}%`;
  if (percent > 99.9) return `>${nbsp}99.9${nbsp}%`;
  if (percent < 10 && percent.toFixed(1) !== '10.0') return `${percent.toFixed(1)}${nbsp}%`;
  if (percent > 99) return `${percent.toFixed(1)}${nbsp}%`;
  return `${Math.round(percent)}${nbsp}%`;
}

/** Weight of evidence with its sign: "+12.4", "−3.0", "0". */
export function decibans(weight: number): string {
  if (Math.abs(weight) < 0.05) return '0';
  return `${weight > 0 ? '+' : '−'}${Math.abs(weight).toFixed(1)}`;
}

/** What a weight means: 12.4 decibans -> "17 times likelier". */
export function times(weight: number): string {
  if (Math.abs(weight) < 0.05) return 'tells nothing either way';
  const factor = 10 ** (Math.abs(weight) / 10);
  const word = weight > 0 ? 'likelier' : 'less likely';
  if (factor < 1.095) return `slightly ${word}`;
  const shown = factor < 10 ? factor.toFixed(1).replace(/\.0$/, '') : grouped(Math.round(Number(factor.toPrecision(2))));
  return `${shown} times ${word}`;
}

const grouped = (n: number) => n.toLocaleString('en-GB');

export const plural = (n: number, one: string, many = `${one}s`): string => `${grouped(n)}${nbsp}${n === 1 ? one : many}`;

export const runOfYears = ([from, to]: Run): string => (from === to ? `${from}` : `${from}–${to}`);

export function minutes(min: number): string {
  if (min === 0.5) return 'half a minute';
  if (min < 1) return `${Math.round(min * 60)}${nbsp}seconds`;
  if (min < 90) return plural(Number(min.toFixed(min < 10 && min % 1 ? 1 : 0)), 'minute');
  const hours = min / 60;
  return plural(Number(hours.toFixed(hours < 10 && hours % 1 ? 1 : 0)), 'hour');
}

const lookNames: Record<string, string> = {
  date_code: 'date code', shape: 'shape', glaze: 'glaze', mark: 'mark', number: 'number', faults: 'faults', wear: 'wear',
  form: 'form', underside: 'underside', length_mm: 'length', width_mm: 'width', height_mm: 'height',
};
export const lookName = (look: string): string => lookNames[look] ?? look.replaceAll('_', ' ');

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const plain: Record<string, string> = {
  none: 'none', something: 'something, not recognised', worn: 'worn traces', light: 'light', moderate: 'moderate',
  heavy: 'heavy', few: 'few', many: 'many', '*': 'every form', flat: 'flat ware', hollow: 'hollow ware', any: 'any grade',
  first: 'first run', second: 'second',
};
export const plainWord = (value: string): string => plain[value] ?? value;

/** Whether two ids name the same row: "oat" and "pack:oat" do, when only one open pack has it. */
export const sameId = (a: string, b: string): boolean => a === b || a.endsWith(`:${b}`) || b.endsWith(`:${a}`);

const nameIn = (list: readonly { id: string; name: string }[] | undefined, id: string): string | undefined =>
  list?.find((row) => sameId(row.id, id))?.name;

/** The value of a look as the Book names it; ids that the Book does not know stay as they are. */
export function valueName(look: string, value: string, book: Vocabulary | undefined): string {
  if (value in plain) return plainWord(value);
  if (look === 'shape') return nameIn(book?.shapes, value) ?? value;
  if (look === 'glaze') return nameIn(book?.glazes, value) ?? value;
  if (look === 'form') return nameIn(book?.forms, value) ?? value;
  if (look === 'mark') return book?.marks.find((mark) => sameId(mark.id, value))?.wording ?? value;
  if (book?.places.includes(look)) return nameIn(book.ornaments, value) ?? value;
  return value;
}

/** What a treatment carries, as `apart` says it: "fern-pair (70 %) or none" with the names of the Book. */
export const carriedName = (look: string, value: string, book: Vocabulary | undefined): string =>
  value
    .split(' or ')
    .map((one) => {
      const [, id = one, share = ''] = /^(.*?)( \(\d+ %\))$/.exec(one) ?? [];
      return valueName(look, id, book) + share.replace(' %', `${nbsp}%`);
    })
    .join(' or ');

export function money(amount: number | null | undefined, currency: string): string {
  if (amount === null || amount === undefined) return '–';
  const figure = amount.toLocaleString('en-GB', { minimumFractionDigits: 2, maximumFractionDigits: 2 });
  return currency ? `${figure}${nbsp}${currency}` : figure;
}

/** "2026-03-01T09:30:00Z" -> "1 March 2026, 09:30" in the reader's own time zone. */
export function moment(when: string): string {
  const date = new Date(when);
  if (Number.isNaN(date.getTime())) return when;
  const day = date.toLocaleDateString('en-GB', { day: 'numeric', month: 'long', year: 'numeric' });
  return `${day}, ${date.toLocaleTimeString('en-GB', { hour: '2-digit', minute: '2-digit' })}`;
}

export function bytes(n: number): string {
  if (n < 1000) return `${n}${nbsp}bytes`;
  if (n < 1e6) return `${Math.round(n / 1000)}${nbsp}kB`;
  return `${(n / 1e6).toFixed(1)}${nbsp}MB`;
}

/** "a, b and c". */
export function listed(words: readonly string[]): string {
  if (words.length < 2) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
}
