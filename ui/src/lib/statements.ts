// lib/statements.ts - statements about a piece's years, as a page draws and says them. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Dated, DateStatement, Run, Vocabulary } from './types';
import { capital, odds, valueName } from './words';

const MARGIN = 12; // years shown on both sides of nineteen in twenty

/** The years worth showing: those of nineteen in twenty with some on both sides, within those that were considered. */
export function shownYears({ hpd95, by_year }: Dated['date']): Run {
  const last = by_year.first_year + by_year.p.length - 1;
  return [Math.max(by_year.first_year, hpd95[0] - MARGIN), Math.min(last, hpd95[1] + MARGIN)];
}

/** A filled outline of heights 0..1 by year as an SVG path: each year a step, `height` px high, from x = 0 to `width`. */
export function outline(values: readonly number[], firstYear: number, [from, to]: Run, width: number, height: number): string {
  const step = width / (to - from + 1);
  const n = (px: number) => String(Math.round(px * 100) / 100);
  let path = '';
  let open = false;
  for (let year = from; year <= to; year += 1) {
    const value = Math.min(Math.max(values[year - firstYear] ?? 0, 0), 1);
    const x = (year - from) * step;
    if (value > 0.004) {
      path += open ? `V${n(height * (1 - value))}H${n(x + step)}` : `M${n(x)} ${n(height)}V${n(height * (1 - value))}H${n(x + step)}`;
      open = true;
    } else if (open) {
      path += `V${n(height)}Z`;
      open = false;
    }
  }
  return open ? `${path}V${n(height)}Z` : path;
}

/** What a statement takes away beside all the others, in words; empty when it is next to nothing. */
export function cutWords({ cut_before, cut_after }: Pick<DateStatement, 'cut_before' | 'cut_after'>): string {
  const parts = [cut_before >= 0.005 && `${odds(cut_before)} before`, cut_after >= 0.005 && `${odds(cut_after)} after`].filter(
    (part): part is string => typeof part === 'string');
  return parts.length ? `cuts off ${parts.join(' and ')}` : '';
}

/** "treatment t-117" -> "Treatment 117 Fern pair": kinds and ids as the Book names them, where it knows them. */
export function subjectWords(subject: string, book: Vocabulary | undefined, treatment: (id: string) => string | undefined): string {
  const [, kind = '', id = ''] = /^(\S+) (\S+)$/.exec(subject) ?? [];
  if (kind === 'treatment') return `Treatment ${treatment(id) ?? id}`;
  if (kind === 'shape' || kind === 'glaze' || kind === 'mark') return `${capital(kind)} ${valueName(kind, id, book)}`;
  if (kind === 'ornament') return `Ornament ${book?.ornaments.find((one) => one.id === id)?.name ?? id}`;
  if (kind === 'maker') return `Maker ${book?.makers.find((one) => one.id === id)?.name ?? id}`;
  return capital(subject);
}

/** Ids of the treatments that statements speak of, to be asked of the Book. */
export const treatmentsIn = (statements: readonly { subject: string }[]): string[] =>
  [...new Set(statements.flatMap(({ subject }) => /^treatment (\S+)$/.exec(subject)?.[1] ?? []))];
