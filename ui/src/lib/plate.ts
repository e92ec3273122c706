// lib/plate.ts - what a reading says of a piece, as lines over its photograph. Pure.
//   Frames as in src/photo/reading.h. Plate: unit half the long diameter of the rim, origin at its middle, x along the
//   long axis, in the plane of the rim. s in [0, 1) once round the rim by length, from +x towards +y; t inwards from it.
//   The depth of what lies inside the rim is not known here; it is drawn in the plane of the rim, which under tilt puts
//   the centre of a deep piece a little off.
// SPDX-License-Identifier: Apache-2.0
import type { Point } from './ellipse';
import type { Reading } from './types';

const ROUND = 360; // points of a curve: finer than a pixel of a 4000 px photograph needs

/** (X, Y, W) of the plate's (x, y, 0, 1), or of any z. */
export function project(pose: readonly number[], x: number, y: number, z = 0): Point {
  const row = (i: number) => (pose[i] ?? 0) * x + (pose[i + 1] ?? 0) * y + (pose[i + 2] ?? 0) * z + (pose[i + 3] ?? 0);
  const w = row(8) || 1e-12;
  return { x: row(0) / w, y: row(4) / w };
}

/** Plate coordinates, in the plane of the rim, of a point of the photograph. */
export function unproject(pose: readonly number[], p: Point): Point {
  const m = [0, 1, 3, 4, 5, 7, 8, 9, 11].map((i) => pose[i] ?? 0);
  const [a = 0, b = 0, c = 0, d = 0, e = 0, f = 0, g = 0, h = 0, i = 0] = m;
  // the adjugate of the 3 x 3 matrix
  const x = (e * i - f * h) * p.x + (c * h - b * i) * p.y + (b * f - c * e);
  const y = (f * g - d * i) * p.x + (a * i - c * g) * p.y + (c * d - a * f);
  const w = (d * h - e * g) * p.x + (b * g - a * h) * p.y + (a * e - b * d);
  return { x: x / w, y: y / w };
}

type Foot = { at: Point; inwards: Point };

/** The rim in the plate frame as a closed curve by length, beginning at +x and going towards +y. */
export function rimOf(reading: Reading): Foot[] {
  const pose = reading.photo_from_plate;
  const { outline } = reading;
  if (!pose || outline.kind === 'none') return [];
  let around: Point[];
  if ((outline.kind === 'square' || outline.kind === 'octagonal') && outline.corners_px && outline.corners_px.length > 2) {
    const corners = outline.corners_px.map(([x = 0, y = 0]) => unproject(pose, { x, y }));
    around = corners.flatMap((corner, i) => {
      const next = corners[(i + 1) % corners.length] ?? corner;
      const steps = Math.ceil(ROUND / corners.length);
      return Array.from({ length: steps }, (_, k) => ({
        x: corner.x + ((next.x - corner.x) * k) / steps, y: corner.y + ((next.y - corner.y) * k) / steps,
      }));
    });
  } else if (outline.centre_px && outline.axes_px) {
    const [cx = 0, cy = 0] = outline.centre_px;
    const [a = 0, b = 0] = outline.axes_px;
    const turn = ((outline.angle_deg ?? 0) * Math.PI) / 180;
    around = Array.from({ length: ROUND }, (_, k) => {
      const angle = (2 * Math.PI * k) / ROUND;
      const u = a * Math.cos(angle);
      const v = b * Math.sin(angle);
      return unproject(pose, { x: cx + u * Math.cos(turn) - v * Math.sin(turn), y: cy + u * Math.sin(turn) + v * Math.cos(turn) });
    });
  } else {
    return [];
  }
  return byLength(around);
}

function byLength(around: Point[]): Foot[] {
  // counter-clockwise in the frame's own sense: from +x towards +y
  const area = around.reduce((sum, p, i) => {
    const q = around[(i + 1) % around.length] ?? p;
    return sum + p.x * q.y - q.x * p.y;
  }, 0);
  if (area < 0) around = [...around].reverse();
  // where it crosses the x axis to the right
  const n = around.length;
  let begin = 0;
  let least = Infinity;
  around.forEach((p, i) => {
    const off = Math.abs(Math.atan2(p.y, p.x));
    if (off < least) [least, begin] = [off, i];
  });
  const ring = [...around.slice(begin), ...around.slice(0, begin)];
  const lengths = [0];
  for (let i = 0; i < n; i += 1) {
    const p = ring[i] as Point;
    const q = ring[(i + 1) % n] as Point;
    lengths.push((lengths[i] ?? 0) + Math.hypot(q.x - p.x, q.y - p.y));
  }
  const whole = lengths[n] ?? 1;
  const out: Foot[] = [];
  for (let k = 0, i = 0; k < ROUND; k += 1) {
    const wanted = (whole * k) / ROUND;
    while (i < n - 1 && (lengths[i + 1] ?? 0) <= wanted) i += 1;
    const p = ring[i] as Point;
    const q = ring[(i + 1) % n] as Point;
    const length = Math.hypot(q.x - p.x, q.y - p.y) || 1;
    const share = (wanted - (lengths[i] ?? 0)) / length;
    // the normal of a curve that runs from +x towards +y points inwards on its left
    out.push({
      at: { x: p.x + (q.x - p.x) * share, y: p.y + (q.y - p.y) * share },
      inwards: { x: -(q.y - p.y) / length, y: (q.x - p.x) / length },
    });
  }
  return out;
}

const inside = (foot: Foot, t: number): Point => ({ x: foot.at.x + foot.inwards.x * t, y: foot.at.y + foot.inwards.y * t });
const written = (points: Point[], closed: boolean): string =>
  points.length ? `M${points.map((p) => `${p.x.toFixed(1)} ${p.y.toFixed(1)}`).join('L')}${closed ? 'Z' : ''}` : '';

/** The path of the line that lies t inside the rim. */
export function ringAt(reading: Reading, rim: Foot[], t: number): string {
  const pose = reading.photo_from_plate;
  return pose ? written(rim.map((foot) => inside(foot, t)).map((p) => project(pose, p.x, p.y)), true) : '';
}

/** Short strokes across the border, one at the middle of each repeat; and where their numbers stand. */
export function repeatTicks(reading: Reading, rim: Foot[], count: number | null): { path: string; label: Point }[] {
  const pose = reading.photo_from_plate;
  const band = reading.border.band;
  if (!pose || !count || rim.length === 0) return [];
  const [from = 0.02, to = 0.2] = band ?? [];
  return Array.from({ length: count }, (_, k) => {
    const s = ((reading.border.phase ?? 0) + k / count) % 1;
    const foot = rim[Math.round(((s + 1) % 1) * ROUND) % ROUND] as Foot;
    const ends = [inside(foot, from), inside(foot, to)].map((p) => project(pose, p.x, p.y));
    const out = inside(foot, to + 0.07);
    return { path: written(ends, false), label: project(pose, out.x, out.y) };
  });
}

/** The circle that holds the centre ornament. */
export function centreRing(reading: Reading): string {
  const pose = reading.photo_from_plate;
  const { radius, middle } = reading.centre;
  if (!pose || !radius) return '';
  const [x = 0, y = 0] = middle ?? [];
  const points = Array.from({ length: 90 }, (_, k) => {
    const angle = (2 * Math.PI * k) / 90;
    return project(pose, x + radius * Math.cos(angle), y + radius * Math.sin(angle));
  });
  return written(points, true);
}

export const polygon = (points: readonly (readonly number[])[] | null | undefined): string =>
  written((points ?? []).map(([x = 0, y = 0]) => ({ x, y })), true);

/** Which overlays this reading has anything for. */
export type Overlay = 'rim' | 'edge' | 'verge' | 'border' | 'repeats' | 'centre' | 'card' | 'specks' | 'words' | 'mark';
export function overlaysOf(reading: Reading): Overlay[] {
  const there = reading.outline.kind !== 'none' && reading.photo_from_plate !== null;
  const all: [Overlay, boolean][] = [
    ['rim', reading.outline.kind !== 'none'],
    ['edge', there && reading.edge_line.present >= 0.5 && reading.edge_line.at !== null],
    ['verge', there && reading.verge_line.present >= 0.5 && reading.verge_line.at !== null],
    ['border', there && reading.border.present >= 0.5 && reading.border.band !== null],
    ['repeats', there && reading.border.present >= 0.5 && reading.border.repeats !== null],
    ['centre', there && reading.centre.present >= 0.5 && reading.centre.radius !== null],
    ['card', reading.card !== null],
    ['specks', reading.faults.specks_px.length > 0],
    ['words', reading.wording.length > 0],
    ['mark', reading.mark_area_px !== null],
  ];
  return all.filter(([, has]) => has).map(([name]) => name);
}
