// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Job, ServiceRecord } from '../../lib/api_services';
import { emptyTable, progressWords, STATES, tableWords, withPiece } from './words';

const line = (name: string, in_setting: boolean, count: number) => ({ name, in_setting, count, forms: [{ id: name, name }], trade_size: '', made: true });
const record = { service: { id: 's', name: 'S', settings: 2 }, treatments: [], composition: { settings: 6 }, places: 7, lines: [line('plate', true, 1), line('cup', true, 2), line('pot', false, 1)] } as unknown as ServiceRecord;

describe('A service', () => {
  it('lays an empty table with as many settings as it says itself, each with its places', () => {
    const table = emptyTable(record);
    expect(table.table.map(({ places }) => places.map(({ name }) => name))).toEqual([['plate', 'cup', 'cup'], ['plate', 'cup', 'cup']]);
    expect(table.serving.map(({ name, state }) => [name, state])).toEqual([['pot', 'missing']]);
  });
  it('tells each state by a sign and a word of its own', () => {
    const states = Object.values(STATES);
    expect(new Set(states.map(({ sign }) => sign)).size).toBe(states.length);
    expect(new Set(states.map(({ word }) => word)).size).toBe(states.length);
  });
  it('insists on a piece or refuses it, never both', () => {
    expect(withPiece(['a'], ['b'], 'b', 'insist')).toEqual({ insist: ['a', 'b'], refuse: [] });
    expect(withPiece(['a', 'b'], [], 'b', 'refuse')).toEqual({ insist: ['a'], refuse: ['b'] });
    expect(withPiece(['a'], ['b'], 'a', 'free')).toEqual({ insist: [], refuse: ['b'] });
    expect(withPiece(['a'], [], 'a', 'insist')).toEqual({ insist: ['a'], refuse: [] });
  });
  it('says how far it is', () => {
    expect(tableWords({ complete: 3, settings: 6, filled: 21, places: 26 }).replaceAll('\u00a0', ' ')).toBe('3 of 6 settings complete, 21 of 26 places filled');
    expect(tableWords({ complete: 0, settings: 0, filled: 1, places: 1 }).replaceAll('\u00a0', ' ')).toBe('1 of 1 place filled');
    const job = { state: 'working', progress: { goal: 'complete settings', at: 1, of: 3, nodes: 12, best: 2, bound: 3, seconds: 1.6 } } as Job;
    expect(progressWords(job).replaceAll('\u00a0', ' ')).toBe('Goal 1 of 3: complete settings; 12 tries, 2 s');
  });
});
