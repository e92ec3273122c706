// lib/odds.ts - what the page works out from an answer before showing it. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Candidate, Difference, ExamineAnswer } from './types';

export type Group = { members: Candidate[]; unlistedTwins: string[]; probability: number };

/** Candidates in their order, twins drawn together: no look at this form can tell the members of a group apart. */
export function grouped(candidates: readonly Candidate[]): Group[] {
  const groups: Group[] = [];
  const placed = new Set<string>();
  for (const candidate of candidates) {
    if (placed.has(candidate.treatment)) continue;
    const twins = candidate.twins ?? [];
    const members = candidates.filter(
      (other) => other === candidate || (twins.includes(other.treatment) && !placed.has(other.treatment)),
    );
    for (const member of members) placed.add(member.treatment);
    groups.push({
      members,
      unlistedTwins: twins.filter((id) => !members.some((member) => member.treatment === id)),
      probability: members.reduce((sum, member) => sum + member.probability, 0),
    });
  }
  return groups;
}

/** Doubt over the treatments that is left, in bits; the yardstick for what a next look would tell. */
export function doubt(answer: ExamineAnswer): number {
  const all = [...candidatesByTwins(answer.candidates), answer.open.unlisted, answer.open.elsewhere];
  return all.reduce((bits, p) => (p > 0 ? bits - p * Math.log2(p) : bits), 0);
}
const candidatesByTwins = (candidates: readonly Candidate[]) => candidates.map((candidate) => candidate.probability);

/** Places at which the shown candidates differ; what is not a place (shape, glaze) is left to words. */
export const pickedOut = (differences: readonly Difference[], places: readonly string[]): string[] =>
  differences.map((difference) => difference.look).filter((look) => places.includes(look));

/** What one candidate carries where it differs from the first; for "why not this one?". */
export function differsFromFirst(differences: readonly Difference[], index: number): { look: string; here: string; first: string }[] {
  return differences.flatMap(({ look, values }) => {
    const here = values[index];
    const first = values[0];
    return here !== undefined && first !== undefined && here !== first ? [{ look, here, first }] : [];
  });
}
