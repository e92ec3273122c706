// lib/batches.ts - which batches of changes are ours to undo. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Change } from './types';

/** Batches newer than `since`, newest first: the order in which they are undone. */
export function batchesSince(changes: readonly Change[], since: number): number[] {
  const batches = new Set(changes.filter((change) => change.id > since).map((change) => change.batch));
  return [...batches].sort((a, b) => b - a);
}
