// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { overlaysOf, polygon, project, repeatTicks, rimOf, ringAt, unproject } from './plate';
import type { Reading } from './types';

// A plate seen a little from the side: in perspective, turned by 20 degrees.
const turn = (20 * Math.PI) / 180;
const pose = [
  900 * Math.cos(turn), -700 * Math.sin(turn), 40, 1200, 900 * Math.sin(turn), 700 * Math.cos(turn), -200, 800, 0.04, -0.06, 0.1, 1,
];

function reading(over: Partial<Reading>): Reading {
  const line = { present: 0, colour: null, at: null, width: null, width_mm: null, ornaments: [] };
  return {
    photo: { file: 'a.jpg', width: 2400, height: 1600 }, scale: null,
    outline: { kind: 'round', centre_px: null, axes_px: null, angle_deg: null, long_mm: null, short_mm: null, sigma_mm: null, seen: 1, tilt_deg: 20, corners_px: [], sizes: [] },
    border: { present: 0.99, repeats: 8, finish: 'gold', wear: 0, ornaments: [], band: [0.05, 0.2], phase: 0.03, map: [] },
    edge_line: line, verge_line: line,
    centre: { present: 0, ornaments: [], finish: null, radius: null, middle: null, angle_deg: null },
    glaze: { lab: null, nearest: [], sigma: null }, faults: { specks_per_dm2: null, unevenness: null, crazing: null, specks_px: [] },
    wording: [], marks: [], looks: [], notes: [], side: 'front', card: null, mark_area_px: null, numbers: [], date_codes: [], strip: null,
    photo_from_plate: pose, piece: {}, suggestions: [], ...over,
  };
}
const numbers = (path: string): number[] => (path.match(/-?[\d.]+/g) ?? []).map(Number);

/** The ellipse that the unit circle of the plate makes in the photograph, by its five points. */
function rimEllipse() {
  const points = Array.from({ length: 720 }, (_, k) => project(pose, Math.cos((k * Math.PI) / 360), Math.sin((k * Math.PI) / 360)));
  // the middle of an ellipse is the middle of the box around it
  const middle = (all: number[]) => (Math.min(...all) + Math.max(...all)) / 2;
  const x = middle(points.map((p) => p.x));
  const y = middle(points.map((p) => p.y));
  const far = points.map((p) => Math.hypot(p.x - x, p.y - y));
  const at = far.indexOf(Math.max(...far));
  const longest = points[at] ?? { x, y };
  return { centre_px: [x, y], axes_px: [Math.max(...far), Math.min(...far)], angle_deg: (Math.atan2(longest.y - y, longest.x - x) * 180) / Math.PI };
}

describe('Between plate and photograph', () => {
  it('there and back is nowhere', () => {
    for (const [x, y] of [[0, 0], [1, 0], [-0.3, 0.8], [0.2, -0.9]] as const) {
      const back = unproject(pose, project(pose, x, y));
      expect(back.x).toBeCloseTo(x, 9);
      expect(back.y).toBeCloseTo(y, 9);
    }
  });
  it('the rim of a round plate is the unit circle, by length from +x towards +y', () => {
    const round = reading({});
    const rim = rimOf({ ...round, outline: { ...round.outline, ...rimEllipse() } });
    expect(rim).toHaveLength(360);
    rim.forEach((foot, k) => {
      expect(Math.hypot(foot.at.x, foot.at.y)).toBeCloseTo(1, 2);
      const off = Math.atan2(foot.at.y, foot.at.x) - (k * Math.PI) / 180;
      expect(Math.abs(Math.atan2(Math.sin(off), Math.cos(off)))).toBeLessThan(0.03);
      expect(foot.at.x * foot.inwards.x + foot.at.y * foot.inwards.y).toBeLessThan(-0.98);
    });
  });
  it('the rim of a square dish keeps its corners and runs by length', () => {
    const corners = [[0.7, 0.7], [-0.7, 0.7], [-0.7, -0.7], [0.7, -0.7]].map(([x = 0, y = 0]) => {
      const p = project(pose, x, y);
      return [p.x, p.y];
    });
    const square = reading({});
    const rim = rimOf({ ...square, outline: { ...square.outline, kind: 'square', corners_px: corners } });
    expect(rim[0]?.at.x).toBeCloseTo(0.7, 1);
    expect(Math.abs(rim[0]?.at.y ?? 1)).toBeLessThan(0.02);
    expect(rim[90]?.at.y).toBeCloseTo(0.7, 1);
    expect(Math.abs(rim[90]?.at.x ?? 1)).toBeLessThan(0.03);
    for (const foot of rim) expect(Math.max(Math.abs(foot.at.x), Math.abs(foot.at.y))).toBeCloseTo(0.7, 6);
  });
  it('a line inside the rim is drawn inside it', () => {
    const round = reading({});
    const full = { ...round, outline: { ...round.outline, ...rimEllipse() } };
    const rim = rimOf(full);
    const [x = 0, y = 0] = numbers(ringAt(full, rim, 0.25));
    const back = unproject(pose, { x, y });
    expect(Math.hypot(back.x, back.y)).toBeCloseTo(0.75, 2);
  });
  it('a tick stands at the middle of each repeat', () => {
    const round = reading({});
    const full = { ...round, outline: { ...round.outline, ...rimEllipse() } };
    const ticks = repeatTicks(full, rimOf(full), 8);
    expect(ticks).toHaveLength(8);
    ticks.forEach((tick, k) => {
      const [x = 0, y = 0] = numbers(tick.path);
      const at = unproject(pose, { x, y });
      const off = Math.atan2(at.y, at.x) - 2 * Math.PI * (0.03 + k / 8);
      expect(Math.abs(Math.atan2(Math.sin(off), Math.cos(off)))).toBeLessThan(0.03);
      expect(Math.hypot(at.x, at.y)).toBeCloseTo(0.95, 1);
    });
    expect(repeatTicks(full, rimOf(full), null)).toEqual([]);
  });
  it('without an outline there is nothing to draw', () => {
    const none = reading({ photo_from_plate: null });
    none.outline.kind = 'none';
    expect(rimOf(none)).toEqual([]);
    expect(overlaysOf(none)).toEqual([]);
    expect(ringAt(none, [], 0)).toBe('');
    expect(polygon(null)).toBe('');
    expect(polygon([[1, 2], [3, 4]])).toBe('M1.0 2.0L3.0 4.0Z');
  });
  it('only what is more likely there than not is drawn', () => {
    const one = reading({});
    one.outline.centre_px = [0, 0];
    one.edge_line = { ...one.edge_line, present: 0.3, at: 0.01 };
    one.verge_line = { ...one.verge_line, present: 0.7, at: 0.3 };
    expect(overlaysOf(one)).toEqual(['rim', 'verge', 'border', 'repeats']);
  });
});
