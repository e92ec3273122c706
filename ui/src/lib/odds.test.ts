// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { differsFromFirst, doubt, grouped, pickedOut } from './odds';
import type { ExamineAnswer } from './types';

const one = (treatment: string, probability: number, twins: string[] = []) => ({ treatment, number: treatment, probability, twins });

describe('twins', () => {
  it('are drawn together where the first of them stands', () => {
    const groups = grouped([one('a', 0.4, ['c']), one('b', 0.3), one('c', 0.2, ['a']), one('d', 0.1)]);
    expect(groups.map((group) => group.members.map((member) => member.treatment))).toEqual([['a', 'c'], ['b'], ['d']]);
    expect(groups[0]?.probability).toBeCloseTo(0.6, 12);
  });
  it('that were cut from the list are still named', () => {
    expect(grouped([one('a', 0.9, ['z'])])[0]?.unlistedTwins).toEqual(['z']);
  });
  it('appear once, whatever the order in which they name each other', () => {
    const groups = grouped([one('a', 0.3, ['b', 'c']), one('b', 0.3, ['a', 'c']), one('c', 0.3, ['a', 'b'])]);
    expect(groups).toHaveLength(1);
    expect(groups[0]?.members).toHaveLength(3);
  });
});

describe('doubt', () => {
  const answer = (candidates: number[], unlisted = 0, elsewhere = 0) =>
    ({ candidates: candidates.map((p, i) => one(`t${i}`, p)), open: { unlisted, elsewhere } }) as unknown as ExamineAnswer;
  // two equal halves: 1 bit; four quarters: 2 bits
  it('is one bit between two equal candidates', () => expect(doubt(answer([0.5, 0.5]))).toBeCloseTo(1, 12));
  it('counts the open possibilities', () => expect(doubt(answer([0.25, 0.25], 0.25, 0.25))).toBeCloseTo(2, 12));
  it('is nothing when all is settled', () => expect(doubt(answer([1]))).toBe(0));
});

describe('differences', () => {
  const differences = [{ look: 'rim', values: ['fern', 'fern', 'none'] }, { look: 'glaze', values: ['oat', 'chalk', 'oat'] }];
  it('ring the places and leave glaze and shape to words', () => expect(pickedOut(differences, ['rim', 'lid'])).toEqual(['rim']));
  it('name only what differs from the first', () => {
    expect(differsFromFirst(differences, 1)).toEqual([{ look: 'glaze', here: 'chalk', first: 'oat' }]);
    expect(differsFromFirst(differences, 2)).toEqual([{ look: 'rim', here: 'none', first: 'fern' }]);
    expect(differsFromFirst(differences, 0)).toEqual([]);
  });
});
