// lib/merge.ts - two people changed one piece: what both saw, on one piece. Pure.
//   What one of them changed is as that one says; what both changed differently stays as `mine` says, and is named.
// SPDX-License-Identifier: Apache-2.0
import { seenNumber, withField, withLook } from './piece';
import type { PieceFile } from './types';

export type Merged = {
  piece: PieceFile;
  theirs: string[]; // places and fields taken from them
  both: string[]; // changed by both, and not alike
};

/** Every look by the name of its place or field, in one way of writing. */
function looks(piece: PieceFile): Map<string, string> {
  const { id: _id, photos: _photos, looks: seen, number: _number, ...fields } = piece;
  const out = new Map<string, string>();
  for (const [name, value] of Object.entries(fields)) {
    if (value === undefined || value === null || value === '') continue;
    out.set(name, JSON.stringify(typeof value === 'object' && 'value' in value ? { value: value.value, sure: value.sure ?? 'sure' } : value));
  }
  const number = seenNumber(piece);
  if (number) out.set('number', JSON.stringify({ value: number.value, sure: number.sure ?? 'sure' }));
  for (const look of seen ?? []) out.set(`at ${look.place}`, JSON.stringify({ value: look.value, sure: look.sure ?? 'sure' }));
  return out;
}

export function merged(base: PieceFile, mine: PieceFile, theirs: PieceFile): Merged {
  const was = looks(base);
  const my = looks(mine);
  const their = looks(theirs);
  const out: Merged = { piece: { ...mine, ...(theirs.photos ? { photos: theirs.photos } : {}) }, theirs: [], both: [] };
  for (const name of new Set([...was.keys(), ...their.keys()])) {
    const [old, own, other] = [was.get(name), my.get(name), their.get(name)];
    if (other === old || other === own) continue; // they left it, or we agree
    const plain = name.replace(/^at /, '').replace(/_mm$/, '').replaceAll('_', ' ');
    if (own !== old) {
      out.both.push(plain);
      continue;
    }
    out.theirs.push(plain);
    const value = other === undefined ? undefined : JSON.parse(other);
    out.piece = name.startsWith('at ')
      ? withLook(out.piece, name.slice(3), value?.value, value?.sure)
      : withField(out.piece, name as Parameters<typeof withField>[1], value);
  }
  return out;
}
