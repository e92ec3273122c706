// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { KEYS, ROOMS, roomOf } from './rooms';

describe('The rooms', () => {
  it('have a key each that no other has', () => {
    const keys = [...ROOMS.map((room) => room.key), 'k', 'g'];
    expect(new Set(keys).size).toBe(keys.length);
    expect(KEYS['y']).toBe('/years');
    expect(KEYS['k']).toBe('/book/key');
  });
  it('are found from any address within them', () => {
    expect(roomOf('/')?.name).toBe('Bench');
    expect(roomOf('/bench/p-1')?.name).toBe('Bench');
    expect(roomOf('/photographs')?.name).toBe('Bench');
    expect(roomOf('/book/ornaments/fern')?.name).toBe('Book');
    expect(roomOf('/bookish')).toBeUndefined();
    expect(roomOf('/settings')).toBeUndefined();
  });
  it('leave room for four and the rest in the bar of a phone', () => expect(ROOMS.filter((room) => room.near).length).toBe(4));
});
