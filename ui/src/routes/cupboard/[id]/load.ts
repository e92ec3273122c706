// SPDX-License-Identifier: Apache-2.0
import { api } from '../../../lib/api';
import { door } from '../../../lib/door.svelte';
import type { Answer, Change, Lot, PieceRecord } from '../../../lib/types';

export type PiecePage = { record: PieceRecord; history: Change[]; lots: Lot[] };

export async function loadPiecePage(id: string, signal: AbortSignal): Promise<Answer<PiecePage>> {
  // A reader is not shown who changed what.
  const told = door.may('contributor') ? api.history(id, signal) : Promise.resolve<Answer<Change[]>>({ ok: true, value: [] });
  const [record, history, lots] = await Promise.all([api.piece(id, signal), told, api.lots(signal)]);
  if (!record.ok) return record;
  if (!history.ok) return history;
  if (!lots.ok) return lots;
  return { ok: true, value: { record: record.value, history: history.value, lots: lots.value } };
}
