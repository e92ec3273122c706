// routes/book/tables.ts - the tables of the Book as the pages show them. To add a table: one line here.
// SPDX-License-Identifier: Apache-2.0

export type Table = { name: string; title: string; one: string; says: string; columns: readonly string[] };

export const TABLES: readonly Table[] = [
  { name: 'treatments', title: 'Treatments', one: 'treatment', says: 'shape, glaze and decoration under one number', columns: ['shape', 'glaze', 'grade'] },
  { name: 'ornaments', title: 'Ornaments', one: 'ornament', says: 'stamps, decals, lines and bands', columns: ['kind', 'finish', 'supplier'] },
  { name: 'shapes', title: 'Shapes', one: 'shape', says: 'the lines of a maker', columns: ['maker'] },
  { name: 'forms', title: 'Forms', one: 'form', says: 'plate, baker, sauce boat', columns: ['ware', 'outline'] },
  { name: 'glazes', title: 'Glazes', one: 'glaze', says: 'the ground, with its colour', columns: ['maker', 'uranium'] },
  { name: 'makers', title: 'Makers', one: 'maker', says: 'potteries, decorators, suppliers', columns: ['role', 'place'] },
  { name: 'marks', title: 'Marks', one: 'mark', says: 'what is stamped underneath', columns: ['maker', 'grade'] },
  { name: 'code-schemes', title: 'Date codes', one: 'date code', says: 'how makers coded their dates', columns: ['pattern'] },
  { name: 'dated-uses', title: 'Dated uses', one: 'dated use', says: 'when something is attested', columns: ['subject', 'kind', 'date'] },
  { name: 'statements', title: 'Statements', one: 'statement', says: 'what sources claim, for and against', columns: ['subject', 'property', 'value', 'stance'] },
  { name: 'sources', title: 'Sources', one: 'source', says: 'where all of it stands', columns: ['kind', 'creator', 'date', 'trust'] },
];

export const tableNamed = (name: string): Table | undefined => TABLES.find((table) => table.name === name);

/** Counts may be keyed "dated_uses" or "dated-uses". */
export const countOf = (counts: Record<string, number>, name: string): number | undefined =>
  counts[name] ?? counts[name.replaceAll('-', '_')];
