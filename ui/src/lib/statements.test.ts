// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { cutWords, outline, shownYears, subjectWords, treatmentsIn } from './statements';
import type { Vocabulary } from './types';

describe('Statements about years', () => {
  it('are shown with some years on both sides, but none that were not considered', () => {
    const date = { median: 1935, hpd68: [1933, 1938] as [number, number], hpd95: [1930, 1941] as [number, number], edtf: '', by_year: { first_year: 1925, p: Array(50).fill(0.02) } };
    expect(shownYears(date)).toEqual([1925, 1953]);
  });
  it('are outlined with a step for each year, and apart where years lie apart', () => {
    // four years of 10 px each, 20 px high: 1928 whole, 1930 half
    expect(outline([1, 0, 0.5, 0], 1928, [1928, 1931], 40, 20)).toBe('M0 20V0H10V20ZM20 20V10H30V20Z');
    expect(outline([0, 0], 1928, [1928, 1929], 40, 20)).toBe('');
    expect(outline([1], 1930, [1928, 1930], 30, 20)).toBe('M20 20V0H30V20Z');
  });
  it('say what they cut off, and nothing when it is next to nothing', () => {
    expect(cutWords({ cut_before: 0.19, cut_after: 0.22 })).toBe('cuts off 19\u00a0% before and 22\u00a0% after');
    expect(cutWords({ cut_before: 0.001, cut_after: 0.05 })).toBe('cuts off 5.0\u00a0% after');
    expect(cutWords({ cut_before: 0, cut_after: 0.0001 })).toBe('');
  });
  it('are named as the Book names them', () => {
    const book = { shapes: [{ id: 'harrow', name: 'Harrow' }], ornaments: [{ id: 'fern', name: 'Fern pair' }], makers: [], glazes: [], marks: [], forms: [], places: [] } as unknown as Vocabulary;
    const treatment = (id: string) => (id === 't-117' ? '117 Fern pair' : undefined);
    expect(['shape harrow', 'ornament fern', 'ornament lost', 'treatment t-117', 'date code H', 'wording “MADE IN”'].map((one) => subjectWords(one, book, treatment))).toEqual([
      'Shape Harrow', 'Ornament Fern pair', 'Ornament lost', 'Treatment 117 Fern pair', 'Date code H', 'Wording “MADE IN”',
    ]);
    expect(treatmentsIn([{ subject: 'treatment t-1' }, { subject: 'treatment t-1' }, { subject: 'shape x' }])).toEqual(['t-1']);
  });
});
