// routes/bench/bench.svelte.ts - the piece on the bench: what was seen, what the program says, what was kept.
//   It outlives the page, and the piece is also remembered by the browser, so that turning a page or closing the
//   window loses no look. Every change of a look can be taken back.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import { keep, kept } from '../../lib/kept';
import { latest } from '../../lib/latest';
import { merged } from '../../lib/merge';
import { grouped, pickedOut } from '../../lib/odds';
import { blankPiece, blankRecord, looksMade, sameSeen, toFile } from '../../lib/piece';
import { undoable } from '../../lib/undo';
import type {
  Answer, Apart, Candidate, Cautions, Clues, Dated, Decision, ExamineAnswer, PieceFile, PieceRecord, PhotoMeta, Problem, Vocabulary,
} from '../../lib/types';

type Aside = { piece: PieceFile; record: PieceRecord | undefined };

const COMPARED = 6; // candidates compared place by place
const WORTH_TELLING = 0.01; // less likely ones are not worth a ring on every drawing

class Bench {
  piece = $state.raw<PieceFile>(blankPiece());
  record = $state.raw<PieceRecord | undefined>();
  past = $state.raw<PieceFile[]>([]);

  answer = $state.raw<ExamineAnswer | undefined>();
  problems = $state.raw<Problem[]>([]);
  /** From a change of the piece until the odds of that change are here. */
  asking = $state(false);
  drawing = $state.raw('');
  drawingLost = $state(false);
  apart = $state.raw<{ ids: string[]; answer: Apart } | undefined>();
  telling = $state.raw<Record<string, string[]>>({});
  keeping = $state(false);

  dated = $state.raw<Dated | undefined>();
  datedProblems = $state.raw<Problem[]>([]);
  cautions = $state.raw<Cautions | undefined>();
  cautionProblems = $state.raw<Problem[]>([]);
  /** Wording that was added as clues to the date, and what each was found to say. They belong to the piece on the bench. */
  clues = $state.raw<string[]>([]);
  clueWords = $state.raw<Record<string, string>>({});

  groups = $derived(this.answer ? grouped(this.answer.candidates) : []);
  dirty = $derived(this.record ? !sameSeen(this.piece, this.record.piece) : looksMade(this.piece) > 0);
  photos = $derived<PhotoMeta[]>(this.record?.photos ?? []);

  #opened = false;
  #examining = latest<PieceFile, Answer<ExamineAnswer>>(
    140,
    (piece, signal) => api.examine(toFile(piece), signal),
    (answer, piece) => {
      this.asking = false;
      this.problems = answer.ok ? [] : answer.problems;
      if (!answer.ok) return;
      this.answer = answer.value;
      this.#comparing.now({ candidates: answer.value.candidates, form: piece.form ?? '' });
      if (looksMade(piece) > 0) {
        this.#dating.now(piece);
        this.#caring.now(piece);
      }
    },
  );
  #comparing = latest<{ candidates: Candidate[]; form: string }, { ids: string[]; form: string; apart?: Apart }>(
    0,
    async ({ candidates, form }, signal) => {
      const ids = candidates.slice(0, COMPARED).map((candidate) => candidate.treatment);
      if (ids.length < 2) return { ids, form };
      const answer = await api.apart(ids, form, signal);
      return answer.ok ? { ids, form, apart: answer.value } : { ids, form };
    },
    ({ ids, form, apart }) => {
      this.apart = apart ? { ids, answer: apart } : undefined;
      void this.#askTelling(form);
    },
  );
  #dating = latest<PieceFile, Answer<Dated>>(
    0,
    (piece, signal) => api.date(toFile(piece), this.clues, signal),
    (answer) => {
      this.datedProblems = answer.ok ? [] : answer.problems;
      if (answer.ok) this.dated = answer.value;
    },
  );
  #caring = latest<PieceFile, Answer<Cautions>>(
    0,
    (piece, signal) => api.cautions(toFile(piece), signal),
    (answer) => {
      this.cautionProblems = answer.ok ? [] : answer.problems;
      if (answer.ok) this.cautions = answer.value;
    },
  );
  #draw = latest<PieceFile, Answer<string>>(
    60,
    (piece, signal) => api.glyph(toFile(piece), [], signal),
    (answer) => {
      this.drawingLost = !answer.ok;
      if (answer.ok) this.drawing = answer.value;
    },
  );

  /** Begins with what was on the bench last time. Returns whether there was anything. */
  resume(): boolean {
    if (this.#opened) return true;
    this.#opened = true;
    const stored = kept('bench');
    if (!stored) return false;
    try {
      const { piece, record } = JSON.parse(stored) as Partial<Aside>;
      if (!piece || typeof piece.id !== 'string') return false;
      this.piece = piece;
      this.record = record;
    } catch {
      return false;
    }
    this.look(true);
    return true;
  }

  /** Puts a kept piece on the bench; what lay there is returned, so that it can be put back. */
  open(record: PieceRecord): Aside {
    const aside = this.#aside();
    this.#opened = true;
    const same = this.record?.piece.id === record.piece.id && this.dirty;
    if (!same) this.piece = record.piece;
    this.record = record;
    this.#fresh(same);
    return aside;
  }
  clear(): Aside {
    const aside = this.#aside();
    this.#opened = true;
    this.piece = blankPiece();
    this.record = undefined;
    this.#fresh(false);
    return aside;
  }
  putBack(aside: Aside): void {
    this.piece = aside.piece;
    this.record = aside.record;
    this.#fresh(false);
  }

  change(next: PieceFile): void {
    if (next === this.piece) return;
    this.past = [...this.past.slice(-99), this.piece];
    this.piece = next;
    this.look(false);
  }
  takeBack(): void {
    const before = this.past[this.past.length - 1];
    if (!before) return;
    this.past = this.past.slice(0, -1);
    this.piece = before;
    this.look(false);
  }

  addClue(text: string): void {
    if (!this.clues.includes(text)) this.clues = [...this.clues, text];
    void api.clues(text).then((answer) => (this.clueWords = { ...this.clueWords, [text]: clueSays(answer) }));
    this.dateAgain();
  }
  removeClue(text: string): void {
    this.clues = this.clues.filter((one) => one !== text);
    this.dateAgain();
  }
  dateAgain(): void {
    this.#dating.now(this.piece);
  }
  careAgain(): void {
    this.#caring.now(this.piece);
  }

  /** Asks for odds and drawing anew. */
  look(now: boolean): void {
    this.#remember();
    this.asking = true;
    if (now) {
      this.#examining.now(this.piece);
      this.#draw.now(this.piece);
    } else {
      this.#examining.ask(this.piece);
      this.#draw.ask(this.piece);
    }
  }

  /** Keeps the piece, and the decision when one is given. The answer carries how to undo all of it. */
  async keep(decision: Decision | undefined): Promise<{ answer: Answer<PieceRecord>; undo: () => Promise<Answer<unknown>> }> {
    this.keeping = true;
    const { answer, undo } = await undoable(() => this.#write(decision));
    this.keeping = false;
    if (answer.ok) {
      this.record = answer.value;
      this.piece = answer.value.piece;
      this.past = [];
      this.#remember();
    }
    return { answer, undo };
  }
  /** What the program has of this piece by now: after an undo, or when somebody else changed it. What was seen here and
      not kept yet stays, beside what they saw; says which of their looks are new, and what both changed. */
  async reread(): Promise<{ theirs: string[]; both: string[] }> {
    const told = { theirs: [] as string[], both: [] as string[] };
    const id = this.record?.piece.id;
    if (!id) return told;
    const answer = await api.piece(id);
    const base = this.record;
    if (!base || base.piece.id !== id) return told; // another piece was put on the bench meanwhile
    if (answer.ok) {
      const { piece, theirs, both } = merged(base.piece, this.piece, answer.value.piece);
      told.theirs = theirs;
      told.both = both;
      this.record = answer.value;
      if (!sameSeen(this.piece, piece)) {
        this.piece = piece;
        this.look(true);
      }
    } else if (answer.problems.some((problem) => problem.code === 'not-found')) {
      this.record = undefined;
      this.piece = { ...this.piece, id: '' };
    }
    this.#remember();
    return told;
  }

  async #write(decision: Decision | undefined): Promise<Answer<PieceRecord>> {
    const file = { ...toFile(this.piece), id: this.piece.id };
    const known = this.record;
    const written = known
      ? this.dirty ? await api.putPiece({ ...known, piece: file }) : ({ ok: true, value: known } as const)
      : await api.addPiece(blankRecord(file));
    if (!written.ok) return written;
    const record = written.value;
    return decision ? api.decide(record.piece.id, decision, record.revision) : { ok: true, value: record };
  }

  async #askTelling(form: string): Promise<void> {
    for (const group of this.groups.slice(0, 3)) {
      const ids = [...group.members.map((member) => member.treatment), ...group.unlistedTwins];
      const key = twinKey(ids, form);
      if (ids.length < 2 || key in this.telling) continue;
      const answer = await api.apart(ids, form);
      if (answer.ok) this.telling = { ...this.telling, [key]: answer.value.telling_forms };
    }
  }
  #fresh(keepPast: boolean): void {
    if (!keepPast) this.past = [];
    this.clues = [];
    this.dated = undefined;
    this.cautions = undefined;
    this.look(true);
  }
  #aside = (): Aside => ({ piece: this.piece, record: this.record });
  #remember(): void {
    keep('bench', JSON.stringify({ piece: this.piece, record: this.record }));
  }
}

/** What the wording says of the years; plainly so when it says nothing. */
export function clueSays(answer: Answer<Clues>): string {
  if (!answer.ok) return answer.problems[0]?.what ?? '';
  const counted = answer.value.clues.filter((clue) => clue.within === null);
  if (counted.length === 0) return 'is no wording that the open packs date.';
  return `${counted.map((clue) => clue.name).join(', ')}${answer.value.years ? `: ${answer.value.years}` : ''}`;
}

export const twinKey = (ids: readonly string[], form: string): string => `${form}|${[...ids].sort().join(',')}`;

/** Places at which candidates that are worth telling apart differ; always at least the first two. */
export function placesApart(
  candidates: readonly Candidate[], apart: { ids: string[]; answer: Apart } | undefined, book: Vocabulary | undefined,
): string[] {
  if (!apart || !book) return [];
  const odds = new Map(candidates.map((candidate) => [candidate.treatment, candidate.probability]));
  const worth = apart.ids.map((id, i) => i < 2 || (odds.get(id) ?? 0) >= WORTH_TELLING);
  const among = apart.answer.differences
    .map(({ look, values }) => ({ look, values: values.filter((_, i) => worth[i]) }))
    .filter(({ values }) => new Set(values).size > 1);
  return pickedOut(among, book.places);
}

export const bench = new Bench();
