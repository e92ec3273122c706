// routes/services/words.ts - places, goals and allotments in words, and a table that nothing was allotted to yet. Pure.
// SPDX-License-Identifier: Apache-2.0
import type { Job, Place, PlaceState, Prices, ServiceRecord, Table, Wants } from '../../lib/api_services';
import type { Named } from '../../lib/types';
import { money, plural } from '../../lib/words';
import { price as sharp } from '../worth/words';

/** Each state has its word and its sign: none is told by colour. */
export const STATES: Record<PlaceState, { word: string; sign: string; says: string }> = {
  filled: { word: 'filled', sign: '●', says: 'a piece of yours stands here' },
  interchangeable: { word: 'interchangeable', sign: '=', says: 'this piece looks like those of another treatment and may change places' },
  doubtful: { word: 'doubtful', sign: '?', says: 'a piece stands here that may be something else' },
  missing: { word: 'missing', sign: '○', says: 'nothing you have can stand here' },
  bought: { word: 'to buy', sign: '+', says: 'would be bought within the budget' },
};
export const OBJECTIVES: [string, string, string][] = [
  ['settings', 'Complete settings', 'as many people as possible can sit down to a complete setting'],
  ['services', 'Whole services', 'as many services as possible are whole, with their serving pieces'],
  ['value', 'Value', 'complete settings weighed by what each is worth'],
  ['purchase', 'With purchases', 'what to buy within a budget to complete most'],
];
export const objectiveName = (objective: string): string => OBJECTIVES.find(([id]) => id === objective)?.[1] ?? objective;

export const running = (job: Job | undefined): boolean => job?.state === 'waiting' || job?.state === 'working';

/** "3 of 6 settings complete, 21 of 26 places filled". */
export const tableWords = ({ complete, settings, filled, places }: Pick<Table, 'complete' | 'settings' | 'filled' | 'places'>): string =>
  `${settings ? `${complete} of ${plural(settings, 'setting')} complete, ` : ''}${filled} of ${plural(places, 'place')} filled`;

export function progressWords(job: Job): string {
  const { progress } = job;
  if (job.state === 'waiting') return 'Waiting for another allotment to end.';
  if (!progress) return 'Beginning…';
  return `Goal ${progress.at} of ${progress.of}: ${progress.goal}; ${plural(progress.nodes, 'try', 'tries')}, ${Math.round(progress.seconds)} s`;
}

/** The table of a service before anything was allotted: every place open. */
export function emptyTable(record: ServiceRecord): Table {
  const settings = record.service.settings ?? record.composition?.settings ?? 0;
  const place = (line: number): Place => {
    const of = record.lines[line];
    return { line, name: of?.name ?? '', form: of?.forms[0] ?? null, state: 'missing', piece: null, odds: null, insisted: false, why: 'Nothing was allotted yet.', treatment: null };
  };
  const places = (inSetting: boolean): Place[] =>
    record.lines.flatMap((line, i) => (line.in_setting === inSetting ? Array.from({ length: line.count }, () => place(i)) : []));
  return {
    service: { id: record.service.id, name: record.service.name }, treatments: record.treatments, complete: 0, settings, filled: 0,
    places: record.places, whole: false, lines: record.lines,
    table: Array.from({ length: settings }, (_, i) => ({ setting: i + 1, complete: false, places: places(true) })), serving: places(false),
  };
}

/** Serves for insisting on a piece and refusing it: a piece is never in both. */
export function withPiece(insist: readonly string[], refuse: readonly string[], piece: string, how: 'insist' | 'refuse' | 'free'): { insist: string[]; refuse: string[] } {
  const rest = (list: readonly string[]) => list.filter((one) => one !== piece);
  return { insist: how === 'insist' ? [...rest(insist), piece] : rest(insist), refuse: how === 'refuse' ? [...rest(refuse), piece] : rest(refuse) };
}

/** The forms of a wants list, those of which most are wanted first. */
export function wantedForms(wants: Wants): { form: Named; count: number }[] {
  const all = new Map<string, { form: Named; count: number }>();
  for (const { form, count } of wants.list) all.set(form.id, { form, count: (all.get(form.id)?.count ?? 0) + count });
  return [...all.values()].sort((a, b) => b.count - a.count);
}

/** "38 USD, nine in ten 24 to 60", as whole amounts when it is an estimate. */
export function priceWords({ price, low, high }: { price: number; low: number | null; high: number | null }, currency: string): string {
  const figure = (amount: number) => (low === null ? amount.toFixed(2) : amount < 9.95 ? amount.toFixed(1) : Math.round(amount).toLocaleString('en-GB'));
  const about = `${figure(price)}${currency ? `\u00a0${currency}` : ''}`;
  return low === null || high === null ? about : `${about} (${figure(low)} to ${figure(high)})`;
}

/** A sum of prices, no more exactly than they are known. */
export const sumWords = (amount: number, { currency, basis }: Prices): string => (basis ? sharp(amount, currency) : money(amount, currency));
