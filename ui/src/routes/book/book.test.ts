// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Row } from '../../lib/types';
import { queryFrom } from '../cupboard/load';
import { decidedAs } from '../cupboard/words';
import type { PieceRecord } from '../../lib/types';
import { columnsOf, referringOf } from './[table]/[id]/columns';
import { together } from './[table]/[id]/decoration';
import { usesOf } from './[table]/[id]/uses';
import { countOf } from './tables';

describe('the columns of a row', () => {
  const row: Row = {
    id: 'oat', name: 'Oat', maker: { id: 'kw', name: 'Kettlewharf' }, lab_l: 88.1, years: '1924/1949', years_words: '1924 to 1949', uranium: 'no',
    note: '', sources: [], treatments: [{ id: 't-1', number: '101', name: 'Plain' }], row: 'glazes.csv:2',
  };
  it('name what it refers to, with a link, and leave out what is empty or in the heading', () => {
    expect(columnsOf(row)).toEqual([
      { name: 'maker', label: 'Maker', value: 'Kettlewharf', href: '/book/makers/kw' },
      { name: 'lab_l', label: 'Lightness L*', value: '88.1' },
      { name: 'years', label: 'Years', value: '1924 to 1949' },
      { name: 'uranium', label: 'Uranium', value: 'no' },
    ]);
  });
  it('are apart from the rows that refer to it', () => {
    expect(referringOf(row)).toEqual([{
      column: 'treatments', table: 'treatments', label: 'Treatments', rows: [{ id: 't-1', name: '101 Plain', detail: '', href: '/book/treatments/t-1' }],
    }]);
  });
  it('lead from a source to what leans on it, table by table', () => {
    const source: Row = { id: 's-1', rows: [{ id: 'oat', table: 'glazes', name: 'Oat', row: 'glazes.csv:2' }] };
    expect(referringOf(source)[0]?.rows).toEqual([{ id: 'oat', name: 'Oat', detail: 'glazes.csv:2', href: '/book/glazes/oat' }]);
  });
});

describe('decoration', () => {
  const line = (on: string, share = 1) => ({ place: 'lid', ornament: { id: 'fern', name: 'Fern' }, on, share, sources: [] });
  it('that differs in the form only is one line', () => {
    expect(together([line('sugar'), line('teapot')]).map((one) => one.on)).toEqual([['sugar', 'teapot']]);
  });
  it('that is absent on one form stays a line of its own', () => {
    expect(together([line('hollow'), line('saucer', 0)])).toHaveLength(2);
  });
});

describe('the uses of an ornament', () => {
  it('stand in order of time, undated ones last', () => {
    const row: Row = {
      id: 'fern',
      used_by: [
        { treatment: { id: 't-3', number: '3' }, shape: { id: 'h', name: 'Harrow' }, places: ['rim'], years_words: '' },
        { treatment: { id: 't-2', number: '2' }, shape: { id: 'h', name: 'Harrow' }, places: ['rim'], years_words: '1930 to 1940' },
        { treatment: { id: 't-1', number: '1' }, shape: { id: 'c', name: 'Coulter' }, places: ['rim'], years_words: 'about 1912 to 1929' },
      ],
    };
    expect(usesOf(row).map((use) => [use.id, use.shape, use.span])).toEqual([
      ['t-1', 'Coulter', [1912, 1929]], ['t-2', 'Harrow', [1930, 1940]], ['t-3', 'Harrow', undefined],
    ]);
  });
});

describe('the cupboard', () => {
  it('asks for what the address says', () => {
    expect(queryFrom(new URLSearchParams('q=fern&form=sugar&sort=number'), 100)).toEqual({
      q: 'fern', form: 'sugar', sort: 'number', order: 'asc', limit: 100, offset: 0,
    });
    expect(queryFrom(new URLSearchParams(''), 100)).toMatchObject({ sort: 'changed', order: 'desc' });
  });
  it('says what a piece was decided as', () => {
    const record = (treatment: string, more: Partial<PieceRecord> = {}) =>
      ({ decision: { treatment, grade: '', date: '', note: '' }, ...more }) as PieceRecord;
    expect(decidedAs(record('valley:t-117', { treatment_number: '117', treatment_name: 'Fern pair' }))).toBe('117 Fern pair');
    expect(decidedAs(record('unlisted'))).toBe('Unlisted treatment');
    expect(decidedAs(record('valley:t-117'))).toBe('valley:t-117');
    expect(decidedAs({} as PieceRecord)).toBe('Undecided');
  });
});

describe('the counts of the Book', () => {
  it('are found under either spelling of a table', () => {
    expect(countOf({ 'dated-uses': 3 }, 'dated-uses')).toBe(3);
    expect(countOf({ dated_uses: 4 }, 'dated-uses')).toBe(4);
    expect(countOf({}, 'dated-uses')).toBeUndefined();
  });
});
