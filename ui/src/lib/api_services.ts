// lib/api_services.ts - what the Services ask of the program, through lib/api.ts. The shapes come from openapi.ts; what the
//   program always writes is not optional here.
// SPDX-License-Identifier: Apache-2.0
import { at, call, queryOf } from './api';
import type { But, From, PieceFile } from './types';

export type Line = From<'CompositionLine'>;
export type Composition = Required<From<'Composition'>>;
export type ServiceFile = But<From<'ServiceFile'>, {
  id: string; name: string; composition: string | Composition; grades: string; weight: number; insist: string[]; refuse: string[]; note: string;
}>;
export type ServiceRecord = But<From<'ServiceRecord'>, { service: ServiceFile; composition: Composition | null }>;
export type CompositionRecord = But<From<'CompositionRecord'>, { composition: Composition }>;
export type PlaceState = 'filled' | 'interchangeable' | 'doubtful' | 'missing' | 'bought';
export type Place = But<From<'LaidPlace'>, { state: PlaceState }>;
export type Table = But<From<'LaidTable'>, { table: { setting: number; complete: boolean; places: Place[] }[]; serving: Place[] }>;
export type Prices = From<'PricesKnown'>;
export type Allotment = But<From<'Allotment'>, { services: Table[] }>;
export type Job = But<From<'AllotmentJob'>, { allotment?: Allotment }>;
export type AllotAsked = From<'AllotmentAsked'>;
export type Wants = From<'Wants'>;
export type Parting = From<'Parting'>;
export type Comparison = From<'AllotmentsCompared'>;
export type Reasoned = From<'WhyServes'>;
export type FoundFit = From<'FoundAnswer'>;

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
  addComposition: (composition: Composition) => call<CompositionRecord>('compositions', { method: 'POST', json: { composition, revision: 0 } }),
  putComposition: (composition: Composition, revision: number) =>
    call<CompositionRecord>(`compositions/${at(composition.id)}`, { method: 'PUT', json: { composition, revision } }),
  removeComposition: (id: string) => call<unknown>(`compositions/${at(id)}`, { method: 'DELETE' }),
  allot: (asked: AllotAsked) => call<Job>('allotments', { method: 'POST', json: asked }),
  allotments: (signal?: S) => call<Rows<Job>>('allotments', { signal }),
  allotment: (id: string, signal?: S) => call<Job>(`allotments/${at(id)}`, { signal }),
  stop: (id: string) => call<Job>(`allotments/${at(id)}/stop`, { method: 'POST', json: {} }),
  table: (id: string, service: string, signal?: S) => call<Table>(`allotments/${at(id)}/tables/${at(service)}`, { signal }),
  wants: (id: string, signal?: S) => call<Wants>(`allotments/${at(id)}/wants`, { signal }),
  parting: (id: string, signal?: S) => call<Parting>(`allotments/${at(id)}/parting`, { signal }),
  compare: (a: string, b: string, signal?: S) => call<Comparison>(`allotments/compare${queryOf({ a, b })}`, { signal }),
  found: (piece: PieceFile, treatment: string, signal?: S) => call<FoundFit>('allotments/found', { method: 'POST', json: { piece, ...(treatment ? { treatment } : {}) }, signal }),
};
