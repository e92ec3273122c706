// lib/notices.svelte.ts - short sentences at the foot of the page, most of them with Undo.
// SPDX-License-Identifier: Apache-2.0
import { api } from './api';
import type { Answer, Problem } from './types';

export type Notice = { id: number; text: string; problems?: Problem[]; undo?: (() => Promise<Answer<unknown>>) | undefined };

class Notices {
  list = $state.raw<Notice[]>([]);
  /** Grows when something was undone, so that pages read again. */
  undone = $state(0);
  #next = 1;

  say(text: string, undo?: () => Promise<Answer<unknown>>): void {
    this.#add({ id: this.#next++, text, undo });
  }
  fail(text: string, problems: Problem[]): void {
    this.#add({ id: this.#next++, text, problems });
  }
  close(id: number): void {
    this.list = this.list.filter((notice) => notice.id !== id);
  }
  async undo(notice: Notice): Promise<void> {
    if (!notice.undo) return;
    this.close(notice.id);
    const answer = await notice.undo();
    this.undone += 1;
    if (answer.ok) this.say('Undone.');
    else this.fail('This could not be undone.', answer.problems);
  }
  /** Undo of the newest batches of one piece, newest first; for changes whose answer does not name its batch. */
  undoOf(batches: (number | null)[]): () => Promise<Answer<unknown>> {
    return async () => {
      for (const batch of batches) {
        if (batch === null) continue; // nothing was changed
        const answer = await api.undo(batch);
        if (!answer.ok) return answer;
      }
      return { ok: true, value: null };
    };
  }
  // One of a kind: what happened last, and what failed last. Older changes are undone from the page of changes.
  #add(notice: Notice): void {
    this.list = [...this.list.filter((old) => (old.problems === undefined) !== (notice.problems === undefined)), notice];
  }
}

export const notices = new Notices();
