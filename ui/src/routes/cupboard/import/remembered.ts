// routes/cupboard/import/remembered.ts - how the columns of a table were understood the last time, by its headings.
//   Kept in this browser, the newest few: a list that comes again needs no mapping again.
// SPDX-License-Identifier: Apache-2.0
import { keep, kept } from '../../../lib/kept';

type Mapping = Record<string, string>;
const MOST = 20;

function all(): [string, Mapping][] {
  try {
    const list: unknown = JSON.parse(kept('mappings') ?? '[]');
    return Array.isArray(list) ? (list as [string, Mapping][]) : [];
  } catch {
    return []; // spoilt: the person maps again
  }
}
export const rememberedMapping = (headings: string): Mapping | undefined => all().find(([known]) => known === headings)?.[1];
export const rememberMapping = (headings: string, mapping: Mapping): void =>
  keep('mappings', JSON.stringify([[headings, mapping], ...all().filter(([known]) => known !== headings)].slice(0, MOST)));
