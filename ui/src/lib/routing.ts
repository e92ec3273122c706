// lib/routing.ts - which page an address names. Pure, so that it can be tested without a browser.
// SPDX-License-Identifier: Apache-2.0

export type Match<Name extends string> = { name: Name; params: Record<string, string> };

/** The first pattern ("/book/:table/:id") that fits the path; absent when none does. */
export function match<Name extends string>(
  routes: readonly (readonly [string, Name])[],
  path: string,
): Match<Name> | undefined {
  const parts = split(path);
  for (const [pattern, name] of routes) {
    const wanted = split(pattern);
    if (wanted.length !== parts.length) continue;
    const params: Record<string, string> = {};
    const fits = wanted.every((part, i) => {
      const given = parts[i] ?? '';
      if (!part.startsWith(':')) return part === given;
      const decoded = decode(given);
      if (decoded === undefined) return false;
      params[part.slice(1)] = decoded;
      return true;
    });
    if (fits) return { name, params };
  }
  return undefined;
}

const split = (path: string) => path.split('/').filter((part) => part !== '');

function decode(part: string): string | undefined {
  try {
    return decodeURIComponent(part);
  } catch {
    return undefined; // a stray % in the address bar
  }
}

/** The address of a page of ours: to('/book', 'treatments', id). */
export const to = (base: string, ...parts: string[]): string =>
  [base === '/' ? '' : base, ...parts.map(encodeURIComponent)].join('/') || '/';
