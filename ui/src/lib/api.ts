// lib/api.ts - the only module that speaks HTTP.
//   Every call returns an Answer: the value, or problems that say where, what and what to do. Nothing throws,
//   except that an aborted call rejects with AbortError, which lib/latest.ts and lib/loaded.svelte.ts swallow.
// SPDX-License-Identifier: Apache-2.0
import type { RowEdit } from './edits';
import type {
  AlikePieces, Answer, Apart, Asked, BookChange, BookInfo, Cautions, Change, Clues, Corrections, DateWords, Dated, Decision,
  EditAnswer, EditRow, EditingInfo, ExamineAnswer, Facet, Found, Health, Key, Leach, LeachAsked, Lot, News,
  Page, PaperKinds, PhotoMeta, PhotoReading, PieceFile, PieceRecord, Problem, ReadingJob, ReadingJobs,
  Reexaminations, Regimes, Row, SettingRow,
  Suggestions, TreatmentDetail, Vocabulary, Years,
} from './types';

export type Query = Record<string, string | number | boolean | undefined | null>;

/** "?a=1&b=x", leaving out what is empty. */
export function queryOf(query: Query): string {
  const parts = Object.entries(query)
    .filter(([, value]) => value !== undefined && value !== null && value !== '')
    .map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(String(value))}`);
  return parts.length ? `?${parts.join('&')}` : '';
}

export const at = (...parts: string[]) => parts.map(encodeURIComponent).join('/');

function isProblem(value: unknown): value is Problem {
  return typeof value === 'object' && value !== null && 'what' in value;
}

/** The problems of a failed answer; one of our own when the body does not carry any. */
export function problemsOf(status: number, body: unknown, where: string): Problem[] {
  const listed = typeof body === 'object' && body !== null ? (body as { problems?: unknown }).problems : undefined;
  if (Array.isArray(listed)) {
    const problems = listed.filter(isProblem);
    if (problems.length) return problems;
  }
  return [{
    code: status >= 500 ? 'our-fault' : 'bad-answer',
    where,
    what: `The program answered with status ${status} and gave no reason.`,
    remedy: status >= 500
      ? 'Try again; if it happens again, look at the terminal in which footring runs.'
      : 'Reload the page and try again.',
  }];
}

const unreachable = (where: string): Problem => ({
  code: 'unreachable',
  where,
  what: 'The program on this machine does not answer.',
  remedy: 'Check that `footring serve` is still running in its terminal, then try again.',
});

// What happens when the program does not know any more who asks: lib/door.svelte.ts shows the door.
let lost = () => {};
export const lostBy = (then: () => void) => { lost = then; };

export type Call = { method?: string; json?: unknown; bytes?: Blob; signal?: AbortSignal | undefined; text?: boolean };

export async function call<T>(path: string, options: Call = {}): Promise<Answer<T>> {
  const { method = 'GET', json, bytes, signal, text } = options;
  const init: RequestInit = { method, headers: { Accept: text ? '*/*' : 'application/json' } };
  if (signal) init.signal = signal;
  if (json !== undefined) {
    init.body = JSON.stringify(json);
    init.headers = { ...init.headers, 'Content-Type': 'application/json' };
  } else if (bytes) {
    init.body = bytes;
    init.headers = { ...init.headers, 'Content-Type': bytes.type || 'application/octet-stream' };
  } else if (method !== 'GET') {
    init.headers = { ...init.headers, 'Content-Type': 'application/json' };
  }
  let response: Response;
  let body: unknown;
  try {
    response = await fetch(`/api/${path}`, init);
    const received = await response.text();
    if (text && response.ok) return { ok: true, value: received as T };
    body = received === '' ? null : JSON.parse(received);
  } catch (fault) {
    if (fault instanceof DOMException && fault.name === 'AbortError') throw fault;
    if (fault instanceof SyntaxError) {
      return { ok: false, problems: [{
        code: 'bad-answer', where: path, what: 'The answer of the program cannot be read.',
        remedy: 'Reload the page; the page and the program may be of different versions.',
      }] };
    }
    return { ok: false, problems: [unreachable(path)] };
  }
  if (response.status === 401 && path !== 'door/sign-in') lost();
  if (!response.ok) return { ok: false, problems: problemsOf(response.status, body, path) };
  for (const batch of (response.headers.get('Footring-Batches') ?? '').split(',')) if (batch !== '') made.push(Number(batch));
  return { ok: true, value: body as T };
}

/** The batches of changes that this window made, oldest first; those of other people are never among them. */
export const made: number[] = [];

type S = AbortSignal | undefined;

export type BookEdit = {
  pack: string;
  rows: RowEdit[];
  files?: { path: string; text?: string; base64?: string }[];
  show?: { treatment?: string; ornament?: string; form?: string };
};

export const api = {
  health: (signal?: S) => call<Health>('health', { signal }),
  settings: (signal?: S) => call<SettingRow[]>('settings', { signal }),
  search: (q: string, signal?: S) => call<Found>(`search${queryOf({ q })}`, { signal }),

  examine: (piece: PieceFile, signal?: S) =>
    call<ExamineAnswer>('examine', { method: 'POST', json: { piece }, signal }),
  apart: (treatments: string[], form?: string, signal?: S) =>
    call<Apart>('apart', { method: 'POST', json: form ? { form, treatments } : { treatments }, signal }),
  key: (shape: string, form: string, signal?: S) => call<Key>(`key${queryOf({ shape, form })}`, { signal }),
  glyph: (piece: PieceFile, pickedOut: string[], signal?: S) =>
    call<string>('glyph', { method: 'POST', json: { piece, picked_out: pickedOut }, signal, text: true }),

  book: (signal?: S) => call<BookInfo>('book', { signal }),
  vocabulary: (signal?: S) => call<Vocabulary>('book/vocabulary', { signal }),
  rows: (table: string, query: Query, signal?: S) =>
    call<Page<Row>>(`book/${at(table)}${queryOf(query)}`, { signal }),
  row: (table: string, id: string, signal?: S) => call<Row>(`book/${at(table, id)}`, { signal }),
  treatment: (id: string, signal?: S) => call<TreatmentDetail>(`book/${at('treatments', id)}`, { signal }),

  date: (piece: PieceFile, clues: string[], signal?: S) =>
    call<Dated>('date', { method: 'POST', json: clues.length ? { piece, clues } : { piece }, signal }),
  clues: (text: string, signal?: S) => call<Clues>('clues', { method: 'POST', json: { text }, signal }),
  cautions: (piece: PieceFile, signal?: S) => call<Cautions>('care/cautions', { method: 'POST', json: { piece }, signal }),
  cautionsOf: (id: string, signal?: S) => call<Cautions>(`care/cautions/${at(id)}`, { signal }),
  regimes: (signal?: S) => call<Regimes>('care/regimes', { signal }),
  leach: (asked: LeachAsked, signal?: S) => call<Leach>('care/leach', { method: 'POST', json: asked, signal }),
  editing: (signal?: S) => call<EditingInfo>('editing', { signal }),
  editRows: (pack: string, table: string, query: Query, signal?: S) =>
    call<Page<EditRow>>(`editing/${at(pack, table)}${queryOf(query)}`, { signal }),
  /** dryRun: what would be wrong, and how it would look. */
  editBook: (edit: BookEdit, dryRun: boolean, signal?: S) =>
    call<EditAnswer>(`editing/edits${queryOf({ dry_run: dryRun || undefined })}`, { method: 'POST', json: edit, signal }),
  bookChanges: (limit: number, signal?: S) => call<BookChange[]>(`editing/changes${queryOf({ limit })}`, { signal }),
  undoEdit: (change: number) => call<{ change: number }>(`editing/changes/${change}/undo`, { method: 'POST', json: {} }),
  reloadPacks: () => call<EditingInfo>('editing/reload', { method: 'POST', json: {} }),
  reexaminations: (signal?: S) => call<Reexaminations>('reexaminations', { signal }),
  reexamine: () => call<Reexaminations>('reexaminations', { method: 'POST', json: {} }),
  stopReexamining: () => call<Reexaminations>('reexaminations', { method: 'DELETE' }),
  settleReexamined: (piece: string, accept: boolean, revision: number) =>
    call<PieceRecord>(`reexaminations/${at(piece)}`, { method: 'POST', json: { accept, revision } }),
  dateWords: (text: string, signal?: S) => call<DateWords>(`date-words${queryOf({ text })}`, { signal }),
  paperKinds: (signal?: S) => call<PaperKinds>('papers', { signal }),
  paper: (kind: string, query: Query, signal?: S) => call<string>(`papers/${at(kind)}${queryOf(query)}`, { signal, text: true }),

  years: (of: string, signal?: S) => call<Years>(`years${queryOf({ of })}`, { signal }),

  pieces: (query: Query, signal?: S) => call<Page<PieceRecord>>(`pieces${queryOf(query)}`, { signal }),
  facets: (signal?: S) => call<Facet[]>('pieces/facets', { signal }),
  piece: (id: string, signal?: S) => call<PieceRecord>(`pieces/${at(id)}`, { signal }),
  addPiece: (record: PieceRecord) => call<PieceRecord>('pieces', { method: 'POST', json: record }),
  putPiece: (record: PieceRecord) =>
    call<PieceRecord>(`pieces/${at(record.piece.id)}`, { method: 'PUT', json: record }),
  decide: (id: string, decision: Decision, revision: number) =>
    call<PieceRecord>(`pieces/${at(id)}/decide`, { method: 'POST', json: { ...decision, revision } }),
  bulk: (ids: string[], change: { set?: Record<string, string | boolean>; remove?: true }) =>
    call<{ changed: number; batch: number | null }>('pieces/bulk', { method: 'POST', json: { ids, ...change } }),
  history: (id: string, signal?: S) => call<Change[]>(`pieces/${at(id)}/history`, { signal }),
  news: (after: number | undefined, wait: number, signal?: S) => call<News>(`changes/news${queryOf({ after, wait })}`, { signal }),
  changes: (limit: number, signal?: S) => call<Change[]>(`changes${queryOf({ limit })}`, { signal }),
  undo: (batch: number) => call<{ batch: number }>(`changes/${batch}/undo`, { method: 'POST', json: {} }),
  undoLatest: () => call<{ batch: number; what: string }>('changes/undo', { method: 'POST', json: {} }),

  lots: (signal?: S) => call<Lot[]>('lots', { signal }),
  addLot: (lot: Lot) => call<Lot>('lots', { method: 'POST', json: lot }),
  putLot: (lot: Lot) => call<Lot>(`lots/${at(lot.id)}`, { method: 'PUT', json: lot }),
  removeLot: (id: string) => call<unknown>(`lots/${at(id)}`, { method: 'DELETE' }),

  addPhoto: (id: string, photo: Blob, name: string, signal?: S) =>
    call<PhotoMeta>(`pieces/${at(id)}/photos${queryOf({ name })}`, { method: 'POST', bytes: photo, signal }),
  removePhoto: (id: string, sha256: string) =>
    call<unknown>(`pieces/${at(id)}/photos/${at(sha256)}`, { method: 'DELETE' }),

  reading: (sha256: string, signal?: S) => call<PhotoReading>(`photos/${at(sha256)}/reading`, { signal }),
  readPhoto: (sha256: string, asked: Asked, signal?: S) =>
    call<PhotoReading>(`photos/${at(sha256)}/read`, { method: 'POST', json: asked, signal }),
  alike: (sha256: string, signal?: S) => call<AlikePieces>(`photos/${at(sha256)}/alike`, { signal }),
  suggestions: (id: string, signal?: S) => call<Suggestions>(`pieces/${at(id)}/suggestions`, { signal }),
  correct: (id: string, sha256: string, corrections: Corrections) =>
    call<PhotoMeta>(`pieces/${at(id)}/photos/${at(sha256)}/corrections`, { method: 'PUT', json: corrections }),
  /** Without photographs: all that nobody read with the open packs. */
  readPhotos: (photos?: string[]) => call<ReadingJob>('readings', { method: 'POST', json: photos ? { photos } : {} }),
  readings: (signal?: S) => call<ReadingJobs>('readings', { signal }),
  readingJob: (id: string, signal?: S) => call<ReadingJob>(`readings/${at(id)}`, { signal }),
  stopReading: (id: string) => call<ReadingJob>(`readings/${at(id)}`, { method: 'DELETE' }),
};

// Addresses for <img> and <a>; the browser fetches and caches these itself.
// The browser keeps the pictures of a page; after an edit of the Book the same drawing has another address.
let edition = 0;
export const newEdition = () => { edition += 1; };
const drawn = () => edition || '';

export const url = {
  treatmentGlyph: (id: string, form = '', pickedOut: readonly string[] = []) =>
    `/api/glyph/treatment/${at(id)}${queryOf({ form, picked_out: pickedOut.join(','), v: drawn() })}`,
  strip: (ornament: string) => `/api/glyph/strip/${at(ornament)}${queryOf({ v: drawn() })}`,
  drawing: (ornament: string) => `/api/drawing/${at(ornament)}${queryOf({ v: drawn() })}`,
  photo: (sha256: string) => `/api/photos/${at(sha256)}`,
  thumb: (sha256: string) => `/api/photos/${at(sha256)}/thumb`,
  /** Upright, in a format and size that every browser shows. */
  view: (sha256: string) => `/api/photos/${at(sha256)}/view`,
  /** A picture of a reading; `digest` makes a newer one another address. */
  readPicture: (sha256: string, kind: string, digest: string) => `/api/photos/${at(sha256)}/${kind}?v=${digest}`,
  paper: (kind: string, query: Query) => `/api/papers/${at(kind)}${queryOf(query)}`,
  /** `everything`: private pieces and what was paid go along; for a keeper. */
  export: (format: 'csv' | 'json', everything: boolean) => `/api/export${queryOf({ format, private: everything || undefined })}`,
};
