// routes/book/[table]/[id]/uses.ts - the treatments that carry an ornament, in order of time. Pure.
// SPDX-License-Identifier: Apache-2.0
import { asNamed, list, text } from '../../../../lib/rows';
import type { Row, Run } from '../../../../lib/types';
import { spanOf } from '../../../../lib/years';

export type Use = {
  id: string; number: string; name: string; shape: string; glaze: string; grade: string; places: string[]; years: string;
  span: Run | undefined;
};

export function usesOf(row: Row): Use[] {
  const uses = list(row, 'used_by').map((use): Use => {
    const treatment = (use['treatment'] ?? use) as Row;
    const years = text(use, 'years') || use.years_words || '';
    return {
      id: treatment.id,
      number: text(treatment, 'number') || treatment.id,
      name: text(treatment, 'name'),
      shape: asNamed(use['shape'])?.name ?? '',
      glaze: asNamed(use['glaze'])?.name ?? '',
      grade: text(use, 'grade'),
      places: list<string>(use, 'places'),
      years: use.years_words || years,
      span: spanOf(years),
    };
  });
  return uses.sort((a, b) => (a.span?.[0] ?? 9999) - (b.span?.[0] ?? 9999) || a.number.localeCompare(b.number, 'en', { numeric: true }));
}
