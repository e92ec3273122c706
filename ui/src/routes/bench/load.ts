// routes/bench/load.ts - what the Bench reads.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import type { Answer, PieceRecord } from '../../lib/types';

/** The worked example of the demo pack. */
export const DEMO_PIECE = 'p-0041';

export const loadPiece = (id: string, signal?: AbortSignal): Promise<Answer<PieceRecord>> => api.piece(id, signal);

/** The undecided piece after this one, in the order of their ids, beginning again at the end. */
export async function nextUndecided(after: string): Promise<Answer<PieceRecord | undefined>> {
  const answer = await api.pieces({ decided: false, sort: 'id', order: 'asc', limit: 500 });
  if (!answer.ok) return answer;
  const rows = answer.value.rows.filter((row) => row.piece.id !== after);
  return { ok: true, value: rows.find((row) => row.piece.id > after) ?? rows[0] };
}
