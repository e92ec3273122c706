// The shapes of what the server answers, under our own short names.
//   They come from openapi.ts, which `npm run types` makes from src/server/openapi.json. What is narrower or wider here
//   says why. Details of the Book carry more than their columns; those parts are written out at the end.
// SPDX-License-Identifier: Apache-2.0
import type { components } from './openapi';

/** Lists of words become plain text: a page must survive a word that is newer than itself. */
type Loose<T> = T extends string ? string : T extends (infer U)[] ? Loose<U>[] : T extends object ? { [K in keyof T]: Loose<T[K]> } : T;
type Schemas = components['schemas'];
export type From<Name extends keyof Schemas> = Loose<Schemas[Name]>;
export type But<T, Changes> = Omit<T, keyof Changes> & Changes;

export type Problem = From<'Problem'>;
export type Answer<T> = { ok: true; value: T } | { ok: false; problems: Problem[] };

export type Sure = Schemas['Sure'];
export type Wear = NonNullable<Schemas['Piece']['wear']>;
export type Faults = NonNullable<Schemas['Piece']['faults']>;
/** The server always writes a look long; only a number may also be written as plain text, as in a piece file. */
export type Seen = { value: string; sure?: Sure };
export type Look = But<From<'Look'>, { sure?: Sure }>;

/** One piece as it was seen. An absent field was not looked at; "none" was looked at and is not there. */
export type PieceFile = But<From<'Piece'>, {
  id: string; shape?: Seen; glaze?: Seen; mark?: Seen; number?: Seen | string; wear?: Wear; faults?: Faults; looks?: Look[];
}>;

/** First and last year. */
export type Run = [number, number];
type Said = From<'Answer'>;
export type Candidate = Said['candidates'][number];
export type Reason = Said['reasons'][number];
export type NextLook = Said['next'][number];
export type DateAnswer = But<Said['date'], { hpd68: Run; hpd95: Run }>;
export type ExamineAnswer = But<Said, { date: DateAnswer }>;

export type PhotoMeta = From<'Photo'>;
export type Corrections = From<'Corrections'>;
export type SuggestionName = From<'SuggestionName'>;
export type EllipsePx = From<'Ellipse'>;
export type Asked = But<From<'Asked'>, { rim?: EllipsePx | null; side?: string | null }>;
export type Reading = From<'Reading'>;
export type PhotoReading = But<From<'PhotoReading'>, { reading: Reading; asked: Asked }>;
export type AlikePieces = From<'AlikePieces'>;
export type Suggestions = But<From<'Suggestions'>, { rows: Suggested[] }>;
export type Suggested = But<From<'Suggestions'>['rows'][number], { sure: Sure | null }>;
export type ReadingJob = From<'ReadingJob'>;
export type ReadingJobs = From<'ReadingJobs'>;
export type Decision = Required<From<'Decision'>>;
export type PieceRecord = But<Required<From<'Record'>>, {
  piece: PieceFile;
  cost?: number | null;
  decision?: Decision | null;
  attribution?: { answer: ExamineAnswer; packs: string; when: string } | null;
  photos: PhotoMeta[];
  treatment_number?: string; // of the decision, when an open pack has it
  treatment_name?: string;
}>;
export type Lot = But<Required<From<'Lot'>>, { cost?: number | null }>;
export type Change = But<From<'Change'>, { before: unknown; after: unknown }>;
export type News = From<'News'>;
/** `more`: there are more than `total`, which were not counted. */
export type Page<T> = { rows: T[]; total: number; more?: true };
export type Facet = { field: string; value: string; label: string; count: number };

export type PackInfo = From<'Pack'> & { description?: string; contributors?: string[] };
export type Health = { status: string; version: string; packs: PackInfo[]; data: string; pieces: number };
export type BookInfo = { packs: PackInfo[]; counts: Record<string, number> };
export type SettingRow = From<'Setting'>;
export type Vocabulary = From<'Vocabulary'>;

export type Named = From<'Named'>;
export type SourceRef = From<'Source'>;
/** A row of the Book: its columns by name, plus years in words and its sources. Read with rows.ts. */
export type Row = Record<string, unknown> & { id: string; years_words?: string; sources?: SourceRef[] };

export type Statement = From<'Statement'>;
export type StatementGroup = From<'StatementGroup'>;
export type TreatmentRef = From<'TreatmentNamed'>;
export type TreatmentDetail = Row & From<'TreatmentColumns'> & {
  decoration?: { place: string; ornament: Named; on: string; share: number; sources?: SourceRef[] }[];
  twins_by_form?: { form: Named; twins: TreatmentRef[] }[];
  same_ornaments?: { ornament: Named; treatments: (TreatmentRef & { shape?: Named })[] }[];
  statements?: StatementGroup[];
  dated_uses?: Row[];
  pieces?: number;
  grade_pair?: { id: string; number: string; grade: string }[];
};

export type Apart = From<'Apart'>;
export type Difference = Apart['differences'][number];
export type Key = From<'Key'>;

export type Found = {
  pieces: { id: string; form?: string; shape?: string; number?: string }[];
  book: { table: string; id: string; name: string; detail: string }[];
};

/** Whole years; equal when the end is sharp, else its weight falls off from `first` to `soft_first`. */
export type Span = Schemas['SoftSpan'];
export type Years = But<From<'Chronology'>, { pieces: YearsPiece[] }>;
export type YearsLane = Years['lanes'][number];
export type YearsBar = YearsLane['bars'][number];
export type YearsTick = Years['ticks'][number];
export type YearsGlaze = Years['glazes'][number];
export type YearsNumber = Years['numbers'][number];
export type YearsPiece = But<From<'YearsPiece'>, { hpd68: Run; hpd95: Run }>;
export type PaperKinds = components['schemas']['PaperKinds'];
export type PaperKind = PaperKinds['kinds'][number];

/** A statement about when a piece was made, how far it agrees with each year, and what it takes away beside the others. */
export type Dated = But<From<'DateCombined'>, { date: DateAnswer }>;
export type DateStatement = Dated['statements'][number];
export type Clues = From<'Clues'>;
export type FoundClue = From<'FoundClue'>;

export type Cautions = From<'Cautions'>;
export type Caution = From<'Caution'>;
export type Regimes = From<'Regimes'>;
export type Leach = From<'Leached'>;
export type LeachVerdict = Leach['verdicts'][number];
export type LeachAsked = { depth_mm?: number; volume_ml?: number; category: string; units?: Record<string, string>[]; csv?: string };

export type EditPack = { id: string; title: string; digest: string; folder: string; editable: boolean; why_not: string | null; copies_to: string | null };
export type EditColumn = {
  name: string; type: string; required: boolean; refers: string[]; words: string[]; lowest: number | null; highest: number | null; sentence: string;
};
export type EditTable = { name: string; sentence: string; has_id: boolean; columns: EditColumn[] };
export type EditingInfo = { packs: EditPack[]; tables: EditTable[] };
export type EditRow = { line: number; cells: Record<string, string> };
export type EditFault = Problem & { row: number | null; column: string };
export type EditAnswer = { change: number | null; faults: EditFault[]; notes: string[]; picture: string | null };
export type BookChange = {
  id: number; when: string; what: string; pack: string; undoes: number | null; undone: boolean; files: string[];
  rows: { table: string; line: number; before: Record<string, string>; after: Record<string, string> }[];
};
export type DateWords = { text: string; words: string; caution: string; spans: { first: number | null; last: number | null }[] };

export type Reexamined = {
  piece: string; revision: number; form: string; decision: { treatment: string; grade: string; date: string; note: string } | null;
  before: ExamineAnswer | null; after: ExamineAnswer | null; when: string | null; what: string[]; notes: string[]; problems: Problem[];
  why: { look: string; value: string; before: number; after: number; rows: string[]; sources: string[] }[];
};
export type Reexaminations = {
  state: string; began: string; stale: boolean; done: number; of: number; up_to_date: number; same: number; unknown: number; changed: Reexamined[]; problems: Problem[];
};
