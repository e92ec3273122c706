// lib/piece.ts - changing a piece file by one look at a time. Pure: every change returns a new piece.
//   An absent field was not looked at, so clearing a field removes it.
// SPDX-License-Identifier: Apache-2.0
import type { Look, PieceFile, PieceRecord, Seen, Sure } from './types';

export const blankPiece = (): PieceFile => ({ id: '', looks: [], photos: [] });

export const blankRecord = (piece: PieceFile): PieceRecord => ({
  piece, lot: '', place: '', currency: '', note: '', private: false, created: '', changed: '', revision: 0, photos: [],
});

type Field = Exclude<keyof PieceFile, 'id' | 'looks' | 'photos'>;

export function withField<F extends Field>(piece: PieceFile, field: F, value: PieceFile[F] | undefined): PieceFile {
  const { [field]: _, ...rest } = piece;
  const empty = value === undefined || value === '' || (typeof value === 'object' && value.value === '');
  return empty ? (rest as PieceFile) : { ...(rest as PieceFile), [field]: value };
}

export const lookAt = (piece: PieceFile, place: string): Look | undefined =>
  piece.looks?.find((look) => look.place === place);

/** Sets or, with `value` absent, clears what was seen at a place. Looks keep the order in which they were made. */
export function withLook(piece: PieceFile, place: string, value: string | undefined, sure: Sure = 'sure'): PieceFile {
  const looks = piece.looks ?? [];
  if (value === undefined) return { ...piece, looks: looks.filter((look) => look.place !== place) };
  const look: Look = { place, value, sure };
  const known = looks.some((old) => old.place === place);
  return { ...piece, looks: known ? looks.map((old) => (old.place === place ? look : old)) : [...looks, look] };
}

export function seenNumber(piece: PieceFile): Seen | undefined {
  if (piece.number === undefined || piece.number === '') return undefined;
  return typeof piece.number === 'string' ? { value: piece.number, sure: 'sure' } : piece.number;
}

/** The piece as it goes to the program: nothing empty, and an id even before it is kept. */
export function toFile(piece: PieceFile, unkept = 'new-piece'): PieceFile {
  const file: PieceFile = { ...piece, id: piece.id || unkept };
  for (const key of Object.keys(file) as (keyof PieceFile)[]) {
    const value = file[key];
    if (value === undefined || value === null || value === '') delete file[key];
  }
  return file;
}

export const sameSeen = (a: PieceFile, b: PieceFile): boolean => canonical(a) === canonical(b);

function canonical(piece: PieceFile): string {
  const file = toFile({ ...piece, photos: [] });
  const looks = [...(file.looks ?? [])].map((look) => ({ ...look, sure: look.sure ?? 'sure' }));
  looks.sort((a, b) => a.place.localeCompare(b.place));
  const number = seenNumber(file);
  const fields = { ...file, looks, number: number && { ...number, sure: number.sure ?? 'sure' } } as Record<string, unknown>;
  for (const field of ['shape', 'glaze', 'mark'] as const) {
    const seen = file[field];
    if (seen) fields[field] = { value: seen.value, sure: seen.sure ?? 'sure' };
  }
  return JSON.stringify(Object.entries(fields).sort(([a], [b]) => a.localeCompare(b)));
}

/** How many things were looked at; zero for a blank piece. */
export function looksMade(piece: PieceFile): number {
  const { id: _id, photos: _photos, looks, ...fields } = toFile(piece);
  return (looks?.length ?? 0) + Object.keys(fields).length;
}
