// routes/cupboard/changes/batches.ts - changes as one undoes them: by batch. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Change } from '../../../lib/types';

export type Batch = { batch: number; what: string; when: string; who: string; entity: string; key: string; count: number; undoes: boolean; undone: boolean };

/** Newest first. A batch is undone when a later change of the list says that it undoes a change of it. */
export function batched(changes: readonly Change[]): Batch[] {
  const takenBack = new Set(changes.map((change) => change.undoes));
  const taken = new Set(changes.filter((change) => takenBack.has(change.id)).map((change) => change.batch));
  const batches = new Map<number, Batch>();
  for (const change of [...changes].sort((a, b) => b.id - a.id)) {
    const known = batches.get(change.batch);
    if (known) {
      known.count += 1;
      continue;
    }
    batches.set(change.batch, {
      batch: change.batch, what: change.what, when: change.when, who: change.who ?? '', entity: change.entity, key: change.key, count: 1,
      undoes: change.undoes !== null && change.undoes !== undefined, undone: taken.has(change.batch),
    });
  }
  return [...batches.values()];
}
