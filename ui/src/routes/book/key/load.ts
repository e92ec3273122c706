// routes/book/key/load.ts - a key, and the numbers under which its treatments are known.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../../lib/api';
import { text } from '../../../lib/rows';
import type { Answer, Key } from '../../../lib/types';

export type KeyPage = { key: Key; numbers: Record<string, string> };

const MOST = 1000; // rows of one answer; beyond it ids are shown instead of numbers

export async function loadKey(shape: string, form: string, signal: AbortSignal): Promise<Answer<KeyPage>> {
  const [key, treatments] = await Promise.all([api.key(shape, form, signal), api.rows('treatments', { limit: MOST }, signal)]);
  if (!key.ok) return key;
  if (!treatments.ok) return treatments;
  const numbers = Object.fromEntries(treatments.value.rows.map((row) => [row.id, text(row, 'number') || row.id]));
  return { ok: true, value: { key: key.value, numbers } };
}
