// lib/api_letters.ts - the calls of the Letters pages.
// SPDX-License-Identifier: Apache-2.0
import { call, queryOf } from './api';
import type { components } from './openapi';
import type { Page } from './types';

export type Letter = components['schemas']['Letter'];
export type LetterRecord = components['schemas']['LetterRecord'];
export type Reply = components['schemas']['Reply'];
export type LetterState = Letter['state'];
export type Letters = Page<LetterRecord> & { states: Record<string, number> };

const at = (id: string) => encodeURIComponent(id);

export const lettersApi = {
  letters: (state: string, signal?: AbortSignal) => call<Letters>(`letters${queryOf({ state })}`, { signal }),
  letter: (id: string, signal?: AbortSignal) => call<LetterRecord>(`letters/${at(id)}`, { signal }),
  add: (letter: Letter) => call<LetterRecord>('letters', { method: 'POST', json: { letter, revision: 0 } }),
  put: (id: string, letter: Letter, revision: number) =>
    call<LetterRecord>(`letters/${at(id)}`, { method: 'PUT', json: { letter, revision } }),
  remove: (id: string) => call<unknown>(`letters/${at(id)}`, { method: 'DELETE' }),
  /** The reply as it is kept, as a PDF. */
  paper: (id: string, size: string) => `/api/letters/${at(id)}/paper${queryOf({ paper: size })}`,
  reply: (id: string, signature: string) => call<Reply>(`letters/${at(id)}/reply`, { method: 'POST', json: { signature } }),
};

export const blankLetter = (today: string): Letter => ({
  name: '', address: '', received: today, subject: '', text: '', state: 'new', pieces: [], reply: '', answered: '', sighting: false, note: '',
});

/** What a state is called, and what it means. */
export const STATES: readonly { state: LetterState; name: string; means: string }[] = [
  { state: 'new', name: 'New', means: 'nothing was done yet' },
  { state: 'asked', name: 'Asked back', means: 'more was asked for' },
  { state: 'answered', name: 'Answered', means: 'the reply went out' },
  { state: 'closed', name: 'Closed', means: 'nothing more will come' },
];

/** Today as EDTF, by the clock of the person. */
export const today = (now = new Date()): string =>
  `${now.getFullYear()}-${String(now.getMonth() + 1).padStart(2, '0')}-${String(now.getDate()).padStart(2, '0')}`;

export const titleOf = (letter: Letter): string =>
  [letter.name, letter.subject].filter(Boolean).join(': ') || letter.text.slice(0, 60) || 'A letter';
