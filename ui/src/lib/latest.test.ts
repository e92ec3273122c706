// SPDX-License-Identifier: Apache-2.0
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { latest } from './latest';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

/** A question whose answers arrive when the test says so. */
function slow() {
  const open = new Map<string, { give: (answer: string) => void; signal: AbortSignal }>();
  const run = (question: string, signal: AbortSignal) =>
    new Promise<string>((give, refuse) => {
      open.set(question, { give, signal });
      signal.addEventListener('abort', () => refuse(new DOMException('stopped', 'AbortError')));
    });
  return { open, run };
}

describe('latest', () => {
  it('asks once when questions come quickly, and asks the last', async () => {
    const run = vi.fn((question: string) => Promise.resolve(question));
    const shown: string[] = [];
    const asking = latest<string, string>(100, run, (answer) => shown.push(answer));
    asking.ask('a');
    vi.advanceTimersByTime(60);
    asking.ask('ab');
    vi.advanceTimersByTime(60);
    asking.ask('abc');
    await vi.advanceTimersByTimeAsync(100);
    expect(run).toHaveBeenCalledTimes(1);
    expect(shown).toEqual(['abc']);
  });
  it('aborts an answer that was overtaken and never shows it', async () => {
    const { open, run } = slow();
    const shown: string[] = [];
    const asking = latest<string, string>(0, run, (answer) => shown.push(answer));
    asking.now('old');
    asking.now('new');
    expect(open.get('old')?.signal.aborted).toBe(true);
    open.get('old')?.give('old answer');
    open.get('new')?.give('new answer');
    await vi.runAllTimersAsync();
    expect(shown).toEqual(['new answer']);
  });
  it('drops an answer that arrives while a newer question still waits', async () => {
    const shown: string[] = [];
    let give: (answer: string) => void = () => {};
    const asking = latest<string, string>(100, () => new Promise((done) => (give = done)), (answer) => shown.push(answer));
    asking.now('old');
    asking.ask('new');
    give('old answer');
    await vi.advanceTimersByTimeAsync(50);
    expect(shown).toEqual([]);
  });
  it('shows nothing after it was stopped', async () => {
    const shown: string[] = [];
    const asking = latest<string, string>(10, (question) => Promise.resolve(question), (answer) => shown.push(answer));
    asking.ask('a');
    asking.stop();
    await vi.advanceTimersByTimeAsync(50);
    expect(shown).toEqual([]);
  });
});
