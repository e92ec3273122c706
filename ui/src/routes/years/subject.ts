// routes/years/subject.ts - whose years: how the address names it, and where the Book keeps it. Pure.
// SPDX-License-Identifier: Apache-2.0

/** "ornament" -> "ornaments": the program names one thing, the Book's addresses name tables. */
export const tableOf = (kind: string): string => (kind.endsWith('s') ? kind : `${kind}s`);
export const yearsOf = (kind: string, id: string): string => `/years?of=${encodeURIComponent(`${kind}:${id}`)}`;
