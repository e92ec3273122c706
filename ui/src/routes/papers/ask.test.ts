// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import type { PaperKind } from '../../lib/types';
import { missing, nothing, queryFor } from './ask';

const kind = (name: string, takes: PaperKind['takes']): PaperKind => ({ kind: name, title: name, sentence: '', takes });

test('a dossier asks what it is about, and says it as table and id', () => {
  expect(missing(kind('dossier', 'subject'), nothing)).toBe('Choose what it is about.');
  const asked = { ...nothing, table: 'shape' as const, id: 'harrow', lot: 'lot-1', paper: 'letter' as const };
  expect(missing(kind('dossier', 'subject'), asked)).toBe('');
  expect(queryFor(kind('dossier', 'subject'), asked)).toEqual({ paper: 'letter', of: 'shape:harrow' });
});

test('a key is never of one treatment', () => {
  expect(missing(kind('key', 'subject'), { ...nothing, table: 'treatment', id: 't-117' })).toContain('needs no key');
});

test('pieces may be written with commas, spaces and lines between them', () => {
  expect(queryFor(kind('inventory', 'pieces'), { ...nothing, pieces: ' p-1,\np-2  p-3; ' }).piece).toBe('p-1,p-2,p-3');
  expect(missing(kind('condition', 'piece'), { ...nothing, pieces: 'p-1 p-2' })).toBe('Name one piece.');
});

test('prices stand on price labels alone, and marks keep their commas', () => {
  const asked = { ...nothing, prices: 'p-1=28\np-2=30', marks: '0.4,0.6,chip, small\n\n' };
  expect(queryFor(kind('labels', 'pieces'), asked).price).toBeUndefined();
  expect(queryFor(kind('labels', 'pieces'), { ...asked, labels: 'price' }).price).toBe('p-1=28,p-2=30');
  expect(queryFor(kind('condition', 'piece'), { ...asked, pieces: 'p-1' }).mark).toBe('0.4,0.6,chip, small');
});
