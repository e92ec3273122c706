// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Answer, Cautions, LeachVerdict } from '../../lib/types';
import { countCautions } from './overview';
import { askedOf, blankUnit, faults, grouped, nextName, summary, unitWords } from './sheet';

const vessel = { depth: '', volume: '', category: 'table' };
const verdict = (verdict: string, unit = 'mg/L', in_force = true): LeachVerdict => ({
  authority: 'A', document: 'D', substance: 'lead', category: 'flat', limit: 1, unit, rule: 'r', verdict, because: 'b', value_verified: true, rule_verified: true, in_force, note: '',
});

describe('The sheet of results', () => {
  it('leaves out lines without a result, and what was not measured', () => {
    const units = [{ ...blankUnit('A'), lead_mg_per_l: ' 1.2 ', cadmium_mg_per_l: '<0.02' }, blankUnit('B')];
    expect(askedOf({ ...vessel, depth: '24,5' }, units, '')).toEqual({ category: 'table', depth_mm: 24.5, units: [{ unit: 'A', lead_mg_per_l: '1.2', cadmium_mg_per_l: '<0.02' }] });
  });
  it('takes a decimal comma, also below what can be measured', () => {
    expect(askedOf(vessel, [{ ...blankUnit('A'), lead_mg_per_dm2: '<0,05' }], '').units).toEqual([{ unit: 'A', lead_mg_per_dm2: '<0.05' }]);
  });
  it('sends a pasted table instead of the lines', () => {
    expect(askedOf(vessel, [{ ...blankUnit('A'), lead_mg_per_l: '1' }], 'unit,lead_mg_per_l\nA,1')).toEqual({ category: 'table', csv: 'unit,lead_mg_per_l\nA,1' });
  });
  it('says every fault of its own at once', () => {
    expect(faults({ ...vessel, depth: 'deep', volume: '-3' }, [blankUnit('A')], '')).toEqual([
      'The depth “deep” is not a number: write it without its unit, as in 24.5.', 'The volume “-3” is not a number: write it without its unit, as in 24.5.',
      'No unit has a result yet: enter what the laboratory measured, or paste its table.',
    ]);
  });
  it('names a new line as no other is named', () => expect(nextName([blankUnit('1'), blankUnit('3')])).toBe('4'));
});

describe('The verdicts', () => {
  it('are kept apart per volume, per area, per day, and from earlier levels', () => {
    const groups = grouped([verdict('pass', 'mg/dm2'), verdict('fail', 'mg/L', false), verdict('fail'), verdict('cannot tell', 'ug/day')]);
    expect(groups.map(({ title, verdicts }) => [title, verdicts.length])).toEqual([
      ['Per volume', 1], ['Per area', 1], ['What a person takes in', 1], ['Per volume: earlier levels, for comparison', 1],
    ]);
  });
  it('are summed up with the worst first, and never as safe', () => {
    const said = summary([verdict('pass'), verdict('pass'), verdict('fail'), verdict('cannot tell'), verdict('pass', 'mg/L', false)]);
    expect(said).toBe('1 limit not met, 1 limit about which these results cannot tell, 2 limits met.');
    expect(said).not.toMatch(/safe/i);
    expect(summary([])).toBe('No limit in force fits this vessel.');
  });
  it('have their units in print', () => expect([unitWords('mg/dm2'), unitWords('ug/day'), unitWords('mg/L')]).toEqual(['mg/dm²', 'µg/day', 'mg/L']));
});

describe('The cautions of the cupboard', () => {
  const of = (...ids: string[]): Answer<Cautions> => ({ ok: true, value: { piece: '', defers: '', cautions: ids.map((id) => ({ id, title: id, text: '', because: [], chance: 1, sources: [] })) } });
  it('are counted over all pieces, most frequent first', async () => {
    const answers: Record<string, Answer<Cautions>> = { a: of('metal'), b: of('metal', 'glaze'), c: of('metal') };
    const told: number[] = [];
    const { tallies, done } = await countCautions(['a', 'b', 'c'], async (id) => answers[id] ?? of(), (at) => told.push(at.done), () => false, 2);
    expect(done).toBe(3);
    expect(told).toEqual([1, 2, 3]);
    expect(tallies.map(({ id, pieces }) => [id, pieces])).toEqual([['metal', ['a', 'b', 'c']], ['glaze', ['b']]]);
  });
  it('stop when asked and keep what was counted', async () => {
    let asked = 0;
    const { done, of: all } = await countCautions(['a', 'b', 'c', 'd'], async () => (asked++, of('metal')), () => {}, () => asked >= 2, 1);
    expect([done, all]).toEqual([2, 4]);
  });
  it('give up when the program keeps failing, and say why', async () => {
    const broken: Answer<Cautions> = { ok: false, problems: [{ code: 'x', where: '', what: 'No.', remedy: '' }] };
    const { done, problems } = await countCautions(Array.from({ length: 50 }, (_, i) => String(i)), async () => broken, () => {}, () => false, 1);
    expect(done).toBe(5);
    expect(problems).toHaveLength(5);
  });
});
