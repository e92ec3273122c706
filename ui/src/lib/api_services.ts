// lib/api_services.ts - what the Services ask of the program, through lib/api.ts.
// SPDX-License-Identifier: Apache-2.0
import { at, call, queryOf } from './api';
import type { Named, PieceFile, Problem } from './types';

export type T = { id: string; number: string; name: string };
export type Line = { name?: string; forms: string[]; count: number; trade_size?: string };
export type Composition = { id: string; name: string; settings: number; setting: Line[]; serving: Line[]; note?: string };
export type ServiceFile = {
  id: string; name: string; treatments: string[]; composition: string | Composition; settings?: number; grades: string; worst_wear?: string;
  worst_faults?: string; least_odds?: number; weight: number; setting_value?: number; insist: string[]; refuse: string[]; note: string;
};
export type TableLine = { name: string; in_setting: boolean; count: number; forms: Named[]; trade_size: string; made: boolean };
export type ServiceRecord = {
  service: ServiceFile; treatments: T[]; composition: Composition | null; places: number; lines: TableLine[]; notes: string[]; problems: Problem[];
  created: string; changed: string; revision: number;
};
export type CompositionRecord = { composition: Composition; supplied: boolean; places: number; revision: number };
export type PlaceState = 'filled' | 'interchangeable' | 'doubtful' | 'missing' | 'bought';
export type Place = {
  line: number; name: string; form: Named | null; state: PlaceState; piece: string | null; odds: number | null; insisted: boolean; why: string; treatment: T | null;
};
export type Table = {
  service: Named; treatments: T[]; complete: number; settings: number; filled: number; places: number; whole: boolean; lines: TableLine[];
  table: { setting: number; complete: boolean; places: Place[] }[]; serving: Place[];
};
export type Goal = { goal: string; value: number; bound: number; gap: number; ending: string };
export type Bought = { service: Named; line: number; name: string; form: Named; treatment: T; count: number; price: number };
export type Allotment = {
  objective: string; complete: number; settings: number; whole: number; proved: boolean; goals: Goal[]; services: Table[]; bought: Bought[]; spent: number;
  notes: string[]; size: { pieces: number; candidates: number; classes: number; columns: number; rows: number };
};
export type Job = {
  id: string; state: string; began: string; ended: string | null; asked: { objective: string; budget: number | null; services: string[] }; stale: boolean;
  progress: { goal: string; at: number; of: number; nodes: number; best: number; bound: number; seconds: number } | null; problems: Problem[]; allotment?: Allotment;
};
export type AllotAsked = { objective: string; budget?: number; services?: string[]; prices?: { treatment?: string; form?: string; price: number }[] };
export type WantsRow = { line: number; name: string; form: Named; treatment: T; trade_size: string; count: number; price: number | null };
export type Wants = {
  steps: { service: Named; completes: string; setting: number | null; of: number | null; buy: WantsRow[]; pieces: number; cost: number; so_far: number; sentence: string }[];
  list: { treatment: T; form: Named; trade_size: string; count: number; price: number | null }[]; pieces: number; cost: number; priced: boolean; text: string;
};
export type Parting = { rows: { piece: string; form: Named | null; kind: string; sentence: string }[]; total: number };
type Summary = { id: string; objective: string; complete: number; whole: number; filled: number; bought: number; spent: number };
type Stand = { service: Named; name: string; setting: number | null };
export type Comparison = {
  a: Summary; b: Summary; services: { service: Named; complete: [number | null, number | null]; filled: [number | null, number | null]; settings: number }[];
  moved: { piece: string; from: Stand | null; to: Stand | null }[]; sentences: string[];
};
export type Reasoned = { service: Named; piece: string; lines: { line: number; name: string; serves: boolean; state: string; odds: number | null; sentence: string }[] };
export type FoundFit = {
  fits: boolean; sentence: string; gain: number;
  services: { service: Named; line: number; name: string; state: string; odds: number; completes: boolean; setting: number | null; of: number | null; still_missing: string[]; sentence: string }[];
  why: { service: Named; sentence: string }[];
};

type S = AbortSignal | undefined;
type Rows<R> = { rows: R[]; total: number };
export const servicesApi = {
  services: (signal?: S) => call<Rows<ServiceRecord>>('services', { signal }),
  service: (id: string, signal?: S) => call<ServiceRecord>(`services/${at(id)}`, { signal }),
  addService: (service: ServiceFile) => call<ServiceRecord>('services', { method: 'POST', json: { service, revision: 0 } }),
  putService: (service: ServiceFile, revision: number) => call<ServiceRecord>(`services/${at(service.id)}`, { method: 'PUT', json: { service, revision } }),
  removeService: (id: string) => call<unknown>(`services/${at(id)}`, { method: 'DELETE' }),
  why: (service: string, piece: string, signal?: S) => call<Reasoned>(`services/${at(service)}/why/${at(piece)}`, { signal }),
  compositions: (signal?: S) => call<Rows<CompositionRecord>>('compositions', { signal }),
  allot: (asked: AllotAsked) => call<Job>('allotments', { method: 'POST', json: asked }),
  allotments: (signal?: S) => call<Rows<Job>>('allotments', { signal }),
  allotment: (id: string, signal?: S) => call<Job>(`allotments/${at(id)}`, { signal }),
  stop: (id: string) => call<Job>(`allotments/${at(id)}/stop`, { method: 'POST', json: {} }),
  table: (id: string, service: string, signal?: S) => call<Table>(`allotments/${at(id)}/tables/${at(service)}`, { signal }),
  wants: (id: string, signal?: S) => call<Wants>(`allotments/${at(id)}/wants`, { signal }),
  parting: (id: string, signal?: S) => call<Parting>(`allotments/${at(id)}/parting`, { signal }),
  compare: (a: string, b: string, signal?: S) => call<Comparison>(`allotments/compare${queryOf({ a, b })}`, { signal }),
  found: (piece: PieceFile, signal?: S) => call<FoundFit>('allotments/found', { method: 'POST', json: { piece }, signal }),
};
