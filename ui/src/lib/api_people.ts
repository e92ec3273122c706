// lib/api_people.ts - the calls of the door and of the People page.
// SPDX-License-Identifier: Apache-2.0
import { call, queryOf } from './api';
import type { components, operations } from './openapi';

export type AtTheDoor = components['schemas']['AtTheDoor'];
export type Person = components['schemas']['Person'];
export type RoleName = components['schemas']['RoleName'];
export type OwnSession = operations['ownSessions']['responses']['200']['content']['application/json'][number];
export type Noted = operations['audit']['responses']['200']['content']['application/json'][number];

const at = (name: string) => encodeURIComponent(name);

export const peopleApi = {
  door: (signal?: AbortSignal) => call<AtTheDoor>('door', { signal }),
  signIn: (name: string, password: string) => call<AtTheDoor>('door/sign-in', { method: 'POST', json: { name, password } }),
  signOut: () => call<AtTheDoor>('door/sign-out', { method: 'POST', json: {} }),
  signOutEverywhere: () => call<unknown>('door/sign-out-everywhere', { method: 'POST', json: {} }),
  sessions: (signal?: AbortSignal) => call<OwnSession[]>('door/sessions', { signal }),
  changePassword: (before: string, after: string) =>
    call<AtTheDoor>('door/password', { method: 'PUT', json: { before, after } }),
  people: (signal?: AbortSignal) => call<Person[]>('people', { signal }),
  add: (name: string, role: RoleName, password: string) => call<Person>('people', { method: 'POST', json: { name, role, password } }),
  change: (name: string, to: { role?: RoleName; password?: string }) =>
    call<Person>(`people/${at(name)}`, { method: 'PUT', json: to }),
  remove: (name: string) => call<unknown>(`people/${at(name)}`, { method: 'DELETE' }),
  signOutPerson: (name: string) => call<{ ended: number }>(`people/${at(name)}/sign-out`, { method: 'POST', json: {} }),
  audit: (query: { who?: string; subject?: string; before?: number; limit?: number }, signal?: AbortSignal) =>
    call<Noted[]>(`audit${queryOf(query)}`, { signal }),
};

/** The roles, the least first, and what each may do. */
export const ROLES: readonly { role: RoleName; name: string; says: string }[] = [
  { role: 'reader', name: 'Reader', says: 'sees what is not private, without what things cost' },
  { role: 'contributor', name: 'Contributor', says: 'sees everything that is kept, and changes it' },
  { role: 'keeper', name: 'Keeper', says: 'sees and changes everything, and looks after people and backups' },
];

export const may = (has: RoleName | null, needs: RoleName): boolean =>
  ROLES.findIndex((one) => one.role === has) >= ROLES.findIndex((one) => one.role === needs);
