// lib/editing.svelte.ts - which packs can be edited, and the rows that pick-lists offer.
// SPDX-License-Identifier: Apache-2.0
import { api } from './api';
import { book } from './book.svelte';
import { callOf, type Cells } from './edits';
import { Loaded } from './loaded.svelte';
import { notices } from './notices.svelte';
import type { Answer, EditingInfo, EditPack } from './types';

export type Option = { id: string; name: string; trust: string };

class Editing {
  info = new Loaded<EditingInfo>();
  /** Grows when the Book changed, so that pages read again. */
  turned = $state(0);
  #asked = false;
  #lists = $state.raw<Record<string, Option[]>>({});
  #wanted = new Set<string>();

  open(): void {
    if (this.#asked && this.info.problems.length === 0) return;
    this.#asked = true;
    void this.info.run((signal) => api.editing(signal));
  }
  pack(id: string): EditPack | undefined {
    return this.info.value?.packs.find((pack) => pack.id === id);
  }

  /** The rows of these tables as `pack` would name them: bare in the pack itself, pack:id in others. */
  options(pack: string, tables: readonly string[]): Option[] {
    return tables.flatMap((table) => (this.info.value?.packs ?? []).flatMap((one) => this.#list(one.id, table, one.id === pack)));
  }
  #list(pack: string, table: string, own: boolean): Option[] {
    const key = `${pack}/${table}`;
    if (!this.#wanted.has(key)) {
      this.#wanted.add(key);
      void this.#fetch(pack, table, key);
    }
    const list = this.#lists[key] ?? [];
    return own ? list : list.map((option) => ({ ...option, id: `${pack}:${option.id}` }));
  }
  async #fetch(pack: string, table: string, key: string): Promise<void> {
    const all: Option[] = [];
    for (let offset = 0; ; offset += 1000) {
      const answer = await api.editRows(pack, table, { limit: 1000, offset });
      if (!answer.ok) return;
      for (const row of answer.value.rows) {
        const cells = row.cells as Cells;
        if (cells['id']) all.push({ id: cells['id'], name: callOf(cells), trust: cells['trust'] ?? '' });
      }
      if (offset + 1000 >= answer.value.total) break;
    }
    this.#lists = { ...this.#lists, [key]: all };
  }

  /** After anything changed a pack: whatever was read of it is read again. */
  changed(): void {
    this.#wanted.clear();
    this.turned += 1;
    void this.info.run((signal) => api.editing(signal));
    book.again();
  }
  undo(change: number): () => Promise<Answer<unknown>> {
    return async () => {
      const answer = await api.undoEdit(change);
      if (answer.ok) this.changed();
      return answer;
    };
  }
  async reload(): Promise<boolean> {
    const answer = await api.reloadPacks();
    if (answer.ok) {
      this.changed();
      notices.say('The packs were read again.');
    } else notices.fail('The packs could not be read; the Book stays as it was.', answer.problems);
    return answer.ok;
  }
}

export const editing = new Editing();
