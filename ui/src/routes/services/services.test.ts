// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Composition, Job, ServiceRecord, Wants } from '../../lib/api_services';
import { copied, draftOf, formCalled, linesOf, moved } from './composition';
import { emptyTable, priceWords, progressWords, STATES, tableWords, wantedForms, withPiece } from './words';

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

const forms = [{ id: 'dinner-plate', name: 'Dinner plate' }, { id: 'cup', name: 'Tea cup' }, { id: 'bread-plate', name: 'Bread & butter plate' }];
describe('A composition', () => {
  const five: Composition = {
    id: 'five', name: 'Five', note: '', settings: 6, setting: [{ forms: ['dinner-plate', 'aat:300'], count: 2, trade_size: '9 in' }, { name: 'Soup', forms: ['rim-soup'] }],
    serving: [{ forms: ['tea cup'], count: 1 }],
  };
  it('names forms by id or by name, without regard to case and punctuation', () => {
    expect(['cup', 'Tea Cup', 'bread and butter', 'bread butter plate', 'aat:300'].map((word) => formCalled(word, forms)?.id)).toEqual(['cup', 'cup', undefined, 'bread-plate', undefined]);
  });
  it('comes back from its fields as it went in', () => {
    const { setting, serving, problems } = linesOf(draftOf(five));
    expect(problems).toEqual([]);
    expect([setting, serving]).toEqual([[{ forms: ['dinner-plate', 'aat:300'], count: 2, trade_size: '9 in' }, { forms: ['rim-soup'], count: 1, name: 'Soup' }], [{ forms: ['tea cup'], count: 1 }]]);
  });
  it('is copied without what no open pack has, which is named', () => {
    const { draft, left } = copied(five, forms);
    expect(draft.setting.map((line) => line.forms)).toEqual([['dinner-plate']]);
    expect(left).toEqual(['Soup']);
  });
  it('says which line lacks what', () => {
    const draft = draftOf(five);
    const [first] = draft.setting;
    if (first) first.count = 'two';
    if (draft.serving[0]) draft.serving[0].forms = [];
    expect(linesOf(draft).problems.map(({ where, what }) => `${where}: ${what}`)).toEqual(['For each person, line 1: “two” is no number of pieces.', 'For all together, line 1: No form is chosen.']);
  });
  it('has lines that can be moved', () => expect([moved(['a', 'b', 'c'], 1, -1), moved(['a', 'b', 'c'], 1, 1)]).toEqual([['b', 'a', 'c'], ['a', 'c', 'b']]));
});

describe('Wants', () => {
  it('put the form first of which most are wanted', () => {
    const row = (id: string, count: number) => ({ form: { id, name: id }, count });
    expect(wantedForms({ list: [row('cup', 1), row('saucer', 2), row('cup', 3)] } as unknown as Wants).map(({ form, count }) => [form.id, count])).toEqual([['cup', 4], ['saucer', 2]]);
  });
  it('tell an estimate with its range, and a price that was handed in to the penny', () => {
    const plain = (text: string) => text.replaceAll('\u00a0', ' ');
    expect(plain(priceWords({ price: 38.4, low: 20.1, high: 71.6 }, 'USD'))).toBe('38 USD (20 to 72)');
    expect(plain(priceWords({ price: 8.44, low: 4, high: 17.2 }, 'USD'))).toBe('8.4 USD (4.0 to 17)');
    expect(plain(priceWords({ price: 12.5, low: null, high: null }, ''))).toBe('12.50');
  });
});
