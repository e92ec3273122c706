// routes/book/edit/crop.ts - one repeat of an ornament cut out of a rim strip, its ground taken away. Pure.
//   The ground is the glaze: the colour that most of the strip's border has. A pixel is as see-through as it is near
//   to it, so that the drawing lies on any ware.
// SPDX-License-Identifier: Apache-2.0

type Rgb = [number, number, number];

/** The middle value of each channel along the upper and lower border, where there is least ornament. */
export function groundOf(pixels: Uint8ClampedArray, width: number, height: number): Rgb {
  const channels: number[][] = [[], [], []];
  const rows = [0, Math.min(1, height - 1), Math.max(height - 2, 0), height - 1];
  for (const y of rows)
    for (let x = 0; x < width; x += 1) for (let c = 0; c < 3; c += 1) channels[c]!.push(pixels[(y * width + x) * 4 + c]!);
  return channels.map((values) => values.sort((a, b) => a - b)[values.length >> 1] ?? 255) as Rgb;
}

/** `near`: nearer than this is ground, farther than twice this is ink; in steps of 0..255. */
export function withoutGround(pixels: Uint8ClampedArray, ground: Rgb, near: number): Uint8ClampedArray {
  const out = new Uint8ClampedArray(pixels);
  for (let i = 0; i < out.length; i += 4) {
    const away = Math.hypot(out[i]! - ground[0], out[i + 1]! - ground[1], out[i + 2]! - ground[2]);
    out[i + 3] = near <= 0 ? 255 : Math.round(255 * Math.min(1, Math.max(0, away / near - 1)));
  }
  return out;
}
