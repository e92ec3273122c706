// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { merged } from './merge';
import { sameSeen } from './piece';
import type { PieceFile } from './types';

const base: PieceFile = {
  id: 'p-1', form: 'dinner-plate', looks: [{ place: 'rim', value: 'fern-pair', sure: 'sure' }], photos: [], length_mm: 250,
};

describe('two people on one piece', () => {
  it('keeps what each of them saw', () => {
    const mine = { ...base, looks: [...(base.looks ?? []), { place: 'centre', value: 'rosette', sure: 'guess' as const }] };
    const theirs = { ...base, glaze: { value: 'oat', sure: 'likely' as const }, length_mm: 251 };
    const { piece, theirs: taken, both } = merged(base, mine, theirs);
    expect(sameSeen(piece, { ...mine, glaze: { value: 'oat', sure: 'likely' }, length_mm: 251 })).toBe(true);
    expect(taken.sort()).toEqual(['glaze', 'length']);
    expect(both).toEqual([]);
  });
  it('takes what they took away, unless it was changed here', () => {
    const gone = { ...base, looks: [] };
    expect(merged(base, base, gone).piece.looks).toEqual([]);
    const mine = { ...base, looks: [{ place: 'rim', value: 'laurel', sure: 'sure' as const }] };
    const { piece, both } = merged(base, mine, gone);
    expect(piece.looks).toEqual(mine.looks);
    expect(both).toEqual(['rim']);
  });
  it('names what both changed, and keeps ours', () => {
    const mine = { ...base, number: { value: '117', sure: 'sure' as const } };
    const { piece, both } = merged(base, mine, { ...base, number: { value: '119', sure: 'sure' as const } });
    expect(piece.number).toEqual({ value: '117', sure: 'sure' });
    expect(both).toEqual(['number']);
  });
  it('sees no difference in ways of writing, nor where both say the same', () => {
    const mine = { ...base, number: '117' };
    const theirs = { ...base, number: { value: '117', sure: 'sure' as const } };
    expect(merged(base, mine, theirs).both).toEqual([]);
    expect(merged(base, base, { ...base, looks: [{ place: 'rim', value: 'fern-pair' }] }).theirs).toEqual([]);
  });
  it('gives the same piece from either side when they changed different things', () => {
    const one = { ...base, form: 'saucer' };
    const two = { ...base, wear: 'heavy' as const };
    expect(sameSeen(merged(base, one, two).piece, merged(base, two, one).piece)).toBe(true);
  });
});
