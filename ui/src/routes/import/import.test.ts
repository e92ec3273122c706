// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { ImportJob, ImportResult } from '../../lib/api_import';
import { headsOf, kindOf, nameOfField, progressOf, ready, summaryOf } from './words';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
const nothing: ImportResult = {
  added: 0, changed: 0, unchanged: 0, skipped: 0, others: 0, faults: 0, problems: [], remembered: false, columns: [], duplicates: [], notes: [], preview: [],
};

describe('an import', () => {
  it('is summed up in a sentence', () => {
    expect(plain(summaryOf({ ...nothing, added: 2, changed: 1 }, 'piece', false))).toBe('2 pieces added and 1 piece changed.');
    expect(plain(summaryOf({ ...nothing, added: 2, changed: 1 }, 'sale', true))).toBe('2 sales would be added and 1 sale would be changed.');
    expect(plain(summaryOf({ ...nothing, unchanged: 3, skipped: 1 }, 'treatment', true))).toBe('3 treatments would stay as they are and 1 row with a fault left out.');
    expect(summaryOf(nothing, 'piece', false)).toBe('Nothing to bring in.');
  });
  it('is ready when something would come of it and no fault forbids it', () => {
    expect(ready(nothing, true)).toBe(false);
    expect(ready({ ...nothing, added: 1, faults: 2 }, false)).toBe(false);
    expect(ready({ ...nothing, added: 1, faults: 2 }, true)).toBe(true);
    expect(ready({ ...nothing, others: 4 }, false)).toBe(true);
  });
  it('says how far it is', () => {
    const job: ImportJob = { state: 'running', into: 'pieces', dry_run: false, began: '', step: 'reading', done: 12000, of: 100000, result: null, problems: [], batches: [] };
    expect(plain(progressOf(job))).toBe('Reading: row 12,000 of 100,000');
    expect(plain(progressOf({ ...job, step: 'storing', done: 0 }))).toBe('Storing 100,000 rows…');
    expect(progressOf({ ...job, step: '', done: 0, of: 0 })).toBe('Beginning…');
  });
});

describe('the preview', () => {
  it('has a column for each field that a row fills', () => {
    expect(headsOf([{ id: 'p-1', form: 'plate' }, { form: 'cup', note: 'x' }])).toEqual(['id', 'form', 'note']);
  });
  it('calls fields as a person reads them', () => {
    expect(['length_mm', 'decision_treatment', 'rim_sure', 'place_kept'].map(nameOfField)).toEqual(['Length (mm)', 'Decided treatment', 'Rim, how sure', 'Place kept']);
  });
  it('falls back on pieces', () => {
    expect(kindOf('').into).toBe('pieces');
    expect(kindOf('sales').one).toBe('sale');
  });
});
