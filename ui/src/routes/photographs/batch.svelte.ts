// routes/photographs/batch.svelte.ts - many photographs at once: sent, each as a piece of its own, and read by the queue.
//   It outlives the page, so that one can look at something else meanwhile. Stopping keeps what was sent and read.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import { grouped } from '../../lib/names';
import { notices } from '../../lib/notices.svelte';
import { blankPiece, blankRecord } from '../../lib/piece';
import { accepted, atLeast, marked, nameOf } from '../../lib/suggested';
import type { Corrections, PhotoReading, Problem, ReadingJob, Suggestions, Sure } from '../../lib/types';

export type Row = {
  key: number; name: string; file: File | undefined; group: number; sha256: string; piece: string; problems: Problem[];
  state: 'waiting' | 'sending' | 'sent' | 'queued' | 'reading' | 'read' | 'failed' | 'stopped';
};
const ASK_EVERY = 500; // ms

class Batch {
  rows = $state.raw<Row[]>([]);
  readings = $state.raw<Record<string, PhotoReading>>({});
  suggestions = $state.raw<Record<string, Suggestions>>({});
  taken = $state.raw<Record<string, number>>({}); // looks accepted, by piece
  running = $state(false);
  stopping = $state(false);
  /** A job over photographs that are in the cupboard already. */
  job = $state.raw<ReadingJob | undefined>();

  total = $derived(this.rows.length);
  sent = $derived(this.rows.filter((row) => row.sha256 !== '').length);
  done = $derived(this.rows.filter((row) => row.state === 'read' || row.state === 'failed').length);
  failed = $derived(this.rows.filter((row) => row.state === 'failed').length);

  #key = 1;
  #group = 1;
  #jobId = '';

  /** Takes files; each, or each group that goes by one name, becomes a piece. */
  async add(files: readonly File[], together: boolean, lot: string): Promise<void> {
    const added = grouped(files, together).flatMap((group) => {
      this.#group += 1;
      return group.map((file): Row => ({
        key: this.#key++, name: file.name, file, group: this.#group, sha256: '', piece: '', problems: [], state: 'waiting',
      }));
    });
    this.rows = [...this.rows, ...added];
    if (!this.running) await this.#run(lot);
  }
  async stop(): Promise<void> {
    this.stopping = true;
    if (this.#jobId) await api.stopReading(this.#jobId);
  }
  async resume(lot: string): Promise<void> {
    this.rows = this.rows.map((row) => (['stopped', 'failed'].includes(row.state) ? { ...row, state: row.sha256 ? 'sent' : 'waiting', problems: [] } : row));
    await this.#run(lot);
  }
  /** Reads all photographs of the cupboard that nobody read with the open packs. */
  async readUnread(): Promise<void> {
    const begun = await api.readPhotos();
    if (!begun.ok) notices.fail('They are not being read.', begun.problems);
    else await this.follow(begun.value);
  }
  async follow(job: ReadingJob): Promise<void> {
    this.job = job;
    for (let misses = 0; this.job && (this.job.state === 'running' || this.job.state === 'stopping') && misses < 10; ) {
      await new Promise((go) => setTimeout(go, ASK_EVERY));
      const answer = await api.readingJob(job.id);
      if (answer.ok) this.job = answer.value;
      else misses += 1;
    }
  }
  clear(): void {
    this.rows = [];
    this.job = undefined;
  }

  async #run(lot: string): Promise<void> {
    this.running = true;
    this.stopping = false;
    const made: string[] = [];
    const reading = this.#readThem();
    for (;;) {
      const row = this.rows.find((one) => one.state === 'waiting');
      if (!row || this.stopping) break;
      await this.#send(row, lot, made);
    }
    this.#allSent = true;
    await reading;
    if (this.stopping) {
      this.rows = this.rows.map((row) => (['waiting', 'sent', 'queued', 'reading'].includes(row.state) ? { ...row, state: 'stopped' } : row));
    }
    this.running = false;
    this.stopping = false;
    if (made.length) {
      notices.say(`${made.length === 1 ? 'One piece is' : `${made.length} pieces are`} new in the cupboard, undecided.`, () => api.bulk(made, { remove: true }));
    }
  }
  async #send(row: Row, lot: string, made: string[]): Promise<void> {
    this.#mark(row.key, { state: 'sending' });
    let piece = this.rows.find((one) => one.group === row.group && one.piece)?.piece ?? '';
    if (!piece) {
      const answer = await api.addPiece({ ...blankRecord(blankPiece()), lot, note: row.name });
      if (!answer.ok) {
        this.#mark(row.key, { state: 'failed', problems: answer.problems });
        return;
      }
      piece = answer.value.piece.id;
      made.push(piece);
    }
    if (!row.file) return;
    const answer = await api.addPhoto(piece, row.file, row.name);
    if (answer.ok) {
      this.#mark(row.key, { state: 'sent', piece, sha256: answer.value.sha256, file: undefined });
      return;
    }
    this.#mark(row.key, { state: 'failed', piece, problems: answer.problems });
    // a piece without a photograph would be litter
    if (made.at(-1) === piece && !this.rows.some((one) => one.piece === piece && one.sha256)) {
      const gone = await api.bulk([piece], { remove: true });
      if (gone.ok) {
        made.pop();
        this.#mark(row.key, { piece: '' });
      }
    }
  }

  #allSent = false;
  // What was sent is read meanwhile, in jobs of what has gathered since.
  async #readThem(): Promise<void> {
    this.#allSent = false;
    for (;;) {
      const ready = this.rows.filter((row) => row.state === 'sent');
      if (ready.length && !this.stopping) {
        for (const row of ready) this.#mark(row.key, { state: 'queued' });
        const begun = await api.readPhotos([...new Set(ready.map((row) => row.sha256))]);
        if (begun.ok) await this.#followOne(begun.value);
        else for (const row of ready) this.#mark(row.key, { state: 'failed', problems: begun.problems });
      } else if (this.#allSent || this.stopping) {
        return;
      } else {
        await new Promise((go) => setTimeout(go, ASK_EVERY / 2));
      }
    }
  }
  async #followOne(begun: ReadingJob): Promise<void> {
    this.#jobId = begun.id;
    for (let misses = 0; misses < 10; ) {
      const answer = await api.readingJob(begun.id);
      if (!answer.ok) {
        misses += 1;
      } else {
        for (const { sha256, state } of answer.value.photos) {
          const problem = answer.value.failed.find((one) => one.sha256 === sha256)?.problem;
          for (const row of this.rows.filter((one) => one.sha256 === sha256)) {
            const next = state === 'waiting' ? 'queued' : (state as Row['state']);
            if (row.state === next) continue;
            this.#mark(row.key, { state: next, problems: problem ? [problem] : [] });
            if (next === 'read') void this.#fetch(row);
          }
        }
        if (answer.value.state === 'done' || answer.value.state === 'stopped') break;
      }
      await new Promise((go) => setTimeout(go, ASK_EVERY));
    }
    this.#jobId = '';
  }
  async #fetch(row: Row): Promise<void> {
    const [reading, suggestions] = await Promise.all([api.reading(row.sha256), api.suggestions(row.piece)]);
    if (reading.ok) this.readings = { ...this.readings, [row.sha256]: reading.value };
    if (suggestions.ok) this.suggestions = { ...this.suggestions, [row.piece]: suggestions.value };
  }

  /** Accepts what is sure enough for a piece, and keeps the piece. */
  async accept(piece: string, least: Sure): Promise<Problem[]> {
    const record = await api.piece(piece);
    if (!record.ok) return record.problems;
    const rows = atLeast(this.suggestions[piece]?.rows ?? [], record.value.piece, least);
    const next = rows.reduce((file, row) => accepted(file, row), record.value.piece);
    const kept = await api.putPiece({ ...record.value, piece: next });
    if (!kept.ok) return kept.problems;
    for (const photo of record.value.photos) {
      let corrections: Corrections = photo.corrections ?? {};
      const mine = rows.filter((row) => row.for.some((said) => said.sha256 === photo.sha256 && said.value === row.value));
      for (const row of mine) corrections = marked(corrections, nameOf(row), 'accepted');
      if (mine.length) await api.correct(piece, photo.sha256, corrections);
    }
    this.taken = { ...this.taken, [piece]: (this.taken[piece] ?? 0) + rows.length };
    const again = await api.suggestions(piece);
    if (again.ok) this.suggestions = { ...this.suggestions, [piece]: again.value };
    return [];
  }
  /** How many looks of a piece wait to be accepted. */
  waitingFor(piece: string, least: Sure): number {
    // the server says what the stored piece has; a row that it calls open is open
    const rank = { guess: 1, likely: 2, sure: 3 };
    return (this.suggestions[piece]?.rows ?? []).filter((row) => row.state === 'open' && row.now === null && rank[row.sure ?? 'guess'] >= rank[least] && row.sure !== null).length;
  }

  #mark(key: number, change: Partial<Row>): void {
    this.rows = this.rows.map((row) => (row.key === key ? { ...row, ...change } : row));
  }
}

export const batch = new Batch();
