// routes/cupboard/load.ts - pieces by filter, sort and search; the address holds them, so that a view can be kept.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import type { Answer, Facet, Lot, Page, PieceRecord } from '../../lib/types';

export const PAGE = 100;
export const FILTERS = ['form', 'shape', 'lot', 'place', 'treatment', 'grade', 'decided'] as const;
export const SORTS = [
  ['changed', 'Last changed'], ['id', 'Id'], ['form', 'Form'], ['shape', 'Shape'], ['number', 'Number'], ['lot', 'Lot'], ['place', 'Place kept'],
] as const;

export function queryFrom(query: URLSearchParams, shown: number): Record<string, string | number> {
  const asked: Record<string, string | number> = {
    sort: query.get('sort') ?? 'changed',
    order: query.get('order') ?? (query.get('sort') && query.get('sort') !== 'changed' ? 'asc' : 'desc'),
    limit: shown,
    offset: 0,
  };
  for (const name of ['q', ...FILTERS]) {
    const value = query.get(name);
    if (value) asked[name] = value;
  }
  return asked;
}

export const loadPieces = (query: URLSearchParams, shown: number, signal: AbortSignal): Promise<Answer<Page<PieceRecord>>> =>
  api.pieces({ ...queryFrom(query, shown), counted: 'false' }, signal);

export type Around = { facets: Facet[]; lots: Lot[] };

export async function loadAround(signal: AbortSignal): Promise<Answer<Around>> {
  const [facets, lots] = await Promise.all([api.facets(signal), api.lots(signal)]);
  if (!facets.ok) return facets;
  if (!lots.ok) return lots;
  return { ok: true, value: { facets: facets.value, lots: lots.value } };
}
