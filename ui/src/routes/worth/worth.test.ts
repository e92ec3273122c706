// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { askedWords, barOf, factorWords, figure, intervalWords, lacksSales, paid, price, range, yearTicks } from './words';

const plain = (text: string) => text.replaceAll('\u00a0', ' ');
describe('Prices', () => {
  it('are said no more exactly than they are known, but what was paid to the penny', () => {
    expect([1234.5, 47.3, 3.456, 0].map((one) => price(one))).toEqual(['1,230', '47', '3.5', '0']);
    expect(plain(paid(12.5, 'GBP'))).toBe('12.50 GBP');
    expect(plain(paid(12, 'GBP'))).toBe('12 GBP');
  });
  it('never stand without their doubt', () => {
    expect(plain(intervalWords({ median: 40, fifty: [31, 52], ninety: [18, 88] }, 'GBP'))).toBe('about 40 GBP; as likely as not 31 to 52, nine times in ten 18 to 88');
    expect(plain(range([18, 88], 'GBP'))).toBe('18 to 88 GBP');
  });
  it('have parts in percent', () => expect([1.25, 0.8, 1.001].map((one) => plain(factorWords(one)))).toEqual(['+25 %', '−20 %', '0 %']));
  it('are drawn within the line, wherever they lie', () => {
    expect(barOf({ median: 50, fifty: [40, 60], ninety: [20, 200] }, 100)).toEqual({ whole: [20, 80], half: [40, 20], middle: 50 });
  });
  it('stand over whole years, none of them twice', () => {
    expect(yearTicks([2018.2, 2021.9], 900)).toEqual([2019, 2020, 2021]);
    expect(yearTicks([2005, 2020], 380)).toEqual([2005, 2010, 2015, 2020]);
  });
  it('are read with a comma or a point', () => {
    expect([figure(' 12,5 '), figure('3.25'), figure(''), Number.isNaN(figure('dear') ?? 0)]).toEqual([12.5, 3.25, undefined, true]);
  });
  it('are judged by where they lie among what such sales bring', () => {
    const worth = { median: 40, fifty: [31, 52] as [number, number], ninety: [18, 88] as [number, number] };
    expect([10, 20, 40, 60, 90].map((asked) => askedWords(asked, worth))).toEqual([
      'is less than nineteen in twenty such sales bring', 'is less than three in four such sales bring', 'is about what such sales bring',
      'is more than three in four such sales bring', 'is more than nineteen in twenty such sales bring',
    ]);
  });
  it('are missing for want of sales only when that is all that is wrong', () => {
    const problem = (where: string) => ({ code: 'not-found', where, what: '', remedy: '' });
    expect(lacksSales([problem('sales')])).toBe(true);
    expect(lacksSales([problem('sales'), problem('form')])).toBe(false);
    expect(lacksSales([])).toBe(false);
  });
});
