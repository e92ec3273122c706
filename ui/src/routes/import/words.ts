// routes/import/words.ts - what a table may become, and what an import amounts to, in words. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { ImportJob, ImportResult, Into } from '../../lib/api_import';
import { listed, plural } from '../../lib/words';

export const KINDS: readonly { into: Into; name: string; says: string; one: string; back: { href: string; text: string } }[] = [
  { into: 'pieces', name: 'Pieces', says: 'What you have, for the Cupboard.', one: 'piece', back: { href: '/cupboard', text: 'Cupboard' } },
  { into: 'sales', name: 'Sales', says: 'What was paid, for Worth.', one: 'sale', back: { href: '/worth/sales', text: 'Sales' } },
  { into: 'treatments', name: 'Treatments', says: 'A catalogue, for the Book.', one: 'treatment', back: { href: '/book/edit', text: 'Edit the Book' } },
];
export const kindOf = (into: string) => KINDS.find((kind) => kind.into === into) ?? KINDS[0]!;

export function summaryOf(result: ImportResult, one: string, trial: boolean): string {
  const would = trial ? 'would be ' : '';
  const parts = [
    result.added ? `${plural(result.added, one)} ${would}added` : '',
    result.changed ? `${plural(result.changed, one)} ${would}changed` : '',
    result.others ? `${plural(result.others, 'other thing')} (sales, services, letters) ${would}added or changed` : '',
    result.unchanged ? `${plural(result.unchanged, one)} ${trial ? 'would stay ' : ''}as they are` : '',
    result.duplicates.length ? `${plural(result.duplicates.length, 'row')} that ${result.duplicates.length === 1 ? 'is' : 'are'} there already` : '',
    result.skipped ? `${plural(result.skipped, 'row')} with a fault left out` : '',
  ].filter(Boolean);
  return parts.length ? `${listed(parts)}.` : 'Nothing to bring in.';
}

/** Whether there is anything to bring in, and nothing that forbids it. */
export const ready = (result: ImportResult, keepGood: boolean): boolean =>
  result.added + result.changed + result.others > 0 && (keepGood || result.faults === 0);

const STEPS: Record<string, string> = { reading: 'Reading', comparing: 'Comparing with what is there', storing: 'Storing' };
export function progressOf(job: ImportJob): string {
  const step = STEPS[job.step] ?? 'Beginning';
  if (job.of === 0) return `${step}…`;
  return job.step === 'storing' ? `${step} ${plural(job.of, 'row')}…` : `${step}: row ${job.done.toLocaleString('en')} of ${job.of.toLocaleString('en')}`;
}

/** The fields that any of the rows fills, in the order in which they first come. */
export const headsOf = (rows: readonly Record<string, string>[]): string[] => [...new Set(rows.flatMap((row) => Object.keys(row)))];

export const nameOfField = (field: string): string => {
  const words = field.replaceAll('_', ' ').replace(/ mm$/, ' (mm)').replace(/^decision /, 'decided ').replace(/ sure$/, ', how sure');
  return words.charAt(0).toUpperCase() + words.slice(1);
};
