// lib/undo.ts - does something that the program records, and finds out how to undo exactly that.
//   Every change of the store belongs to a batch; those newer than the newest one before are ours.
// SPDX-License-Identifier: Apache-2.0
import { api } from './api';
import { batchesSince } from './batches';
import { notices } from './notices.svelte';
import type { Answer } from './types';

export async function undoable<T>(act: () => Promise<Answer<T>>): Promise<{ answer: Answer<T>; undo: () => Promise<Answer<unknown>> }> {
  const before = await api.changes(1);
  const since = before.ok ? Math.max(0, ...before.value.map((change) => change.id)) : Infinity;
  const answer = await act();
  const after = await api.changes(60);
  const batches = after.ok ? batchesSince(after.value, since) : [];
  return { answer, undo: notices.undoOf(batches) };
}
