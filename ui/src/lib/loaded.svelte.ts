// lib/loaded.svelte.ts - something a page waits for: not yet, failed, or here.
//   While it is fetched again the old value stays, so that pages do not jump.
// SPDX-License-Identifier: Apache-2.0
import { isAbort } from './latest';
import type { Answer, Problem } from './types';

export class Loaded<T> {
  value = $state.raw<T | undefined>(undefined);
  problems = $state.raw<Problem[]>([]);
  busy = $state(true);
  #running: AbortController | undefined;
  #again: (() => Promise<void>) | undefined;

  /** Runs `load`; only the newest run counts. Call it from an $effect that reads what the loading depends on. */
  async run(load: (signal: AbortSignal) => Promise<Answer<T>>): Promise<void> {
    this.#running?.abort();
    const control = new AbortController();
    this.#running = control;
    this.#again = () => this.run(load);
    this.busy = true;
    try {
      const answer = await load(control.signal);
      if (this.#running !== control) return;
      if (answer.ok) {
        this.value = answer.value;
        this.problems = [];
      } else {
        this.problems = answer.problems;
      }
      this.busy = false;
    } catch (fault) {
      if (!isAbort(fault)) throw fault;
    }
  }
  again(): Promise<void> {
    return this.#again?.() ?? Promise.resolve();
  }
  /** Forgets the old value, when the page now shows something else. */
  clear(): void {
    this.value = undefined;
    this.problems = [];
  }
}
