// routes/papers/ask.ts - what the form says, as the query of a paper; and what still has to be said first.
// SPDX-License-Identifier: Apache-2.0
import type { Query } from '../../lib/api';
import type { PaperKind } from '../../lib/types';

export type Asked = {
  table: 'ornament' | 'shape' | 'treatment'; id: string; form: string; pieces: string; lot: string; labels: 'shelf' | 'price';
  sheet: string; skip: string; prices: string; marks: string; rows: string; address: string; paper: 'a4' | 'letter';
  private: boolean; // private pieces and what was paid are in it
};

export const nothing: Asked = {
  table: 'ornament', id: '', form: '', pieces: '', lot: '', labels: 'shelf', sheet: '', skip: '', prices: '', marks: '', rows: '',
  address: '', paper: 'a4', private: false,
};

const list = (text: string, between: RegExp) => text.split(between).map((one) => one.trim()).filter((one) => one !== '');

/** The sentence that says what is missing; empty when the paper can be set. */
export function missing(kind: PaperKind, asked: Asked): string {
  if (kind.takes === 'subject' && asked.id === '') return 'Choose what it is about.';
  if (kind.kind === 'key' && asked.table === 'treatment') return 'One treatment needs no key: choose an ornament or a shape.';
  if (kind.takes === 'piece' && list(asked.pieces, /[\s,;]+/).length !== 1) return 'Name one piece.';
  return '';
}

/** Only what the kind of paper takes: an address says nothing that does not count. */
export function queryFor(kind: PaperKind, asked: Asked): Query {
  const query: Query = { paper: asked.paper === 'letter' ? 'letter' : '' };
  if (asked.private && kind.takes !== 'rows') query.private = true;
  if (kind.takes === 'subject') query.of = `${asked.table}:${asked.id}`;
  if (kind.kind === 'key') query.form = asked.form;
  if (kind.takes === 'pieces' || kind.takes === 'piece') query.piece = list(asked.pieces, /[\s,;]+/).join(',');
  if (kind.takes === 'pieces') query.lot = asked.lot;
  if (kind.kind === 'labels') {
    query.labels = asked.labels;
    query.sheet = asked.sheet;
    query.skip = asked.skip;
    query.address = asked.address;
    if (asked.labels === 'price') query.price = list(asked.prices, /[\n,;]+/).join(',');
  }
  if (kind.kind === 'condition') query.mark = list(asked.marks, /\n+/).join('|');
  // Without rows of one's own the program works them out from the sales and the services.
  if (kind.takes === 'rows') query.rows = asked.rows.trim();
  if (kind.kind === 'schedule' && !asked.rows.trim()) query.lot = asked.lot;
  return query;
}
