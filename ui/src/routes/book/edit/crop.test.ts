// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { groundOf, withoutGround } from './crop';

const pixel = (r: number, g: number, b: number) => [r, g, b, 255];

describe('a repeat cut out of a rim strip', () => {
  it('has the glaze taken away and the ink left', () => {
    const glaze = pixel(240, 235, 220), gold = pixel(180, 140, 60);
    const strip = new Uint8ClampedArray([...glaze, ...glaze, ...glaze, ...gold, ...glaze, ...gold, ...glaze, ...glaze, ...glaze]);
    const ground = groundOf(strip, 3, 3);
    expect(ground).toEqual([240, 235, 220]);
    const out = withoutGround(strip, ground, 30);
    expect([out[3], out[3 * 4 + 3]]).toEqual([0, 255]);
  });
  it('stays as it is when nothing is to be taken away', () => {
    expect(withoutGround(new Uint8ClampedArray(pixel(9, 9, 9)), [9, 9, 9], 0)[3]).toBe(255);
  });
});
