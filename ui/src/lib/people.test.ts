// SPDX-License-Identifier: Apache-2.0
import { describe, expect, test } from 'vitest';
import { sizeOf } from './api_backups';
import { ROLES, may } from './api_people';

describe('what a role may do', () => {
  test('each may do what those before it may, and nobody anything', () => {
    for (const [i, has] of ROLES.entries()) {
      for (const [j, needs] of ROLES.entries()) expect(may(has.role, needs.role)).toBe(i >= j);
      expect(may(null, has.role)).toBe(false);
    }
  });
});

describe('how large a backup is', () => {
  test('is said with two or three digits', () => {
    expect(sizeOf(0)).toBe('0\u00a0bytes');
    expect(sizeOf(999)).toBe('999\u00a0bytes');
    expect(sizeOf(1500)).toBe('1.5\u00a0kB');
    expect(sizeOf(249_000)).toBe('249\u00a0kB');
    expect(sizeOf(3_456_000_000)).toBe('3.5\u00a0GB');
    expect(sizeOf(3_456_000_000_000)).toBe('3456\u00a0GB');
  });
});
