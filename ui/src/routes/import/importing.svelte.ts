// routes/import/importing.svelte.ts - one table on its way in: sent once, tried, its columns matched, brought in.
// SPDX-License-Identifier: Apache-2.0
import { made } from '../../lib/api';
import { importApi, type ImportAsk, type ImportJob, type ImportResult, type ImportTable, type Into } from '../../lib/api_import';
import type { Answer, Problem } from '../../lib/types';

const POLL_MS = 300;

export class Importing {
  table = $state.raw<ImportTable | undefined>();
  sheet = $state('');
  mapping = $state.raw<Record<string, string | null> | undefined>();
  /** What a trial came to; gone when anything of the question changes. */
  tried = $state.raw<ImportResult | undefined>();
  problems = $state.raw<Problem[]>([]);
  job = $state.raw<ImportJob | undefined>();
  busy = $state(false);
  #turn = 0;

  async send(file: Blob, name: string): Promise<boolean> {
    this.forget();
    this.busy = true;
    const answer = await importApi.send(file, name);
    this.busy = false;
    this.problems = answer.ok ? [] : answer.problems;
    this.table = answer.ok ? answer.value : undefined;
    this.sheet = this.table?.sheets[0]?.name ?? '';
    return answer.ok;
  }
  /** Another sheet, or another thing to bring it into: the columns mean something else. */
  choose(sheet: string): void {
    this.sheet = sheet;
    this.mapping = undefined;
    this.tried = undefined;
    this.problems = [];
  }
  forget(): void {
    this.table = undefined;
    this.choose('');
  }

  /** Runs to its end, told of on the way; undefined when a newer one began, or when it failed or was stopped. */
  async run(into: Into, dryRun: boolean, keepGood: boolean, more: Partial<ImportAsk>): Promise<ImportResult | undefined> {
    if (!this.table) return undefined;
    const turn = ++this.#turn;
    this.busy = true;
    this.problems = [];
    let answer: Answer<ImportJob> = await importApi.start({
      table: this.table.id, sheet: this.sheet, into, dry_run: dryRun, keep_good: keepGood, ...more, ...(this.mapping ? { mapping: this.mapping } : {}),
    });
    while (answer.ok && answer.value.state === 'running' && turn === this.#turn) {
      this.job = answer.value;
      await new Promise((wake) => setTimeout(wake, POLL_MS));
      answer = await importApi.job();
    }
    if (turn !== this.#turn) return undefined;
    this.busy = false;
    this.job = undefined;
    if (!answer.ok || answer.value.state !== 'done') {
      this.problems = answer.ok ? answer.value.problems : answer.problems;
      if (dryRun) this.tried = undefined;
      return undefined;
    }
    made.push(...answer.value.batches); // it ran on after the answer to what was sent
    const result = answer.value.result ?? undefined;
    if (dryRun) this.tried = result;
    return result;
  }
  async stop(): Promise<void> {
    await importApi.stop();
  }
  /** What the columns are taken for, and that one changed. */
  map(column: string, field: string): void {
    const now = Object.fromEntries((this.tried?.columns ?? []).map((one) => [one.column, one.field]));
    this.mapping = { ...now, ...this.mapping, [column]: field || null };
  }
}
