// lib/suggested.ts - suggestions of photographs become looks of the piece, one accepted by one. Pure.
// SPDX-License-Identifier: Apache-2.0
import { lookAt, seenNumber, withField, withLook } from './piece';
import type { Corrections, Faults, PieceFile, Suggested, SuggestionName, Sure, Wear } from './types';
import { sameId } from './words';

export const nameOf = (row: Suggested): SuggestionName => ({ field: row.field, place: row.place ?? '', value: row.value });
export const keyOf = (row: { field: string; place?: string | null; value: string }): string => `${row.field}/${row.place ?? ''}/${row.value}`;

/** What the piece says where a suggestion speaks; absent: not looked at. */
export function valueNow(piece: PieceFile, row: Suggested): string | undefined {
  switch (row.field) {
    case 'looks':
      return lookAt(piece, row.place ?? '')?.value;
    case 'number':
      return seenNumber(piece)?.value;
    case 'shape':
    case 'glaze':
    case 'mark':
      return piece[row.field]?.value;
    case 'form':
    case 'wear':
    case 'faults':
    case 'date_code':
      return piece[row.field] || undefined;
    case 'length_mm':
    case 'width_mm':
    case 'height_mm':
      return piece[row.field] === undefined ? undefined : String(piece[row.field]);
    default:
      return undefined;
  }
}

export type State = 'open' | 'taken' | 'otherwise' | 'refused';
/** `otherwise`: the piece says something else there already. */
export function stateOf(piece: PieceFile, row: Suggested): State {
  if (row.state === 'refused') return 'refused';
  const now = valueNow(piece, row);
  if (now === undefined) return 'open';
  return sameId(now, row.value) || Number(now) === Number(row.value) ? 'taken' : 'otherwise';
}

/** The piece after a suggestion was accepted; it also names the photographs that say so. */
export function accepted(piece: PieceFile, row: Suggested, sure: Sure = row.sure ?? 'guess'): PieceFile {
  const names = row.for.map((said) => said.name).filter(Boolean);
  const named = { ...piece, photos: [...new Set([...(piece.photos ?? []), ...names])] };
  const { value } = row;
  switch (row.field) {
    case 'looks':
      return withLook(named, row.place ?? '', value, sure);
    case 'shape':
    case 'glaze':
    case 'mark':
      return withField(named, row.field, { value, sure });
    case 'number':
      return withField(named, 'number', sure === 'sure' ? value : { value, sure });
    case 'form':
    case 'date_code':
      return withField(named, row.field, value);
    case 'wear':
      return withField(named, 'wear', value as Wear);
    case 'faults':
      return withField(named, 'faults', value as Faults);
    case 'length_mm':
    case 'width_mm':
    case 'height_mm':
      return withField(named, row.field, Number(value));
    default:
      return piece;
  }
}

/** The piece without what this suggestion gave it. */
export function withdrawn(piece: PieceFile, row: Suggested): PieceFile {
  if (stateOf({ ...piece }, { ...row, state: 'open' }) !== 'taken') return piece;
  if (row.field === 'looks') return withLook(piece, row.place ?? '', undefined);
  return withField(piece, row.field as 'form', undefined);
}

const RANK: Record<string, number> = { sure: 3, likely: 2, guess: 1 };
/** Open suggestions that are at least this sure. */
export const atLeast = (rows: readonly Suggested[], piece: PieceFile, sure: Sure): Suggested[] =>
  rows.filter((row) => stateOf(piece, row) === 'open' && (RANK[row.sure ?? ''] ?? 0) >= (RANK[sure] ?? 0));

/** Corrections of a photograph with one suggestion accepted, refused, or neither. */
export function marked(before: Corrections | undefined, row: SuggestionName, as: 'accepted' | 'refused' | undefined): Corrections {
  const without = (list: SuggestionName[] | undefined) => (list ?? []).filter((one) => keyOf(one) !== keyOf(row));
  const acceptedNow = without(before?.accepted);
  const refusedNow = without(before?.refused);
  if (as === 'accepted') acceptedNow.push(row);
  if (as === 'refused') refusedNow.push(row);
  return { ...before, accepted: acceptedNow, refused: refusedNow };
}
