// lib/api_worth.ts - what the Worth pages ask of the program, through lib/api.ts.
// SPDX-License-Identifier: Apache-2.0
import { at, call, queryOf, type Query } from './api';
import type { Named, PieceFile } from './types';
import type { T } from './api_services';

export type Pair = [number, number];
export type Interval = { median: number; fifty: Pair; ninety: Pair };
export type Sale = {
  date: string; price: number; currency: string; form: string; treatment: string; shape: string; size_mm?: number; condition: string; grade: string;
  venue: string; market: string; source: string; note: string; revision: number;
};
export type SaleRow = Sale & {
  id: string; created: string; changed: string; date_words: string; form_name: string; treatment_number: string; treatment_name: string; shape_name: string;
  look_alikes?: string[];
};
export type Sales = { rows: SaleRow[]; total: number; currencies: { code: string; count: number }[]; venues: string[] };
type Worded = { value: string; words: string };
export type SaleVocabulary = {
  conditions: Worded[]; markets: Worded[]; grades: (Worded | string)[]; currencies: { code: string; name: string }[];
  today: string;
};
export type Thing = { form: string; treatment?: string; shape?: string; size_mm?: number };
export type Circumstances = { condition?: string; grade?: string; market?: string; currency?: string; date?: string };
export type EstimateAsked = Circumstances & ({ piece_id: string } | { piece: PieceFile } | { thing: Thing });
export type Identity = { treatment: T | null; words: string; grade: string; probability: number; median: number };
export type Term = { term: string; level: string; factor: number; low: number; high: number; sales: number; words: string };
export type Comparable = { sale: SaleRow; likeness: number; adjusted: number; counted: number; because: string[] };
export type Estimate = {
  currency: string; date: string; market: string; worth: Interval; words: string; identities: Identity[]; base: { price: number; words: string }; terms: Term[];
  comparables: Comparable[]; based_on: { sales: number; first: string; last: string; left_out: { why: string; count: number }[] }; defers: string; notes: string[];
};
export type PriceHistory = {
  title: string; currency: string; sales: { id: string; date: string; year: number; price: number; counted: number; condition: string; grade: string; market: string; words: string }[];
  curve: { year: number; median: number; fifty: Pair; ninety: Pair }[]; words: string; defers: string; notes: string[];
};
export type Portfolio = {
  currency: string; points: { date: string; year: number; pieces: number; priced: number; cost: number; worth: Interval | null }[];
  groups: { form: Named | null; pieces: number; median: number }[]; words: string; defers: string; notes: string[];
};
export type ScheduleRow = {
  piece: string; words: string; form: Named | null; treatment: T | null; decided: boolean; place: string; condition: string; replacement: Interval; sale: Interval; cost: number | null;
};
export type Schedule = {
  currency: string; date: string; rows: ScheduleRow[];
  totals: { replacement: Interval; sale: Interval; pieces: number; without: { piece: string; why: string }[] };
  markets: { replacement: string; sale: string }; words: string; defers: string; notes: string[];
};
export type HaulAsked = Circumstances & {
  name?: string; pieces: (Circumstances & { thing?: Thing; piece_id?: string; count?: number })[]; premium_percent?: number; tax_percent?: number; carriage?: number;
  selling_percent?: number; selling_each?: number; margin_percent?: number; bid?: number;
};
export type Haul = {
  currency: string; pieces_count: number; worth: Interval; mean: number; sales_after_costs: Interval; top_bid: number | null; top_bid_words: string;
  at_bid: { bid: number; outlay: number; loss_chance: number; margin_chance: number; gain: Interval } | null;
  curve: { bid: number; outlay: number; loss_chance: number; margin_chance: number; mean_gain: number }[]; density: { from: number; to: number; share: number }[];
  pieces: { index: number; words: string; count: number; worth: Interval; mean: number; share: number; cost_share: number; identities: Identity[] }[];
  words: string; defers: string; notes: string[];
};

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
  haul: (asked: HaulAsked, signal?: S) => call<Haul>('worth/haul', { method: 'POST', json: asked, signal }),
};
