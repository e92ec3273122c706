// routes/book/[table]/[id]/columns.ts - which of a row's fields are its own, and which refer back to it. Pure.
//   The server may add fields; unknown ones are shown under their names rather than hidden.
// SPDX-License-Identifier: Apache-2.0
import { asNamed, text, titleOf } from '../../../../lib/rows';
import { to } from '../../../../lib/routing';
import type { Row } from '../../../../lib/types';
import { capital, plainWord } from '../../../../lib/words';
import { tableNamed } from '../../tables';

export type Column = { name: string; label: string; value: string; href?: string };
export type Referring = { column: string; table: string; label: string; rows: { id: string; name: string; detail: string; href: string }[] };

const HIDDEN = new Set([
  'id', 'sources', 'source', 'years_words', 'statements', 'dated_uses', 'drawing', 'colour', 'row', 'pack', 'tables', 'origin',
  'code_scheme_row', 'name', 'wording', 'title', // the last three are the heading
]);
const TABLE_OF: Record<string, string> = {
  maker: 'makers', supplier: 'makers', shape: 'shapes', glaze: 'glazes', form: 'forms', code_scheme: 'code-schemes', treatment: 'treatments',
  ornament: 'ornaments', mark: 'marks',
};
const REFERRING: Record<string, string> = { used_by: 'treatments', uses: 'treatments', used_on: 'shapes' };
const LABELS: Record<string, string> = {
  lab_l: 'Lightness L*', lab_a: 'a*', lab_b: 'b*', lab: 'Colour L*a*b*', aat: 'Getty AAT', unmarked_share: 'Unmarked', numbered_share: 'Numbered', code_scheme: 'Date code',
  rows: 'What leans on it', used_by: 'Used by', used_on: 'Used on',
};
const label = (name: string) => LABELS[name] ?? capital(name.replaceAll('_', ' '));
const isRows = (value: unknown): value is Row[] => Array.isArray(value) && value.some((one) => typeof one === 'object' && one !== null);

export function columnsOf(row: Row): Column[] {
  const columns: Column[] = [];
  for (const [name, value] of Object.entries(row)) {
    if (HIDDEN.has(name) || value === null || value === '' || isRows(value)) continue;
    if (Array.isArray(value)) {
      if (value.length) columns.push({ name, label: label(name), value: value.map(shown).join(', ') });
      continue;
    }
    if (name === 'years') {
      columns.push({ name, label: 'Years', value: row.years_words || text(row, name) });
      continue;
    }
    const refers = typeof value === 'object' ? asNamed(value) : undefined;
    if (refers) {
      const table = name === 'subject' ? (value as { table?: string }).table : TABLE_OF[name];
      columns.push({ name, label: label(name), value: refers.name, ...(table ? { href: to('/book', table, refers.id) } : {}) });
    } else if (typeof value !== 'object') {
      const table = name === 'code_scheme' ? TABLE_OF[name] : undefined;
      columns.push({ name, label: label(name), value: shown(value), ...(table ? { href: to('/book', table, String(value)) } : {}) });
    }
  }
  return columns;
}

function shown(value: unknown): string {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (typeof value === 'number') return String(Number(value.toFixed(3)));
  return plainWord(String(value));
}

export function referringOf(row: Row): Referring[] {
  const groups: Referring[] = [];
  for (const [column, value] of Object.entries(row)) {
    if (HIDDEN.has(column) || !isRows(value) || value.length === 0) continue;
    if (column === 'shapes' && isRows(row['used_on'])) continue; // a mark's own shapes are among those it is used on
    const table = REFERRING[column] ?? column.replaceAll('_', '-');
    groups.push({ column, table, label: label(column), rows: value.map((one) => reference(one, table)) });
  }
  return groups;
}

function reference(one: Row, table: string): Referring['rows'][number] {
  const inner = (one['treatment'] ?? one['form'] ?? one['shape']) as Row | undefined;
  const target = typeof one.id === 'string' ? one : inner && typeof inner === 'object' ? inner : one;
  const where = typeof one['table'] === 'string' ? one['table'].replace(/\.csv.*$/, '').replaceAll('_', '-') : table;
  const id = typeof target.id === 'string' ? target.id : '';
  const detail = [
    target === one ? asNamed(one['shape'])?.name : '', text(one, 'grade') && plainWord(text(one, 'grade')), text(one, 'row'), text(one, 'detail'), one.years_words,
  ].filter(Boolean).join(', ');
  return {
    id, detail, name: id ? titleOf(target) : text(one, 'name') || detail,
    href: id && tableNamed(where) ? to('/book', where, id) : '',
  };
}
