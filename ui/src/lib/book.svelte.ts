// lib/book.svelte.ts - what every page needs of the Book: its vocabulary, fetched once, and rows by id as they are wanted.
// SPDX-License-Identifier: Apache-2.0
import { untrack } from 'svelte';
import { api, newEdition } from './api';
import { Loaded } from './loaded.svelte';
import { titleOf } from './rows';
import type { Row, TreatmentDetail, Vocabulary } from './types';

class BookState {
  words = new Loaded<Vocabulary>();
  #asked = false;
  #rows = $state.raw<Record<string, Row>>({});
  #wanted = new Set<string>();

  /** Begins reading; call it where a page is made. */
  open(): void {
    if (this.#asked && this.words.problems.length === 0) return;
    this.#asked = true;
    void this.words.run((signal) => api.vocabulary(signal));
  }
  /** The Book was edited: whatever was read of it is read again. */
  again(): void {
    newEdition();
    this.#rows = {};
    this.#wanted.clear();
    void this.words.again();
  }
  get vocabulary() {
    return this.words.value;
  }
  form(id: string | undefined) {
    return this.vocabulary?.forms.find((form) => form.id === id);
  }

  /** Asks for rows that are not here yet; they appear when they arrive. */
  wantRows(table: string, ids: readonly string[]): void {
    for (const id of ids) {
      const key = `${table}/${id}`;
      if (this.#wanted.has(key)) continue;
      this.#wanted.add(key);
      void api.row(table, id).then((answer) => {
        if (answer.ok) this.#rows = { ...untrack(() => this.#rows), [key]: answer.value };
        else this.#wanted.delete(key);
      });
    }
  }
  want(treatments: readonly string[]): void {
    this.wantRows('treatments', treatments);
  }
  treatment(id: string): TreatmentDetail | undefined {
    return this.#rows[`treatments/${id}`] as TreatmentDetail | undefined;
  }
  rowName(table: string, id: string): string | undefined {
    const row = this.#rows[`${table}/${id}`];
    return row && titleOf(row);
  }
}

export const book = new BookState();
