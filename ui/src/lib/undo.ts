// lib/undo.ts - does something that the program records, and finds out how to undo exactly that.
//   Every change of the store belongs to a batch; the answers to what we sent name ours.
// SPDX-License-Identifier: Apache-2.0
import { made } from './api';
import { notices } from './notices.svelte';
import type { Answer } from './types';

export async function undoable<T>(act: () => Promise<Answer<T>>): Promise<{ answer: Answer<T>; undo: () => Promise<Answer<unknown>> }> {
  const before = made.length;
  const answer = await act();
  return { answer, undo: notices.undoOf(made.slice(before).reverse()) };
}
