// routes/bench/photographs.svelte.ts - the photographs of the piece on the bench: sent, read, corrected, suggested from.
//   A photograph belongs to a piece, so a new piece is kept (undecided) as soon as it gets one. Reading is done by the
//   program's queue; this follows it, and can stop it.
// SPDX-License-Identifier: Apache-2.0
import { api } from '../../lib/api';
import { notices } from '../../lib/notices.svelte';
import { marked, nameOf } from '../../lib/suggested';
import type {
  Asked, Corrections, PhotoMeta, PhotoReading, Problem, ReadingJob, Suggested, Suggestions,
} from '../../lib/types';
import { undoable } from '../../lib/undo';
import { bench } from './bench.svelte';

export type ReadState = { state: 'unread' | 'waiting' | 'reading' | 'read' | 'failed' | 'stopped'; stale?: boolean; problems?: Problem[] };
export type Sending = { key: number; file: Blob; name: string; address: string; state: 'waiting' | 'sending' | 'failed'; problems: Problem[] };

const ASK_EVERY = 350; // ms between two looks at the queue

class Photographs {
  sending = $state.raw<Sending[]>([]);
  states = $state.raw<Record<string, ReadState>>({});
  readings = $state.raw<Record<string, PhotoReading>>({});
  suggestions = $state.raw<Suggestions | undefined>();
  problems = $state.raw<Problem[]>([]);
  /** The one that is looked at. */
  shown = $state('');
  /** Photographs in the queue that this page follows. */
  job = $state.raw<ReadingJob | undefined>();
  rereading = $state(false);

  open = $derived<PhotoMeta | undefined>(bench.photos.find((photo) => photo.sha256 === this.shown) ?? bench.photos[0]);
  busy = $derived(this.sending.some((one) => one.state !== 'failed') || this.job !== undefined);

  #key = 1;
  #piece = '';
  #stopped = false;
  #rereading: AbortController | undefined;

  /** Begins anew when another piece lies on the bench; reads what the program knows of its photographs. */
  async follow(piece: string, photos: readonly PhotoMeta[]): Promise<void> {
    if (piece !== this.#piece) {
      this.#piece = piece;
      this.shown = '';
      this.states = {};
      this.readings = {};
      this.suggestions = undefined;
      this.problems = [];
    }
    if (!piece || photos.length === 0) {
      this.suggestions = undefined;
      return;
    }
    await this.refresh();
  }

  /** What all photographs suggest together, and the reading of the one that is shown. */
  async refresh(): Promise<void> {
    const piece = this.#piece;
    if (!piece) return;
    const answer = await api.suggestions(piece);
    if (piece !== this.#piece) return;
    if (!answer.ok) {
      this.problems = answer.problems;
      return;
    }
    this.problems = [];
    this.suggestions = answer.value;
    const states = { ...this.states };
    for (const { sha256, read, stale } of answer.value.photos) {
      const now = states[sha256]?.state;
      if (now === 'waiting' || now === 'reading' || (now === 'failed' && !read) || (now === 'stopped' && !read)) continue;
      states[sha256] = read ? { state: 'read', stale } : { state: 'unread' };
    }
    this.states = states;
    if (this.open) await this.load(this.open.sha256);
  }
  async load(sha256: string): Promise<void> {
    if (this.states[sha256]?.state !== 'read') return;
    const answer = await api.reading(sha256);
    if (answer.ok) this.readings = { ...this.readings, [sha256]: answer.value };
  }
  show(sha256: string): void {
    this.shown = sha256;
    if (!this.readings[sha256]) void this.load(sha256);
  }

  /** Takes files: keeps the piece when it is new, sends them one by one, then has them read. */
  async add(files: Iterable<File>): Promise<void> {
    const all = [...files].filter((file) => file.type.startsWith('image/') || /\.(heic|heif|tiff?|jpe?g|png|webp)$/i.test(file.name));
    const refused = [...files].length - all.length;
    if (refused > 0) {
      notices.fail(refused === 1 ? 'One file is no photograph.' : `${refused} files are no photographs.`, [{
        code: 'bad-input', where: '', what: 'Photographs are JPEG, PNG, HEIC, WebP or TIFF files.', remedy: 'Choose such files.',
      }]);
    }
    if (all.length === 0) return;
    this.#stopped = false;
    this.sending = [...this.sending, ...all.map((file): Sending => ({
      key: this.#key++, file, name: file.name || 'photograph.jpg', address: URL.createObjectURL(file), state: 'waiting', problems: [],
    }))];
    await this.send();
  }
  async send(): Promise<void> {
    if (this.sending.some((one) => one.state === 'sending')) return;
    if (!bench.record) {
      const { answer, undo } = await bench.keep(undefined);
      if (!answer.ok) {
        this.sending = this.sending.map((one) => ({ ...one, state: 'failed', problems: answer.problems }));
        return;
      }
      notices.say(`${answer.value.piece.id} is in the cupboard, undecided: a photograph needs a piece to belong to.`, undo);
    }
    const piece = bench.record?.piece.id ?? '';
    this.#piece ||= piece;
    const sent: string[] = [];
    for (;;) {
      const next = this.sending.find((one) => one.state === 'waiting');
      if (!next || this.#stopped) break;
      this.#mark(next.key, { state: 'sending' });
      const answer = await api.addPhoto(piece, next.file, next.name);
      if (answer.ok) {
        sent.push(answer.value.sha256);
        this.forget(next.key);
      } else {
        this.#mark(next.key, { state: 'failed', problems: answer.problems });
      }
    }
    if (sent.length === 0) return;
    await bench.reread();
    if (piece !== bench.record?.piece.id) return;
    this.shown ||= sent[0] ?? '';
    if (!this.#stopped) await this.read(sent);
  }
  again(key: number): void {
    this.#mark(key, { state: 'waiting', problems: [] });
    this.#stopped = false;
    void this.send();
  }
  forget(key: number): void {
    const one = this.sending.find((item) => item.key === key);
    if (one) URL.revokeObjectURL(one.address);
    this.sending = this.sending.filter((item) => item.key !== key);
  }

  /** Has photographs read by the queue, and follows it to its end. */
  async read(photos: string[]): Promise<void> {
    const piece = this.#piece;
    this.states = { ...this.states, ...Object.fromEntries(photos.map((sha256) => [sha256, { state: 'waiting' } as ReadState])) };
    const begun = await api.readPhotos(photos);
    if (!begun.ok) {
      this.states = { ...this.states, ...Object.fromEntries(photos.map((sha256) => [sha256, { state: 'failed', problems: begun.problems } as ReadState])) };
      return;
    }
    this.job = begun.value;
    let misses = 0;
    while (this.job && (this.job.state === 'running' || this.job.state === 'stopping')) {
      await new Promise((go) => setTimeout(go, ASK_EVERY));
      const answer = await api.readingJob(begun.value.id);
      if (!answer.ok) {
        misses += 1;
        if (misses < 5) continue;
        this.problems = answer.problems;
        break;
      }
      misses = 0;
      this.#take(answer.value);
      this.job = answer.value;
    }
    this.job = undefined;
    if (piece === this.#piece) await this.refresh();
  }
  async stop(): Promise<void> {
    this.#stopped = true;
    this.#rereading?.abort();
    for (const one of this.sending) if (one.state === 'waiting') this.forget(one.key);
    if (this.job) await api.stopReading(this.job.id);
  }

  /** Reads one photograph again with what a person gave for it. */
  async reread(sha256: string, asked: Asked): Promise<boolean> {
    const before = this.readings[sha256];
    this.rereading = true;
    this.#rereading = new AbortController();
    try {
      const answer = await api.readPhoto(sha256, asked, this.#rereading.signal);
      if (!answer.ok) {
        notices.fail('It was not read again.', answer.problems);
        return false;
      }
      this.readings = { ...this.readings, [sha256]: answer.value };
      this.states = { ...this.states, [sha256]: { state: 'read' } };
      notices.say('The photograph was read again.', before && (async () => {
        const back = await api.readPhoto(sha256, whole(before.asked));
        if (back.ok) this.readings = { ...this.readings, [sha256]: back.value };
        await this.refresh();
        return back;
      }));
      await this.refresh();
      return true;
    } catch {
      return false; // stopped by the person; the old reading is still shown
    } finally {
      this.rereading = false;
    }
  }

  async correct(photo: PhotoMeta, corrections: Corrections, sentence = ''): Promise<void> {
    const { answer, undo } = await undoable(() => api.correct(photo.piece, photo.sha256, corrections));
    await bench.reread();
    await this.refresh();
    if (!answer.ok) notices.fail('The correction was not kept.', answer.problems);
    else if (sentence) notices.say(sentence, undo);
  }
  /** Writes down that suggestions were accepted or refused, with every photograph that made them. */
  async note(rows: readonly Suggested[], as: 'accepted' | 'refused' | undefined, sentence = ''): Promise<void> {
    const { answer, undo } = await undoable(async () => {
      for (const photo of bench.photos) {
        let corrections: Corrections = photo.corrections ?? {};
        const before = JSON.stringify(corrections);
        for (const row of rows) {
          if ([...row.for, ...row.against].some((said) => said.sha256 === photo.sha256 && said.value === row.value)) corrections = marked(corrections, nameOf(row), as);
        }
        if (JSON.stringify(corrections) === before) continue;
        const kept = await api.correct(photo.piece, photo.sha256, corrections);
        if (!kept.ok) return kept;
      }
      return { ok: true, value: null } as const;
    });
    await bench.reread();
    await this.refresh();
    if (!answer.ok) notices.fail('That was not written down.', answer.problems);
    else if (sentence) notices.say(sentence, undo);
  }

  #take(job: ReadingJob): void {
    const states = { ...this.states };
    for (const { sha256, state } of job.photos) {
      const problem = job.failed.find((one) => one.sha256 === sha256)?.problem;
      states[sha256] = { state: state as ReadState['state'], ...(problem ? { problems: [problem] } : {}) };
    }
    this.states = states;
  }
  #mark(key: number, change: Partial<Sending>): void {
    this.sending = this.sending.map((one) => (one.key === key ? { ...one, ...change } : one));
  }
}

/** Every member, so that what was given since is forgotten. */
const whole = (asked: Asked): Asked => ({ side: null, rim_height_mm: null, rim: null, form: null, ...asked });

export const photographs = new Photographs();
