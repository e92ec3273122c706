// routes/care/sheet.ts - the sheet of a laboratory's results as one fills it in. Pure.
//   in      text as typed: "1.2", "1,2", "<0.02", or nothing (not measured)
//   out     what /api/care/leach takes; blank lines are left out, so that six lines can stand ready
// SPDX-License-Identifier: Apache-2.0
import type { LeachAsked, LeachVerdict } from '../../lib/types';

export const COLUMNS = ['lead_mg_per_l', 'cadmium_mg_per_l', 'lead_mg_per_dm2', 'cadmium_mg_per_dm2'] as const;
export type Column = (typeof COLUMNS)[number];
export type Unit = { unit: string } & Record<Column, string>;
export type Vessel = { depth: string; volume: string; category: string };

export const blankUnit = (unit: string): Unit => ({ unit, lead_mg_per_l: '', cadmium_mg_per_l: '', lead_mg_per_dm2: '', cadmium_mg_per_dm2: '' });
/** The next unused number as a name. */
export const nextName = (units: readonly Unit[]): string => {
  let number = units.length + 1;
  while (units.some(({ unit }) => unit === String(number))) number += 1;
  return String(number);
};

// A comma is how many people write a decimal point; nobody measures thousands here.
const figure = (text: string): string => text.trim().replace(/^(<?\s*\d+),(\d+)$/, '$1.$2');
const size = (text: string): number | undefined => {
  const number = Number(figure(text));
  return text.trim() === '' || !Number.isFinite(number) ? undefined : number;
};

export function faults({ depth, volume }: Vessel, units: readonly Unit[], csv: string): string[] {
  const out: string[] = [];
  for (const [text, name] of [[depth, 'depth'], [volume, 'volume']] as const) {
    if (text.trim() !== '' && !(size(text) !== undefined && Number(figure(text)) >= 0)) out.push(`The ${name} “${text.trim()}” is not a number: write it without its unit, as in 24.5.`);
  }
  if (csv.trim() === '' && !units.some(measured)) out.push('No unit has a result yet: enter what the laboratory measured, or paste its table.');
  return out;
}
export const measured = (unit: Unit): boolean => COLUMNS.some((column) => unit[column].trim() !== '');

export function askedOf(vessel: Vessel, units: readonly Unit[], csv: string): LeachAsked {
  const asked: LeachAsked = { category: vessel.category };
  const depth = size(vessel.depth);
  const volume = size(vessel.volume);
  if (depth !== undefined) asked.depth_mm = depth;
  if (volume !== undefined) asked.volume_ml = volume;
  if (csv.trim() !== '') return { ...asked, csv };
  asked.units = units.filter(measured).map((unit) => ({
    unit: unit.unit.trim(),
    ...Object.fromEntries(COLUMNS.filter((column) => unit[column].trim() !== '').map((column) => [column, figure(unit[column])])),
  }));
  return asked;
}

export type Group = { title: string; verdicts: LeachVerdict[] };
/** Per volume, per area and per day kept apart, limits in force before earlier ones. */
export function grouped(verdicts: readonly LeachVerdict[]): Group[] {
  const kinds: [string, string][] = [['mg/L', 'Per volume'], ['mg/dm2', 'Per area'], ['', 'What a person takes in']];
  const unitOf = (unit: string) => (unit.includes('dm') ? 'mg/dm2' : unit === 'mg/L' ? 'mg/L' : '');
  return [true, false].flatMap((inForce) =>
    kinds.map(([unit, title]) => ({
      title: inForce ? title : `${title}: earlier levels, for comparison`,
      verdicts: verdicts.filter((one) => one.in_force === inForce && unitOf(one.unit) === unit),
    }))).filter(({ verdicts: some }) => some.length > 0);
}
/** "mg/dm2" -> "mg/dm²". */
export const unitWords = (text: string): string => text.replace(/\bdm2\b/g, 'dm²').replace(/\bug\b/g, 'µg');

/** Fail before cannot tell before pass, in one sentence; it never says more than the rules do. */
export function summary(verdicts: readonly LeachVerdict[]): string {
  const now = verdicts.filter((one) => one.in_force);
  const of = (verdict: string) => now.filter((one) => one.verdict === verdict).length;
  const limits = (n: number) => (n === 1 ? '1 limit' : `${n} limits`);
  const parts = [
    of('fail') && `${limits(of('fail'))} not met`,
    of('cannot tell') && `${limits(of('cannot tell'))} about which these results cannot tell`,
    of('pass') && `${limits(of('pass'))} met`,
  ].filter((part): part is string => typeof part === 'string');
  return parts.length ? `${parts.join(', ')}.`.replace(/^./, (c) => c.toUpperCase()) : 'No limit in force fits this vessel.';
}
