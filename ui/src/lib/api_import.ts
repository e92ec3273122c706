// lib/api_import.ts - the calls of the page that brings tables in.
// SPDX-License-Identifier: Apache-2.0
import { call, queryOf } from './api';
import type { components } from './openapi';

export type ImportJob = components['schemas']['ImportJob'];
export type ImportResult = components['schemas']['ImportResult'];
export type Into = 'pieces' | 'sales' | 'treatments';
export type ImportTable = { id: string; name: string; json: boolean; sheets: { name: string; rows: number }[] };
export type ImportFields = Record<Into, { field: string; sentence: string }[]>;
export type ImportAsk = {
  table: string; sheet?: string; into: Into; dry_run: boolean; keep_good: boolean;
  mapping?: Record<string, string | null>; currency?: string; pack?: string; source?: string;
};

export const importApi = {
  send: (file: Blob, name: string) =>
    call<ImportTable>(`imports/tables${queryOf({ name })}`, { method: 'POST', bytes: new Blob([file], { type: 'application/octet-stream' }) }),
  fields: (signal?: AbortSignal) => call<ImportFields>('imports/fields', { signal }),
  job: (signal?: AbortSignal) => call<ImportJob>('imports', { signal }),
  start: (ask: ImportAsk) => call<ImportJob>('imports', { method: 'POST', json: ask }),
  stop: () => call<ImportJob>('imports', { method: 'DELETE' }),
};
