// A row while it is edited. SPDX-License-Identifier: Apache-2.0
import { changed, type Cells, type RowEdit } from '../../../../../../lib/edits';

export type Draft = { key: string; table: string; line?: number; was: Cells; cells: Cells; gone?: boolean };

/** The edit that makes the file say what the form says; nothing when it does so already. */
export function editOf(draft: Draft): RowEdit | undefined {
  const { table, line, was } = draft;
  if (line === undefined) return draft.gone ? undefined : { table, do: 'add', cells: changed({}, draft.cells) };
  if (draft.gone) return { table, do: 'remove', line, was };
  const cells = changed(was, draft.cells);
  return Object.keys(cells).length ? { table, do: 'change', line, was, cells } : undefined;
}
