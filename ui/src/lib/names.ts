// lib/names.ts - photographs of one piece, told by the names of their files. Pure.
// SPDX-License-Identifier: Apache-2.0

const ASIDE = /[\s._-]*(front|back|rear|top|under|underside|mark|rim|detail|f|b|[a-d]|\(?\d{1,2}\)?)$/i;

/** "plate-12-front.jpg" and "plate-12 back.jpg" -> "plate-12"; a name that is nothing else stays as it is. */
export function stem(name: string): string {
  const bare = name.replace(/\.[^.]+$/, '');
  const cut = bare.replace(ASIDE, '');
  return (cut.length >= 2 && /[\p{L}\p{N}]/u.test(cut) ? cut : bare).toLowerCase();
}

/** Files in groups, each a piece, in the order in which they were given. */
export function grouped<T extends { name: string }>(files: readonly T[], together: boolean): T[][] {
  if (!together) return files.map((file) => [file]);
  const groups = new Map<string, T[]>();
  for (const file of files) {
    const key = stem(file.name);
    groups.set(key, [...(groups.get(key) ?? []), file]);
  }
  return [...groups.values()];
}
