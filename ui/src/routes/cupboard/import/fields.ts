// routes/cupboard/import/fields.ts - what a column may become, and what an import amounts to. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { ImportAnswer } from '../../../lib/types';
import { listed, plural } from '../../../lib/words';

const PLACES = ['rim', 'verge', 'centre', 'edge', 'handle', 'lid', 'finial', 'body', 'inside', 'foot', 'underside'];

export const FIELDS: readonly string[] = [
  'id', 'form', 'shape', 'glaze', 'wear', ...PLACES, 'mark', 'number', 'date_code', 'faults', 'length_mm', 'width_mm', 'height_mm',
  'treatment', 'grade', 'date', 'lot', 'place', 'cost', 'currency', 'note',
];

/** JSON begins with a bracket; everything else is taken for a table. */
export function formatOf(text: string, file = ''): 'csv' | 'json' {
  if (/\.json$/i.test(file)) return 'json';
  if (/\.csv$/i.test(file)) return 'csv';
  return /^\s*[[{]/.test(text) ? 'json' : 'csv';
}

export function summaryOf(answer: ImportAnswer, trial = false): string {
  const parts = [
    answer.added ? `${plural(answer.added, 'piece')} ${trial ? 'would be ' : ''}added` : '',
    answer.changed ? `${plural(answer.changed, 'piece')} ${trial ? 'would be ' : ''}changed` : '',
    answer.unchanged ? `${plural(answer.unchanged, 'piece')} ${trial ? 'would stay ' : ''}unchanged` : '',
    answer.skipped ? `${plural(answer.skipped, 'line')} left out` : '',
  ].filter(Boolean);
  return parts.length ? `${listed(parts)}.` : 'Nothing to bring in.';
}
