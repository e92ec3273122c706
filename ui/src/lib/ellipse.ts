// lib/ellipse.ts - the rim of a piece as an ellipse in the photograph, moved by hand. Pure.
//   px of the upright photograph, origin at the top left, y down; the angle is that of the first axis, from +x
//   towards +y.
// SPDX-License-Identifier: Apache-2.0
import type { EllipsePx } from './types';

export type Point = { x: number; y: number };
/** What is dragged: the middle, or one end of an axis. */
export type Handle = 'centre' | 'a+' | 'a-' | 'b+' | 'b-';
export const HANDLES: Handle[] = ['centre', 'a+', 'b+', 'a-', 'b-'];

const SMALLEST = 4; // px of a semi-axis: a rim is never a line

const turned = (angle: number): Point => ({ x: Math.cos((angle * Math.PI) / 180), y: Math.sin((angle * Math.PI) / 180) });

/** Where a handle is. */
export function handleAt(e: EllipsePx, handle: Handle): Point {
  const [x = 0, y = 0] = e.centre_px;
  const [a = 0, b = 0] = e.axes_px;
  if (handle === 'centre') return { x, y };
  const along = turned(e.angle_deg + (handle.startsWith('b') ? 90 : 0));
  const length = (handle.startsWith('b') ? b : a) * (handle.endsWith('-') ? -1 : 1);
  return { x: x + along.x * length, y: y + along.y * length };
}

/** The ellipse after a handle was put somewhere: the middle moves all of it, an end turns and stretches its axis. */
export function withHandle(e: EllipsePx, handle: Handle, to: Point): EllipsePx {
  const [x = 0, y = 0] = e.centre_px;
  const [a = 0, b = 0] = e.axes_px;
  if (handle === 'centre') return { ...e, centre_px: [to.x, to.y] };
  const dx = to.x - x;
  const dy = to.y - y;
  const length = Math.max(SMALLEST, Math.hypot(dx, dy));
  const quarter = { 'a+': 0, 'b+': 90, 'a-': 180, 'b-': 270 }[handle];
  const angle = normal((Math.atan2(dy, dx) * 180) / Math.PI - quarter);
  return { ...e, axes_px: handle.startsWith('a') ? [length, b] : [a, length], angle_deg: angle };
}

/** An arrow key on a handle: the middle steps, an end makes its axis longer, shorter, or turns it. */
export function nudged(e: EllipsePx, handle: Handle, key: string, step: number): EllipsePx {
  const at = handleAt(e, handle);
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[key];
  if (!by) return e;
  return withHandle(e, handle, { x: at.x + (by[0] ?? 0) * step, y: at.y + (by[1] ?? 0) * step });
}

/** To [-180, 180): an axis has no direction, but the end that is held must stay the end that is held. */
const normal = (angle: number): number => ((((angle + 180) % 360) + 360) % 360) - 180;

/** A first guess for a rim drawn by hand: a circle that fills most of the photograph. */
export const inTheMiddle = (width: number, height: number): EllipsePx => ({
  centre_px: [width / 2, height / 2], axes_px: [Math.min(width, height) * 0.4, Math.min(width, height) * 0.4], angle_deg: 0,
});
