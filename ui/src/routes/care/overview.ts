// routes/care/overview.ts - which cautions the pieces of the cupboard call for, counted piece by piece.
//   Asks a few at a time, tells how far it is, stops when it is asked to; what was counted until then stays.
// SPDX-License-Identifier: Apache-2.0
import type { Answer, Caution, Cautions, Problem } from '../../lib/types';

export type Tally = { id: string; title: string; text: string; pieces: string[] };
export type Progress = { done: number; of: number; tallies: Tally[]; problems: Problem[] };

export async function countCautions(
  pieces: readonly string[], ask: (id: string) => Promise<Answer<Cautions>>, tell: (progress: Progress) => void, stopped: () => boolean, atOnce = 4,
): Promise<Progress> {
  const tallies = new Map<string, Tally>();
  const problems: Problem[] = [];
  let done = 0;
  let next = 0;
  const progress = (): Progress => ({
    done, of: pieces.length, problems,
    tallies: [...tallies.values()].map((one) => ({ ...one, pieces: [...one.pieces].sort() })).sort((a, b) => b.pieces.length - a.pieces.length || (a.title < b.title ? -1 : 1)),
  });
  const add = (piece: string, { id, title, text }: Caution) => {
    const tally = tallies.get(id) ?? { id, title, text, pieces: [] };
    tally.pieces.push(piece);
    tallies.set(id, tally);
  };
  const work = async () => {
    for (;;) {
      const piece = pieces[next];
      if (piece === undefined || stopped() || problems.length >= 5) return;
      next += 1;
      const answer = await ask(piece);
      if (answer.ok) for (const caution of answer.value.cautions) add(piece, caution);
      else problems.push(...answer.problems);
      done += 1;
      tell(progress());
    }
  };
  await Promise.all(Array.from({ length: atOnce }, work));
  return progress();
}
