// The shapes of what the server answers, under our own short names.
// SPDX-License-Identifier: Apache-2.0

export type Problem = { code: string; where: string; what: string; remedy: string };
export type Answer<T> = { ok: true; value: T } | { ok: false; problems: Problem[] };

export type Sure = 'sure' | 'likely' | 'guess';
export type Wear = 'none' | 'light' | 'moderate' | 'heavy';
export type Faults = 'none' | 'few' | 'many';
export type Seen = { value: string; sure?: Sure };
export type Look = { place: string; value: string; sure?: Sure };

/** One piece as it was seen. An absent field was not looked at; "none" was looked at and is not there. */
export type PieceFile = {
  id: string;
  form?: string;
  shape?: Seen;
  glaze?: Seen;
  wear?: Wear;
  looks?: Look[];
  mark?: Seen;
  number?: string | Seen;
  date_code?: string;
  faults?: Faults;
  length_mm?: number;
  width_mm?: number;
  height_mm?: number;
  photos?: string[];
};

export type Run = [number, number];
export type Candidate = { treatment: string; number: string; probability: number; twins?: string[] };
export type Reason = { look: string; value: string; decibans: number; sources?: string[]; rows?: string[] };
export type NextLook = {
  look: string;
  bits: number;
  effort_min: number;
  effect?: { grade_bits?: number; year_bits?: number; bits_per_min?: number };
};
export type DateAnswer = {
  median: number;
  hpd68: Run;
  hpd95: Run;
  edtf: string;
  by_year?: { first_year: number; p: number[] };
};
export type ExamineAnswer = {
  piece: string;
  candidates: Candidate[];
  open: { unlisted: number; elsewhere: number };
  grade: { first: number; second: number };
  date: DateAnswer;
  reasons: Reason[];
  next: NextLook[];
  conflicts: { statements: string[] }[];
  verdict?: string;
  notes?: string[];
};

export type PhotoMeta = {
  sha256: string;
  piece: string;
  name: string;
  type: string;
  bytes: number;
  width: number;
  height: number;
  added: string;
};
export type Decision = { treatment: string; grade: string; date: string; note: string };
export type PieceRecord = {
  piece: PieceFile;
  lot: string;
  place: string;
  cost?: number | null;
  currency: string;
  note: string;
  decision?: Decision | null;
  attribution?: { answer: ExamineAnswer; packs: string; when: string } | null;
  created: string;
  changed: string;
  revision: number;
  photos: PhotoMeta[];
  treatment_number?: string;
  treatment_name?: string;
};
export type Lot = {
  id: string;
  name: string;
  date: string;
  place: string;
  note: string;
  cost?: number | null;
  currency: string;
  revision: number;
};
export type Change = {
  id: number;
  when: string;
  entity: string;
  key: string;
  what: string;
  before: unknown;
  after: unknown;
  undoes?: number | null;
  batch: number;
};
export type Page<T> = { rows: T[]; total: number };
export type Facet = { field: string; value: string; label: string; count: number };

export type PackInfo = {
  id: string;
  title: string;
  description?: string;
  version: string;
  digest: string;
  contributors?: string[];
};
export type Health = { status: string; version: string; packs: PackInfo[]; data: string; pieces: number };
export type BookInfo = { packs: PackInfo[]; counts: Record<string, number> };
export type SettingRow = {
  name: string;
  value: number;
  default: number;
  lowest: number;
  highest: number;
  sentence: string;
};

export type Vocabulary = {
  forms: { id: string; name: string; ware: string; outline: string; places: string[] }[];
  shapes: { id: string; name: string; maker: string; maker_name: string; years: string; forms: string[] }[];
  glazes: { id: string; name: string; maker: string; colour: string | null; years: string }[];
  ornaments: { id: string; name: string; kind: string; finish: string; places: string[] }[];
  marks: { id: string; wording: string; maker: string; years: string; second: boolean }[];
  makers: { id: string; name: string; role: string }[];
  places: string[];
  sures: string[];
  wears: string[];
  faults: string[];
  efforts: Record<string, number>;
};

export type Named = { id: string; name: string };
export type SourceRef = { id: string; title: string; trust?: number | null };
/** A row of the Book: its columns by name, plus years in words and its sources. Read with rows.ts. */
export type Row = Record<string, unknown> & { id: string; years_words?: string; sources?: SourceRef[] };

export type Statement = {
  id: string;
  property: string;
  value: string;
  stance: string;
  source?: unknown;
  sources?: SourceRef[];
  note?: string;
};
export type StatementGroup = { property: string; for: Statement[]; against: Statement[]; contested: boolean };
export type TreatmentRef = { id: string; number: string; name?: string; shape?: unknown; grade?: string };
export type TreatmentDetail = Row & {
  number: string;
  name: string;
  shape: Named;
  glaze?: Named | null;
  grade: string;
  decoration?: { place: string; ornament: Named; on: string; share: number; sources?: SourceRef[] }[];
  twins_by_form?: { form: Named; twins: TreatmentRef[] }[];
  same_ornaments?: { ornament: Named; treatments: TreatmentRef[] }[];
  statements?: StatementGroup[];
  dated_uses?: Row[];
  pieces?: number;
  grade_pair?: TreatmentRef[];
};

export type Difference = { look: string; values: string[] };
export type Apart = { differences: Difference[]; telling_forms: string[]; twin_groups: string[][] };
export type KeyNode = {
  treatments: string[];
  look: string;
  effort_min: number;
  branches: { value: string; node: number }[];
};
export type Key = { nodes: KeyNode[]; expected_effort_min: number; optimal: boolean };

export type Found = {
  pieces: { id: string; form?: string; shape?: string; number?: string }[];
  book: { table: string; id: string; name: string; detail: string }[];
};

export type ImportAnswer = {
  added: number;
  changed: number;
  skipped: number;
  problems: Problem[];
  preview: PieceFile[];
  columns: { column: string; field: string | null }[];
};
