// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { grouped, stem } from './names';

const of = (...names: string[]) => names.map((name) => ({ name }));
const names = (groups: { name: string }[][]) => groups.map((group) => group.map((one) => one.name));

it('Each file is a piece of its own unless asked otherwise', () => {
  expect(names(grouped(of('a-front.jpg', 'a-back.jpg'), false))).toEqual([['a-front.jpg'], ['a-back.jpg']]);
});
it('Names that differ only at their end belong together, wherever they stand', () => {
  expect(names(grouped(of('cup 3 front.jpg', 'dish.jpg', 'cup 3 back.JPG', 'cup 4 front.jpg'), true)))
    .toEqual([['cup 3 front.jpg', 'cup 3 back.JPG'], ['dish.jpg'], ['cup 4 front.jpg']]);
});
it('A name that is nothing but its end stays a name', () => {
  expect(stem('front.jpg')).toBe('front');
  expect(stem('1.jpg')).toBe('1');
  expect(stem('p-12_b.png')).toBe('p-12');
  expect(stem('plate (2).heic')).toBe('plate');
});
