// routes/worth/thing.ts - what is to be priced, as a form holds it. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Circumstances, Thing } from '../../lib/api_worth';
import { figure } from './words';

export type ThingDraft = { form: string; treatment: string; shape: string; size: string; condition: string; grade: string };
export const blankThing = (): ThingDraft => ({ form: '', treatment: '', shape: '', size: '', condition: '', grade: '' });

export function thingOf({ form, treatment, shape, size }: ThingDraft): Thing {
  const mm = figure(size);
  return { form, ...(treatment ? { treatment } : shape ? { shape } : {}), ...(mm === undefined ? {} : { size_mm: mm }) };
}
export const circumstancesOf = ({ condition, grade }: ThingDraft): Circumstances => ({ ...(condition ? { condition } : {}), ...(grade ? { grade } : {}) });
