// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { HANDLES, handleAt, inTheMiddle, nudged, withHandle } from './ellipse';
import type { EllipsePx } from './types';

const rim: EllipsePx = { centre_px: [100, 50], axes_px: [40, 30], angle_deg: 30 };

describe('A rim moved by hand', () => {
  it('has its handles on the ellipse', () => {
    const end = handleAt(rim, 'a+');
    expect(end.x).toBeCloseTo(100 + 40 * Math.cos(Math.PI / 6));
    expect(end.y).toBeCloseTo(50 + 40 * Math.sin(Math.PI / 6));
    const across = handleAt(rim, 'b+');
    expect(across.x).toBeCloseTo(100 - 30 * Math.sin(Math.PI / 6));
    expect(across.y).toBeCloseTo(50 + 30 * Math.cos(Math.PI / 6));
    expect(handleAt(rim, 'a-').x).toBeCloseTo(200 - end.x);
  });
  it('stays as it was when a handle is put where it is', () => {
    for (const handle of HANDLES) {
      const same = withHandle(rim, handle, handleAt(rim, handle));
      expect(same.centre_px[0]).toBeCloseTo(100);
      expect(same.axes_px[0]).toBeCloseTo(40);
      expect(same.axes_px[1]).toBeCloseTo(30);
      expect(same.angle_deg).toBeCloseTo(30);
    }
  });
  it('puts the dragged end where the hand is', () => {
    for (const handle of HANDLES) {
      const at = { x: 171, y: 93 };
      const there = handleAt(withHandle(rim, handle, at), handle);
      expect(there.x).toBeCloseTo(at.x);
      expect(there.y).toBeCloseTo(at.y);
    }
  });
  it('moves whole by its middle and keeps the other axis when one is stretched', () => {
    const moved = withHandle(rim, 'centre', { x: 1, y: 2 });
    expect(moved).toEqual({ ...rim, centre_px: [1, 2] });
    expect(withHandle(rim, 'a+', { x: 180, y: 50 })).toEqual({ centre_px: [100, 50], axes_px: [80, 30], angle_deg: 0 });
    expect(withHandle(rim, 'b+', { x: 100, y: 120 })).toEqual({ centre_px: [100, 50], axes_px: [40, 70], angle_deg: 0 });
  });
  it('steps by arrow keys, and by no other key', () => {
    expect(nudged(rim, 'centre', 'ArrowLeft', 3).centre_px).toEqual([97, 50]);
    expect(nudged(rim, 'centre', 'ArrowDown', 3).centre_px).toEqual([100, 53]);
    expect(nudged(rim, 'centre', 'Enter', 3)).toBe(rim);
  });
  it('never becomes a line', () => {
    expect(withHandle(rim, 'a+', { x: 100, y: 50 }).axes_px[0]).toBeGreaterThan(0);
  });
  it('begins in the middle of the photograph', () => {
    expect(inTheMiddle(400, 300)).toEqual({ centre_px: [200, 150], axes_px: [120, 120], angle_deg: 0 });
  });
});
