// routes/worth/words.ts - prices, intervals and parts of a price in words; never a figure without its doubt. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Interval } from '../../lib/api_worth';
import type { Problem } from '../../lib/types';

const nbsp = '\u00a0';
/** A price to about two figures that carry meaning: 1234.5 -> "1,230", 47.3 -> "47", 3.456 -> "3.5". */
export function price(amount: number, currency = ''): string {
  const size = Math.abs(amount);
  const rounded = size >= 1000 ? Math.round(amount / 10) * 10 : size >= 10 ? Math.round(amount) : Math.round(amount * 10) / 10;
  const text = rounded.toLocaleString('en-GB', { maximumFractionDigits: size < 10 ? 1 : 0 });
  return currency ? `${text}${nbsp}${currency}` : text;
}
/** A price as it was paid, to the penny. */
export const paid = (amount: number, currency: string): string =>
  `${amount.toLocaleString('en-GB', { minimumFractionDigits: Number.isInteger(amount) ? 0 : 2, maximumFractionDigits: 2 })}${nbsp}${currency}`;
export const range = ([low, high]: readonly [number, number], currency = ''): string => `${price(low)} to ${price(high, currency)}`;
export const intervalWords = (worth: Interval, currency: string): string =>
  `about ${price(worth.median, currency)}; as likely as not ${range(worth.fifty)}, nine times in ten ${range(worth.ninety)}`;

/** 1.25 -> "+25 %", 0.8 -> "−20 %". */
export function factorWords(factor: number): string {
  const percent = Math.round((factor - 1) * 100);
  return percent === 0 ? `0${nbsp}%` : `${percent > 0 ? '+' : '−'}${Math.abs(percent)}${nbsp}%`;
}

/** No sale, or too few of them: then a page says how to begin instead of failing. */
export const lacksSales = (problems: readonly Problem[]): boolean => problems.length > 0 && problems.every((problem) => problem.where === 'sales');

/** A figure as typed, with a comma or a point; absent when blank, NaN when it is none. */
export const figure = (text: string): number | undefined => (text.trim() === '' ? undefined : Number(text.trim().replace(',', '.')));

/** Where the parts of an interval lie between 0 and `most`, in percent. */
export function barOf({ median, fifty, ninety }: Interval, most: number): { whole: [number, number]; half: [number, number]; middle: number } {
  const at = (amount: number) => Math.min(Math.max((100 * amount) / Math.max(most, 1e-9), 0), 100);
  return { whole: [at(ninety[0]), at(ninety[1]) - at(ninety[0])], half: [at(fifty[0]), at(fifty[1]) - at(fifty[0])], middle: at(median) };
}

/** Whole years for the axis of a chart, with room for their figures; never one twice. */
export function yearTicks(years: readonly number[], width: number): number[] {
  const first = Math.ceil(Math.min(...years));
  const last = Math.floor(Math.max(...years));
  const step = [1, 2, 5, 10, 20, 50].find((size) => (last - first) / size <= Math.max(width / 70, 2)) ?? 100;
  const out: number[] = [];
  for (let year = Math.ceil(first / step) * step; year <= last; year += step) out.push(year);
  return out;
}

/** Where an asked price lies among what such sales bring; follows "25 USD ...". */
export function askedWords(asked: number, { fifty, ninety }: Interval): string {
  if (asked < ninety[0]) return 'is less than nineteen in twenty such sales bring';
  if (asked < fifty[0]) return 'is less than three in four such sales bring';
  if (asked <= fifty[1]) return 'is about what such sales bring';
  if (asked <= ninety[1]) return 'is more than three in four such sales bring';
  return 'is more than nineteen in twenty such sales bring';
}
