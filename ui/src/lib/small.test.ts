// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { match, to } from './routing';
import { asNamed, number, text, titleOf } from './rows';
import { spanOf } from './years';

describe('an address', () => {
  const routes = [['/', 'bench'], ['/book/compare', 'compare'], ['/book/:table', 'table'], ['/book/:table/:id', 'row']] as const;
  it('finds its page and the names in it', () => {
    expect(match(routes, '/')).toEqual({ name: 'bench', params: {} });
    expect(match(routes, '/book/compare')).toEqual({ name: 'compare', params: {} });
    expect(match(routes, '/book/treatments/valley%3At-117')).toEqual({ name: 'row', params: { table: 'treatments', id: 'valley:t-117' } });
  });
  it('may end in a slash', () => expect(match(routes, '/book/shapes/')?.name).toBe('table'));
  it('that fits nothing finds nothing, a stray percent sign included', () => {
    expect(match(routes, '/nowhere')).toBeUndefined();
    expect(match(routes, '/book/shapes/100%')).toBeUndefined();
  });
  it('is made so that it leads back', () => {
    const address = to('/book', 'treatments', 'a:b/c');
    expect(match(routes, address)?.params['id']).toBe('a:b/c');
    expect(to('/')).toBe('/');
  });
});

describe('the span of years', () => {
  it.each([
    ['1931~/1940', [1931, 1940]], ['about 1909 to 1931', [1909, 1931]], ['193X', [1930, 1939]], ['the 1930s', [1930, 1939]],
    ['1932-04', [1932, 1932]], ['1931?', [1931, 1931]],
  ])('of %s', (words, span) => expect(spanOf(words)).toEqual(span));
  it('is absent when no year is named', () => {
    expect(spanOf('')).toBeUndefined();
    expect(spanOf('number 117')).toBeUndefined();
  });
});

describe('a row of the Book', () => {
  it('refers by object or by bare id', () => {
    expect(asNamed({ id: 'oat', name: 'Oat' })).toEqual({ id: 'oat', name: 'Oat' });
    expect(asNamed('oat')).toEqual({ id: 'oat', name: 'oat' });
    expect(asNamed(null)).toBeUndefined();
    expect(asNamed('')).toBeUndefined();
  });
  it('is called by number and name, wording, title or id', () => {
    expect(titleOf({ id: 't', number: '117', name: 'Fern' })).toBe('117 Fern');
    expect(titleOf({ id: 'm', wording: 'WARRANTED' })).toBe('WARRANTED');
    expect(titleOf({ id: 's', title: 'A book' })).toBe('A book');
    expect(titleOf({ id: 'x' })).toBe('x');
  });
  it('gives numbers whether they came as numbers or as text', () => {
    expect(number({ id: 'x', share: 0.5 }, 'share')).toBe(0.5);
    expect(number({ id: 'x', share: '0.5' }, 'share')).toBe(0.5);
    expect(number({ id: 'x', share: '' }, 'share')).toBeUndefined();
    expect(text({ id: 'x', yes: true }, 'yes')).toBe('true');
  });
});
