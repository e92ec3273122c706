// lib/api_worth.ts - what the Worth pages ask of the program, through lib/api.ts. The shapes come from openapi.ts.
// SPDX-License-Identifier: Apache-2.0
import { at, call, queryOf, type Query } from './api';
import type { From, PieceFile } from './types';

export type Pair = [number, number];
/** The two ends of an interval are two numbers; the description can only say a list. */
type Ends<T> = T extends { fifty: number[]; ninety: number[] }
  ? Omit<T, 'fifty' | 'ninety'> & { fifty: Pair; ninety: Pair }
  : T extends (infer U)[] ? Ends<U>[] : T extends object ? { [K in keyof T]: Ends<T[K]> } : T;

export type Interval = Ends<From<'PriceInterval'>>;
export type Sale = Omit<From<'SaleInput'>, 'id'>;
export type SaleRow = From<'SaleRow'>;
export type Sales = { rows: SaleRow[]; total: number; currencies: { code: string; count: number }[]; venues: string[] };
export type SaleVocabulary = From<'SalesVocabulary'>;
export type DoubtfulSales = Ends<From<'DoubtfulSales'>>;
export type Thing = { form: string; treatment?: string; shape?: string; size_mm?: number };
export type Circumstances = { condition?: string; grade?: string; market?: string; currency?: string; date?: string };
export type EstimateAsked = Circumstances & ({ piece_id: string } | { piece: PieceFile } | { thing: Thing });
export type Estimate = Ends<From<'WorthEstimate'>>;
export type PriceHistory = Ends<From<'PriceHistory'>>;
export type Portfolio = Ends<From<'Portfolio'>>;
export type Schedule = Ends<From<'WorthSchedule'>>;
export type HaulAsked = Circumstances & {
  name?: string; pieces: (Circumstances & { thing?: Thing; piece?: PieceFile; piece_id?: string; count?: number })[]; premium_percent?: number;
  tax_percent?: number; carriage?: number; selling_percent?: number; selling_each?: number; margin_percent?: number; bid?: number;
};
export type Haul = Ends<From<'HaulAnswer'>>;
export type SharedCost = From<'SharedCost'>;

type S = AbortSignal | undefined;
export const worthApi = {
  sales: (query: Query, signal?: S) => call<Sales>(`sales${queryOf(query)}`, { signal }),
  sale: (id: string, signal?: S) => call<SaleRow>(`sales/${at(id)}`, { signal }),
  addSale: (sale: Sale) => call<SaleRow>('sales', { method: 'POST', json: sale }),
  putSale: (id: string, sale: Sale) => call<SaleRow>(`sales/${at(id)}`, { method: 'PUT', json: sale }),
  removeSale: (id: string) => call<{ removed: number; batch: number | null }>(`sales/${at(id)}`, { method: 'DELETE' }),
  vocabulary: (signal?: S) => call<SaleVocabulary>('sales/vocabulary', { signal }),
  estimate: (asked: EstimateAsked, signal?: S) => call<Estimate>('worth/estimate', { method: 'POST', json: asked, signal }),
  history: (query: Query, signal?: S) => call<PriceHistory>(`worth/history${queryOf(query)}`, { signal }),
  portfolio: (query: Query, signal?: S) => call<Portfolio>(`worth/portfolio${queryOf(query)}`, { signal }),
  schedule: (query: Query, signal?: S) => call<Schedule>(`worth/schedule${queryOf(query)}`, { signal }),
  doubtful: (signal?: S) => call<DoubtfulSales>('sales/doubtful', { signal }),
  share: (lot: string, asked: { cost?: number; apply: boolean }, signal?: S) => call<SharedCost>(`worth/lots/${at(lot)}/share`, { method: 'POST', json: asked, signal }),
  haul: (asked: HaulAsked, signal?: S) => call<Haul>('worth/haul', { method: 'POST', json: asked, signal }),
};
