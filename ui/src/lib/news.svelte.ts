// lib/news.svelte.ts - what other people change, heard as it happens, so that pages read again.
//   One question to the program waits for the next change. Only a window that is seen asks: a browser allows few
//   connections, and what is not seen is read anew when it is looked at again.
// SPDX-License-Identifier: Apache-2.0
import { api, made } from './api';
import { isAbort } from './latest';
import type { News as Heard } from './types';

const WAIT_S = 25;
const RETRY_MS = 3000; // while the program does not answer

class News {
  /** Grows with every change that somebody else made. */
  heard = $state(0);
  /** The last of them. */
  last = $state.raw<Heard['changes']>([]);
  #after: number | undefined;
  #running: AbortController | undefined;

  /** From now on, while the window is seen; asked twice it listens once. */
  open(): void {
    this.close();
    document.addEventListener('visibilitychange', this.#look);
    this.#look();
  }
  /** Nobody is here to tell. */
  close(): void {
    document.removeEventListener('visibilitychange', this.#look);
    this.#running?.abort();
    this.#running = undefined;
  }
  #look = (): void => {
    this.#running?.abort();
    this.#running = undefined;
    if (document.visibilityState === 'visible') void this.#listen();
  };

  async #listen(): Promise<void> {
    const control = new AbortController();
    this.#running = control;
    while (!control.signal.aborted) {
      try {
        const answer = await api.news(this.#after, WAIT_S, control.signal);
        if (answer.ok) this.#take(answer.value);
        const pause = answer.ok ? answer.value.again_ms : RETRY_MS;
        if (pause > 0) await new Promise((go) => setTimeout(go, pause));
      } catch (fault) {
        if (!isAbort(fault)) throw fault;
      }
    }
  }
  #take(news: Heard): void {
    const first = this.#after === undefined;
    this.#after = news.newest;
    if (first) return;
    const others = news.changes.filter((change) => !made.includes(change.batch));
    if (others.length === 0 && news.all) return;
    this.last = others;
    this.heard += 1;
  }
}

export const news = new News();
