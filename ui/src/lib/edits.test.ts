// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { callOf, changed, freeId, lineOf, nextId, slug } from './edits';

describe('rows of packs', () => {
  it('are sent with the columns that differ, and no other', () => {
    expect(changed({ id: 'oat', name: 'Oat', years: '' }, { id: 'oat', name: ' Pale oat ', years: '', uranium: '' })).toEqual({ name: 'Pale oat' });
  });
  it('get ids of small letters, digits and single hyphens', () => {
    expect(slug('  Ébène & Gold – No. 7 ')).toBe('ebene-gold-no-7');
    expect(freeId('oat', ['oat', 'oat-2'])).toBe('oat-3');
  });
  it('go on where ids are numbered, and only there', () => {
    expect(nextId(['st-1', 'st-21', 'st-3'])).toBe('st-22');
    expect(nextId(['oat', 'ivory'])).toBeUndefined();
  });
  it('are called by their words, and by their id only without any', () => {
    expect(callOf({ id: 't-1', number: '117', name: 'Fern' })).toBe('117 Fern');
    expect(callOf({ id: 't-1', number: '', name: '' })).toBe('t-1');
  });
  it('are found by the line that answers name', () => {
    expect(lineOf('treatments.csv:31')).toBe(31);
    expect(lineOf('treatments.csv')).toBeUndefined();
  });
});
