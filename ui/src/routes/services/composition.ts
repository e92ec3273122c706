// routes/services/composition.ts - a composition as a form holds it: text in the fields, a key for each line. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Composition, Line } from '../../lib/api_services';
import type { Named, Problem } from '../../lib/types';

export type DraftLine = { key: number; forms: string[]; count: string; name: string; trade_size: string };
export type DraftList = { setting: DraftLine[]; serving: DraftLine[] };

let made = 0;
export const blankLine = (): DraftLine => ({ key: ++made, forms: [], count: '1', name: '', trade_size: '' });

const bare = (word: string) => word.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
/** The form that a word of a composition stands for: its id or its name, as the program reads them. Terms of the AAT stand
    for no one form. */
export const formCalled = <F extends Named>(word: string, forms: readonly F[]): F | undefined =>
  forms.find((form) => form.id === word) ?? forms.find((form) => bare(form.name) === bare(word) || bare(form.id) === bare(word));

export function moved<T>(list: readonly T[], at: number, by: 1 | -1): T[] {
  const out = [...list];
  const [one] = out.splice(at, 1);
  if (one !== undefined) out.splice(at + by, 0, one);
  return out;
}

const draftLine = (line: Line): DraftLine => ({
  key: ++made, forms: [...line.forms], count: String(line.count ?? 1), name: line.name ?? '', trade_size: line.trade_size ?? '',
});
export const draftOf = ({ setting, serving }: Pick<Composition, 'setting' | 'serving'>): DraftList => ({ setting: setting.map(draftLine), serving: serving.map(draftLine) });

/** A copy to be changed: only forms that the open packs have, since a line of one's own has to have one of them. */
export function copied(composition: Composition, forms: readonly Named[]): { draft: DraftList; left: string[] } {
  const left: string[] = [];
  const lines = (list: readonly Line[]) =>
    list.map(draftLine).flatMap((line) => {
      const known = [...new Set(line.forms.flatMap((word) => formCalled(word, forms)?.id ?? []))]; // two words may name one form
      if (known.length === 0) left.push(line.name || line.forms[0] || '');
      return known.length ? [{ ...line, forms: known }] : [];
    });
  const draft = { setting: lines(composition.setting), serving: lines(composition.serving) };
  return { draft, left };
}

/** The lines as the program takes them, and what has to be mended first. */
export function linesOf(draft: DraftList): { setting: Line[]; serving: Line[]; problems: Problem[] } {
  const problems: Problem[] = [];
  const lines = (list: readonly DraftLine[], part: string) =>
    list.map((line, i) => {
      const where = `${part}, line ${i + 1}`;
      const count = Number(line.count.trim());
      if (!Number.isInteger(count) || count < 1) problems.push({ code: 'bad-input', where, what: `“${line.count}” is no number of pieces.`, remedy: 'Write a whole number from 1 on.' });
      if (line.forms.length === 0) problems.push({ code: 'bad-input', where, what: 'No form is chosen.', remedy: 'Choose one, or remove the line.' });
      const out: Line = { forms: line.forms, count };
      if (line.name.trim()) out.name = line.name.trim();
      if (line.trade_size.trim()) out.trade_size = line.trade_size.trim();
      return out;
    });
  const setting = lines(draft.setting, 'For each person');
  const serving = lines(draft.serving, 'For all together');
  return { setting, serving, problems };
}
