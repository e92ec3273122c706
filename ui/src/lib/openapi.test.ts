// SPDX-License-Identifier: Apache-2.0
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { made, types } from '../../types.mjs';

it('The types are those of the server of this commit; if not: npm run types', async () => {
  expect(readFileSync(made, 'utf8')).toBe(await types());
}, 30_000);
