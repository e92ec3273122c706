// routes/cupboard/words.ts - how a kept piece is spoken of. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Decision, PieceRecord } from '../../lib/types';

const OPEN: Record<string, string> = { unlisted: 'Unlisted treatment', elsewhere: 'Made elsewhere' };

type Decided = Pick<PieceRecord, 'treatment_number' | 'treatment_name'> & { decision?: Pick<Decision, 'treatment'> | null };

export function decidedAs(row: Decided): string {
  if (!row.decision?.treatment) return 'Undecided';
  const open = OPEN[row.decision.treatment];
  if (open) return open;
  const known = [row.treatment_number, row.treatment_name].filter(Boolean).join(' ');
  return known || row.decision.treatment;
}

export const gradeWord = (decision: Decision | null | undefined): string =>
  decision?.grade === 'first' ? 'First run' : decision?.grade === 'second' ? 'Second' : 'Not said';

export const placeOf = (row: PieceRecord): string => row.place || '–';
