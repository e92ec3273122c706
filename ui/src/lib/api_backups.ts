// lib/api_backups.ts - the calls of the Backups page.
// SPDX-License-Identifier: Apache-2.0
import { call } from './api';
import type { components, operations } from './openapi';

export type BackupRow = components['schemas']['BackupRow'];
export type Backups = operations['backups']['responses']['200']['content']['application/json'];
export type Restored = operations['restoreBackup']['responses']['200']['content']['application/json'];

const at = (name: string) => encodeURIComponent(name);

export const backupsApi = {
  list: (signal?: AbortSignal) => call<Backups>('backups', { signal }),
  make: () => call<BackupRow>('backups', { method: 'POST', json: {} }),
  check: (name: string) => call<{ files: number }>(`backups/${at(name)}/check`, { method: 'POST', json: {} }),
  restore: (name: string) => call<Restored>(`backups/${at(name)}/restore`, { method: 'POST', json: {} }),
};

/** "1.2 MB" */
export function sizeOf(bytes: number): string {
  const units = ['bytes', 'kB', 'MB', 'GB'];
  let size = bytes;
  let unit = 0;
  while (size >= 1000 && unit < units.length - 1) {
    size /= 1000;
    unit += 1;
  }
  return `${unit === 0 || size >= 100 ? Math.round(size) : size.toFixed(1)}\u00a0${units[unit]}`;
}
