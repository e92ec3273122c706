// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Vocabulary } from './types';
import { bytes, carriedName, decibans, listed, minutes, money, odds, plural, runOfYears, sameId, times, valueName } from './words';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');

describe('odds', () => {
  it.each([
    [0, '0 %'], [0.00004, '< 0.1 %'], [0.001, '0.1 %'], [0.025, '2.5 %'], [0.0996, '10 %'], [0.61, '61 %'], [0.614, '61 %'],
    [0.994, '99.4 %'], [0.9999, '> 99.9 %'], [1, '100 %'],
  ])('of %f read %s', (p, words) => expect(plain(odds(p))).toBe(words));
  it('that are no number read as a dash', () => expect(odds(NaN)).toBe('–'));
});

describe('decibans', () => {
  it('carry their sign, with a true minus', () => {
    expect(decibans(12.44)).toBe('+12.4');
    expect(decibans(-3)).toBe('−3.0');
    expect(decibans(0.01)).toBe('0');
  });
  // 10^(12.4/10) = 17.38; 10^(3/10) = 1.995; 10^(30/10) = 1000
  it.each([
    [12.4, '17 times likelier'], [3, '2 times likelier'], [-10, '10 times less likely'], [30, '1,000 times likelier'],
    [0.2, 'slightly likelier'], [0, 'tells nothing either way'],
  ])('of %f mean %s', (weight, words) => expect(times(weight)).toBe(words));
});

describe('minutes', () => {
  it.each([[0.5, 'half a minute'], [1, '1 minute'], [1.3, '1.3 minutes'], [3, '3 minutes'], [600, '10 hours'], [0.25, '15 seconds']])(
    'of %f read %s', (min, words) => expect(plain(minutes(min))).toBe(words));
});

describe('small words', () => {
  it('count in the singular and the plural', () => {
    expect(plain(plural(1, 'piece'))).toBe('1 piece');
    expect(plain(plural(1200, 'piece'))).toBe('1,200 pieces');
  });
  it('join with an and', () => {
    expect(listed([])).toBe('');
    expect(listed(['a'])).toBe('a');
    expect(listed(['a', 'b', 'c'])).toBe('a, b and c');
  });
  it('say one year once', () => {
    expect(runOfYears([1931, 1940])).toBe('1931–1940');
    expect(runOfYears([1931, 1931])).toBe('1931');
  });
  it('give money two figures after the point, and a dash when there is none', () => {
    expect(plain(money(12.5, 'USD'))).toBe('12.50 USD');
    expect(money(undefined, 'USD')).toBe('–');
  });
  it('give sizes in round units', () => expect(plain(bytes(2_340_000))).toBe('2.3 MB'));
});

const efforts = { glance: 0.5, turn_over: 1, measure: 1, loupe: 2, lamp: 3, laboratory: 600 };

describe('the name of what was seen', () => {
  const book = {
    forms: [{ id: 'sugar', name: 'Sugar, lidded', ware: 'hollow', outline: 'round', places: [] }],
    shapes: [{ id: 'harrow', name: 'Harrow', maker: '', maker_name: '', years: '', forms: [] }],
    glazes: [{ id: 'oat', name: 'Oat', maker: '', colour: null, years: '' }],
    ornaments: [{ id: 'fern-pair', name: 'Fern pair', kind: 'stamp', finish: 'gold', places: ['rim'] }],
    marks: [{ id: 'm-3', wording: 'HARROW', maker: '', years: '', second: false }],
    makers: [], places: ['rim', 'lid'], sures: [], wears: [], faults: [], efforts,
  } satisfies Vocabulary;
  it.each([
    ['rim', 'fern-pair', 'Fern pair'], ['shape', 'harrow', 'Harrow'], ['glaze', 'oat', 'Oat'], ['mark', 'm-3', 'HARROW'],
    ['form', 'sugar', 'Sugar, lidded'], ['rim', 'something', 'something, not recognised'], ['number', '1?7', '1?7'],
    ['rim', 'not-in-the-book', 'not-in-the-book'], ['rim', 'valley:fern-pair', 'Fern pair'],
  ])('at %s, %s is %s', (look, value, name) => expect(valueName(look, value, book)).toBe(name));
  it('is the id while the book is not here yet', () => expect(valueName('rim', 'fern-pair', undefined)).toBe('fern-pair'));
});

describe('what a treatment carries', () => {
  const book = {
    forms: [], shapes: [], glazes: [], marks: [], makers: [], places: ['handle'], sures: [], wears: [], faults: [], efforts,
    ornaments: [{ id: 'gold-line', name: 'Gold line', kind: 'line', finish: 'gold', places: ['handle'] }],
  } satisfies Vocabulary;
  it('keeps the share beside the name, and every alternative', () => {
    expect(plain(carriedName('handle', 'gold-line (50 %)', book))).toBe('Gold line (50 %)');
    expect(plain(carriedName('handle', 'gold-line (50 %) or other-line', book))).toBe('Gold line (50 %) or other-line');
    expect(carriedName('handle', 'none', book)).toBe('none');
  });
});

describe('two ids', () => {
  it('name the same row when one carries its pack', () => {
    expect(sameId('valley:oat', 'oat')).toBe(true);
    expect(sameId('oat', 'oat')).toBe(true);
    expect(sameId('goat', 'oat')).toBe(false);
    expect(sameId('valley:oat', 'hill:oat')).toBe(false);
  });
});
