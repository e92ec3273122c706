// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { blankPiece, lookAt, looksMade, sameSeen, seenNumber, toFile, withField, withLook } from './piece';
import type { PieceFile } from './types';

const sugar: PieceFile = {
  id: 'p-0041', form: 'sugar', shape: { value: 'harrow', sure: 'likely' },
  looks: [{ place: 'rim', value: 'fern-pair', sure: 'sure' }, { place: 'edge', value: 'none', sure: 'likely' }], number: '1?7', photos: [],
};

describe('a look', () => {
  it('is added at the end and leaves the piece given as it was', () => {
    const next = withLook(sugar, 'lid', 'worn', 'guess');
    expect(next.looks?.map((look) => look.place)).toEqual(['rim', 'edge', 'lid']);
    expect(sugar.looks).toHaveLength(2);
  });
  it('replaces an earlier one at the same place without changing the order', () => {
    const next = withLook(sugar, 'rim', 'something', 'likely');
    expect(next.looks).toEqual([{ place: 'rim', value: 'something', sure: 'likely' }, { place: 'edge', value: 'none', sure: 'likely' }]);
  });
  it('cleared is gone, which is not the same as none', () => {
    expect(lookAt(withLook(sugar, 'edge', undefined), 'edge')).toBeUndefined();
    expect(lookAt(withLook(sugar, 'edge', 'none'), 'edge')?.value).toBe('none');
  });
});

describe('a field', () => {
  it('that is emptied leaves the file', () => {
    expect('form' in withField(sugar, 'form', '')).toBe(false);
    expect('shape' in withField(sugar, 'shape', { value: '', sure: 'sure' })).toBe(false);
    expect('number' in withField(sugar, 'number', undefined)).toBe(false);
  });
  it('that is set stands in the file', () => expect(withField(sugar, 'wear', 'heavy').wear).toBe('heavy'));
});

describe('the file', () => {
  it('of a new piece carries an id of its own and nothing empty', () => {
    expect(toFile({ ...blankPiece(), date_code: '' })).toEqual({ id: 'new-piece', looks: [], photos: [] });
  });
  it('is the same when looks were made in another order', () => {
    expect(sameSeen(sugar, { ...sugar, looks: [...(sugar.looks ?? [])].reverse() })).toBe(true);
  });
  it('is the same when a sure number is written long', () => {
    expect(sameSeen(sugar, { ...sugar, number: { value: '1?7', sure: 'sure' } })).toBe(true);
  });
  it('differs when sureness differs', () => {
    expect(sameSeen(sugar, withField(sugar, 'shape', { value: 'harrow', sure: 'sure' }))).toBe(false);
    expect(sameSeen(sugar, withLook(sugar, 'rim', 'fern-pair', 'guess'))).toBe(false);
  });
  it('counts what was looked at', () => {
    expect(looksMade(blankPiece())).toBe(0);
    expect(looksMade(sugar)).toBe(5); // form, shape, number, rim, edge
  });
});

describe('the number', () => {
  it('reads the same in both ways of writing it', () => {
    expect(seenNumber(sugar)).toEqual({ value: '1?7', sure: 'sure' });
    expect(seenNumber({ id: 'x', number: { value: '11*', sure: 'guess' } })).toEqual({ value: '11*', sure: 'guess' });
    expect(seenNumber({ id: 'x' })).toBeUndefined();
  });
});
