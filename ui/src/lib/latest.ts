// lib/latest.ts - ask often, show only the newest answer.
//   `ask` waits until nothing was asked for `wait` ms, then runs the newest question. A question that was overtaken
//   is aborted, and its answer, should it still arrive, is dropped. Clock and question are arguments.
// SPDX-License-Identifier: Apache-2.0

export type Ask<Q> = { ask: (question: Q) => void; now: (question: Q) => void; stop: () => void };

export function latest<Q, A>(
  wait: number,
  run: (question: Q, signal: AbortSignal) => Promise<A>,
  show: (answer: A, question: Q) => void,
  begin: () => void = () => {},
): Ask<Q> {
  let turn = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let running: AbortController | undefined;

  const start = async (question: Q, mine: number) => {
    running?.abort();
    const control = new AbortController();
    running = control;
    begin();
    try {
      const answer = await run(question, control.signal);
      if (mine === turn) show(answer, question);
    } catch (fault) {
      if (!isAbort(fault)) throw fault;
    }
  };
  const stop = () => {
    turn += 1;
    clearTimeout(timer);
    running?.abort();
  };
  return {
    ask(question) {
      turn += 1;
      const mine = turn;
      clearTimeout(timer);
      timer = setTimeout(() => void start(question, mine), wait);
    },
    now(question) {
      turn += 1;
      clearTimeout(timer);
      void start(question, turn);
    },
    stop,
  };
}

export const isAbort = (fault: unknown): boolean =>
  typeof fault === 'object' && fault !== null && (fault as { name?: unknown }).name === 'AbortError';
