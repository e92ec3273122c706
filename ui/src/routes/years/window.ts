// routes/years/window.ts - which years are shown, and where a year lies. Pure.
//   A window is a run of years with fractions: 1931 begins at 1931 and ends at 1932. It never leaves its limits and never
//   becomes narrower than LEAST years.
// SPDX-License-Identifier: Apache-2.0

export type Window = { from: number; to: number };
/** Fewer years than this cannot be told apart any better: dates here are whole years. */
export const LEAST = 4;

/** All there is, with a little air, in whole years. */
export function wholeOf(first: number, last: number): Window {
  const air = Math.max(1, Math.round((last - first + 1) * 0.03));
  return held({ from: first - air, to: last + 1 + air }, { from: -Infinity, to: Infinity });
}

/** Moved and narrowed as little as it takes to lie within the limits and be wide enough. */
export function held(window: Window, limits: Window): Window {
  const most = limits.to - limits.from;
  const width = Math.min(Math.max(window.to - window.from, LEAST), Math.max(most, LEAST));
  const middle = (window.from + window.to) / 2;
  let from = window.to - window.from === width ? window.from : middle - width / 2;
  if (from + width > limits.to) from = limits.to - width;
  if (from < limits.from) from = limits.from;
  return { from, to: from + width };
}

/** Shows 1/factor as many years; the year `at` stays where it is on the screen. */
export function zoomed(window: Window, factor: number, at: number, limits: Window): Window {
  const width = Math.min(Math.max((window.to - window.from) / factor, LEAST), Math.max(limits.to - limits.from, LEAST));
  const share = (at - window.from) / (window.to - window.from);
  return held({ from: at - share * width, to: at + (1 - share) * width }, limits);
}

export const panned = (window: Window, years: number, limits: Window): Window =>
  held({ from: window.from + years, to: window.to + years }, limits);

/** Two fingers: the years under them at the beginning are under them again. Shares are of the window's width. */
export function pinched(begun: Window, was: [number, number], now: [number, number], limits: Window): Window {
  const width = begun.to - begun.from;
  const spread = Math.max(Math.abs(was[1] - was[0]), 0.02);
  const factor = Math.max(Math.abs(now[1] - now[0]), 0.02) / spread;
  const under = begun.from + ((was[0] + was[1]) / 2) * width;
  const wide = Math.min(Math.max(width / factor, LEAST), Math.max(limits.to - limits.from, LEAST));
  const from = under - ((now[0] + now[1]) / 2) * wide;
  return held({ from, to: from + wide }, limits);
}

/** Moved as little as it takes to show the years a..b, its middle when they do not fit. */
export function showing(window: Window, a: number, b: number, limits: Window): Window {
  const width = window.to - window.from;
  const air = Math.min(1, width * 0.05);
  if (b - a + 2 * air >= width) {
    const seen = Math.min(b, window.to) - Math.max(a, window.from);
    return seen > width * 0.25 ? window : held({ from: (a + b) / 2 - width / 2, to: (a + b) / 2 + width / 2 }, limits);
  }
  if (a - air < window.from) return panned(window, a - air - window.from, limits);
  if (b + air > window.to) return panned(window, b + air - window.to, limits);
  return window;
}

export type Plot = { left: number; right: number; window: Window }; // px
export const xOf = ({ left, right, window }: Plot, year: number): number =>
  left + ((year - window.from) / (window.to - window.from)) * (right - left);
export const yearAt = ({ left, right, window }: Plot, x: number): number =>
  window.from + ((x - left) / (right - left)) * (window.to - window.from);

/** Years that get a line: round ones, at least `room` px apart; `strong` ones begin a decade (or a century). */
export function yearLines(plot: Plot, room = 58): { year: number; strong: boolean }[] {
  const perYear = (plot.right - plot.left) / (plot.window.to - plot.window.from);
  const step = [1, 2, 5, 10, 20, 25, 50, 100, 200, 500, 1000].find((years) => years * perYear >= room) ?? 2000;
  const lines: { year: number; strong: boolean }[] = [];
  for (let year = Math.ceil(plot.window.from / step) * step; year <= plot.window.to; year += step) {
    lines.push({ year, strong: year % (step < 10 ? 10 : 100) === 0 });
  }
  return lines;
}
