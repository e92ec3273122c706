// lib/edits.ts - rows of packs as forms hold them: text by column. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { EditColumn, EditTable } from './types';

export type Cells = Record<string, string>;
export type RowEdit = { table: string; do: 'add' | 'change' | 'remove'; line?: number; was?: Cells; cells?: Cells };

/** The columns whose text differs; an absent one counts as blank. */
export function changed(before: Cells, after: Cells): Cells {
  const out: Cells = {};
  for (const [column, text] of Object.entries(after)) if ((before[column] ?? '') !== text.trim()) out[column] = text.trim();
  return out;
}

/** "Fern Pair!" -> "fern-pair": an id that packs take. */
export const slug = (text: string): string =>
  text
    .normalize('NFD')
    .toLowerCase()
    .replace(/[\u0300-\u036f]/g, '')
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '');

/** The first of name, name-2, name-3 ... that is free. */
export function freeId(wanted: string, taken: readonly string[]): string {
  let id = wanted;
  for (let n = 2; taken.includes(id); n += 1) id = `${wanted}-${n}`;
  return id;
}

/** st-1, st-2, st-3 -> "st-4"; nothing when the ids of a table are not numbered so. */
export function nextId(known: readonly string[]): string | undefined {
  const numbered = known.map((id) => /^([a-z]+-)(\d+)$/.exec(id)).filter((found) => found !== null);
  const prefix = numbered[0]?.[1];
  if (!prefix || numbered.length * 2 < known.length || numbered.some((found) => found[1] !== prefix)) return undefined;
  return prefix + String(Math.max(...numbered.map((found) => Number(found[2]))) + 1).padStart(numbered[0]?.[2]?.length ?? 1, '0');
}

/** What a row is called in lists: its words first, then its id. */
export function callOf(cells: Cells): string {
  const number = cells['number'] ?? '';
  const words = cells['name'] || cells['wording'] || cells['title'] || '';
  return [number, words].filter(Boolean).join(' ') || cells['id'] || '';
}

/** What a list shows beside the name: the first filled columns that are not the name, id or source. */
export function detailOf(cells: Cells, table: EditTable): string {
  const first = table.has_id ? ['id'] : [];
  const skip = new Set(['id', 'name', 'wording', 'title', 'number', 'note', 'source', 'drawing', 'tables', 'pattern', 'locator']);
  return [...first, ...table.columns.map((column) => column.name).filter((name) => !skip.has(name))]
    .map((name) => cells[name] ?? '')
    .filter(Boolean)
    .slice(0, 5)
    .join(', ');
}

export const partsOf = (text: string): string[] => text.split(';').map((part) => part.trim()).filter(Boolean);

/** Where the page of a row is: "/book/dated-uses"; tables without pages of their own have none. */
export const pageTable = (table: string): string => table.replaceAll('_', '-');
export const fileTable = (table: string): string => table.replaceAll('-', '_');

/** "treatments.csv:31" -> 31. */
export function lineOf(row: string): number | undefined {
  const line = Number(/:(\d+)$/.exec(row)?.[1]);
  return Number.isInteger(line) && line > 0 ? line : undefined;
}

export const nameOfColumn = (column: EditColumn): string =>
  ({ aat: 'AAT term', lab_l: 'L* of the colour', lab_a: 'a* of the colour', lab_b: 'b* of the colour', on: 'On which pieces', id: 'Id' })[column.name]
  ?? (column.name.charAt(0).toUpperCase() + column.name.slice(1)).replaceAll('_', ' ').replace(/ mm$/, ' (mm)').replace(/ ml$/, ' (ml)');
