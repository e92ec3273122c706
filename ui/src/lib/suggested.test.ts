// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { accepted, atLeast, marked, stateOf, withdrawn } from './suggested';
import type { PieceFile, Suggested } from './types';

const piece: PieceFile = { id: 'p-1', looks: [{ place: 'edge', value: 'none', sure: 'sure' }], photos: [] };
const row = (field: string, value: string, more: Partial<Suggested> = {}): Suggested => ({
  field, value, place: null, sure: 'likely', chance: 0.9, why: '', state: 'open', now: null,
  for: [{ sha256: 'a', name: 'front.jpg', value, chance: 0.9, why: '' }], against: [], ...more,
});
const rim = row('looks', 'fern-pair', { place: 'rim' });

describe('A suggestion', () => {
  it('becomes a look that names its photograph', () => {
    const next = accepted(piece, rim);
    expect(next.looks).toEqual([{ place: 'edge', value: 'none', sure: 'sure' }, { place: 'rim', value: 'fern-pair', sure: 'likely' }]);
    expect(next.photos).toEqual(['front.jpg']);
    expect(accepted(next, row('glaze', 'oat')).photos).toEqual(['front.jpg']);
    expect(piece.looks).toHaveLength(1);
  });
  it('goes into the field it is about, in the way of the piece file', () => {
    expect(accepted(piece, row('glaze', 'oat')).glaze).toEqual({ value: 'oat', sure: 'likely' });
    expect(accepted(piece, row('number', '1?7')).number).toEqual({ value: '1?7', sure: 'likely' });
    expect(accepted(piece, row('number', '117', { sure: 'sure' })).number).toBe('117');
    expect(accepted(piece, row('length_mm', '227')).length_mm).toBe(227);
    expect(accepted(piece, row('wear', 'light')).wear).toBe('light');
    expect(accepted(piece, row('faults', 'few')).faults).toBe('few');
    expect(accepted(piece, row('form', 'dinner-plate')).form).toBe('dinner-plate');
    expect(accepted(piece, row('date_code', 'D')).date_code).toBe('D');
    expect(accepted(piece, row('mark', 'none')).mark).toEqual({ value: 'none', sure: 'likely' });
    expect(accepted(piece, row('price', '3'))).toBe(piece);
  });
  it('knows whether the piece says so, says something else, or nothing', () => {
    expect(stateOf(piece, rim)).toBe('open');
    expect(stateOf(accepted(piece, rim), rim)).toBe('taken');
    expect(stateOf(accepted(piece, row('looks', 'pack:fern-pair', { place: 'rim' })), rim)).toBe('taken');
    expect(stateOf(accepted(piece, row('looks', 'bell-row', { place: 'rim' })), rim)).toBe('otherwise');
    expect(stateOf({ ...piece, length_mm: 227 }, row('length_mm', '227'))).toBe('taken');
    expect(stateOf(piece, { ...rim, state: 'refused' })).toBe('refused');
  });
  it('is withdrawn only where the piece says just that', () => {
    expect(withdrawn(accepted(piece, rim), rim).looks).toEqual(piece.looks);
    expect(withdrawn(piece, rim)).toBe(piece);
    expect(withdrawn({ ...piece, wear: 'heavy' }, row('wear', 'light')).wear).toBe('heavy');
    expect(withdrawn(accepted(piece, row('glaze', 'oat')), row('glaze', 'oat')).glaze).toBeUndefined();
  });
  it('is accepted with others that are at least as sure', () => {
    const rows = [rim, row('glaze', 'oat', { sure: 'guess' }), row('wear', 'light', { sure: 'sure' }), row('mark', 'm-3', { sure: null }), row('looks', 'none', { place: 'edge', sure: 'sure' })];
    expect(atLeast(rows, piece, 'sure').map((one) => one.field)).toEqual(['wear']);
    expect(atLeast(rows, piece, 'likely').map((one) => one.field)).toEqual(['looks', 'wear']);
    expect(atLeast(rows, piece, 'guess').map((one) => one.field)).toEqual(['looks', 'glaze', 'wear']);
  });
  it('is written down as accepted or refused, never as both', () => {
    const name = { field: 'looks', place: 'rim', value: 'fern-pair' };
    const refused = marked({ repeats: 9, accepted: [name] }, name, 'refused');
    expect(refused).toEqual({ repeats: 9, accepted: [], refused: [name] });
    expect(marked(refused, name, 'refused').refused).toHaveLength(1);
    expect(marked(refused, name, undefined)).toEqual({ repeats: 9, accepted: [], refused: [] });
    expect(marked(undefined, name, 'accepted')).toEqual({ accepted: [name], refused: [] });
  });
});
