// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { batched } from '../routes/cupboard/changes/batches';
import type { Change } from './types';

const change = (id: number, batch: number, undoes?: number): Change => ({
  id, batch, when: '2026-03-01T09:30:00Z', entity: 'piece', key: 'p-1', what: `change ${id}`, before: null, after: null,
  ...(undoes === undefined ? {} : { undoes }),
});

describe('the history', () => {
  it('shows changes made together as one, newest first', () => {
    const list = batched([change(1, 1), change(2, 2), change(3, 2)]);
    expect(list.map((one) => [one.batch, one.count])).toEqual([[2, 2], [1, 1]]);
  });
  it('knows which batches were undone, and which are undos', () => {
    // change 30 takes back change 10, which belongs to batch 1
    const list = batched([change(30, 3, 10), change(20, 2), change(10, 1)]);
    expect(list.map((one) => [one.batch, one.undoes, one.undone])).toEqual([[3, true, false], [2, false, false], [1, false, true]]);
  });
});
