// lib/rows.ts - reading columns of the Book's rows, whose fields differ by table. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Named, Row, SourceRef } from './types';

export function text(row: Row | undefined, column: string): string {
  const value = row?.[column];
  if (typeof value === 'string') return value;
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  return '';
}

export function number(row: Row | undefined, column: string): number | undefined {
  const value = row?.[column];
  if (typeof value === 'number') return value;
  if (typeof value === 'string' && value.trim() !== '' && Number.isFinite(Number(value))) return Number(value);
  return undefined;
}

/** A column that refers to another row; it may arrive resolved ({id, name}) or as a bare id. */
export function named(row: Row | undefined, column: string): Named | undefined {
  return asNamed(row?.[column]);
}

export function asNamed(value: unknown): Named | undefined {
  if (typeof value === 'string') return value === '' ? undefined : { id: value, name: value };
  if (typeof value !== 'object' || value === null) return undefined;
  const { id, name } = value as { id?: unknown; name?: unknown };
  if (typeof id !== 'string' || id === '') return undefined;
  return { id, name: typeof name === 'string' && name !== '' ? name : id };
}

export function list<T = Row>(row: Row | undefined, column: string): T[] {
  const value = row?.[column];
  return Array.isArray(value) ? (value as T[]) : [];
}

export const sources = (row: { sources?: SourceRef[] } | undefined): SourceRef[] =>
  Array.isArray(row?.sources) ? row.sources : [];

/** What a row is called: its name, wording, title or number, else its id. */
export function titleOf(row: Row): string {
  const number = text(row, 'number');
  const name = text(row, 'name');
  if (number && name) return `${number} ${name}`;
  return name || text(row, 'wording') || text(row, 'title') || number || row.id;
}
