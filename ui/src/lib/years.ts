// lib/years.ts - the span of years that a date in words or EDTF names, for placing it on a chart. Pure.
//   Only whole years count here; how an approximate end falls off is the engine's business.
// SPDX-License-Identifier: Apache-2.0
import type { Run } from './types';

/** "1931~/1940" -> [1931, 1940]; "193X" and "the 1930s" -> [1930, 1939]; "about 1931" -> [1931, 1931]; else absent. */
export function spanOf(text: string): Run | undefined {
  const decades = text.replace(/(\d{3})0s/g, '$1X');
  const years = [...decades.matchAll(/(?<![\dX])(\d{1,4}X{0,3})(?![\dX])/gi)]
    .map(([, year]) => year ?? '')
    .filter((year) => year.length === 4);
  const first = years[0];
  const last = years[years.length - 1];
  if (first === undefined || last === undefined) return undefined;
  return [Number(first.replace(/X/gi, '0')), Number(last.replace(/X/gi, '9'))];
}
