// routes/book/[table]/[id]/decoration.ts - decoration lines that differ only in the form they speak of, as one. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { SourceRef, TreatmentDetail } from '../../../../lib/types';

type Line = NonNullable<TreatmentDetail['decoration']>[number];
export type Lines = Omit<Line, 'on' | 'sources'> & { on: string[]; sources: SourceRef[] };

/** Keeps the order of the pack; lines of one place, ornament, share and source become one with several forms. */
export function together(lines: readonly Line[]): Lines[] {
  const joined = new Map<string, Lines>();
  for (const line of lines) {
    const sources = line.sources ?? [];
    const key = JSON.stringify([line.place, line.ornament.id, line.share, sources.map((source) => source.id)]);
    const known = joined.get(key);
    if (known) known.on.push(line.on);
    else joined.set(key, { ...line, on: [line.on], sources });
  }
  return [...joined.values()];
}
