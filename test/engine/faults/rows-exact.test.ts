/** From readings to cells, rows and their classes, and errors that commissioning passes: each step by itself, by hand. */
import type { Fault, FaultCell, FaultClass, FaultRow, FaultSpread, FaultVariant } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { caseCell, isWorse, type Read, reports, restCell, unite } from '../../../packages/engine/src/faults/answers.ts';
import { doingsOf, nameOfVariant, together } from '../../../packages/engine/src/faults/effects.ts';
import { notePassed, passedErrors } from '../../../packages/engine/src/faults/fitting.ts';
import type { Judged } from '../../../packages/engine/src/faults/judged.ts';
import { classOf, grouped, isWorseRow, sameReads } from '../../../packages/engine/src/faults/rows.ts';
import { FAULT_WORDS, faultWord } from '../../../packages/engine/src/faults/words.ts';
import { SiteBuilder } from '../../support/site.ts';

const exactly = (ohms: number): FaultSpread => ({ least: ohms, usual: ohms, most: ohms });
const spread = (least: number, usual: number, most: number): FaultSpread => ({ least, usual, most });

const reads = (...possible: readonly (string | undefined)[]): Read => ({ usual: possible[0], possible });
const unread: Read = { usual: undefined, possible: [], reason: 'a datum is missing' };

const cell = (answer: FaultCell['answer'], facts: Partial<FaultCell> = {}): FaultCell => ({
  possible: ['normal'],
  usual: 'normal',
  answer,
  certain: true,
  ...facts,
});

const fault = (id: number, facts: Partial<Fault> = {}): Fault => ({
  id,
  group: 'service',
  word: 'cut',
  component: id,
  name: `F${id}`,
  origin: -1,
  variants: [],
  ...facts,
});

const row = (name: FaultRow['class'], facts: Partial<FaultRow> = {}): FaultRow => ({
  fault: fault(1),
  class: name,
  rest: cell('quiet'),
  cells: [],
  variant: { changes: [] },
  group: 0,
  unchanged: false,
  usualOnly: false,
  ...facts,
});

describe('what a zone answers', () => {
  test('at rest: quiet while it may still show its class of rest, announced where it certainly does not', () => {
    expect(restCell(reads('normal'), 'normal')).toEqual({
      usual: 'normal',
      possible: ['normal'],
      answer: 'quiet',
      certain: true,
    });
    expect(restCell(reads('alarm'), 'normal')).toMatchObject({ answer: 'announced', certain: true });
    expect(restCell(reads('alarm', 'normal'), 'normal')).toMatchObject({ answer: 'quiet', certain: false });
    expect(restCell(reads('normal', 'alarm'), 'normal')).toMatchObject({ answer: 'quiet', certain: false });
    expect(restCell(reads(undefined), 'normal')).toEqual({ possible: [undefined], answer: 'announced', certain: true });
  });

  test('keeps the ohms and volts that it reads', () => {
    const read: Read = { ...reads('normal'), ohms: exactly(2200), volts: spread(1, 2, 3) };
    expect(restCell(read, 'normal')).toMatchObject({ ohms: exactly(2200), volts: spread(1, 2, 3) });
    expect(Object.keys(restCell(reads('normal'), 'normal'))).not.toContain('ohms');
  });

  test('where nothing is read, says why', () => {
    expect(restCell(unread, 'normal')).toEqual({
      possible: [],
      answer: 'not-evaluated',
      certain: true,
      reason: 'a datum is missing',
    });
    expect(restCell({ usual: undefined, possible: [] }, 'normal').reason).toBe('the zone has no bands');
  });

  const inCase = (expected: string, ...at: readonly Read[]) =>
    caseCell((instant) => at[instant]!, [{ expected, at: at.map((_, i) => i) }], 'normal');

  test('in a case: blind where it shows rest, misread where it shows something else, quiet where it arrives', () => {
    expect(inCase('alarm', reads('normal')).answer).toBe('blind');
    expect(inCase('alarm', reads('open')).answer).toBe('misread');
    expect(inCase('alarm', reads(undefined)).answer).toBe('misread');
    expect(inCase('alarm', reads('alarm')).answer).toBe('quiet');
    expect(inCase('alarm', reads('alarm', 'open'))).toMatchObject({ answer: 'misread', certain: false });
    expect(inCase('alarm', reads('alarm', 'open', 'normal'))).toMatchObject({ answer: 'blind', certain: false });
  });

  test('of one event at several instants the best counts', () => {
    expect(inCase('alarm', reads('normal'), reads('alarm'), reads('open')).answer).toBe('quiet');
    expect(inCase('alarm', reads('normal'), reads('open')).answer).toBe('misread');
    // What could not be computed is better than a certain loss, and worse than anything that arrives as another class.
    expect(inCase('alarm', reads('normal'), unread).answer).toBe('not-evaluated');
    expect(inCase('alarm', unread, reads('open')).answer).toBe('misread');
  });

  test('of several events the worst counts', () => {
    const at = [reads('alarm'), reads('alarm'), reads('normal'), unread];
    const of = (...events: readonly (readonly [string, number])[]) =>
      caseCell(
        (instant) => at[instant]!,
        events.map(([expected, one]) => ({ expected, at: [one] })),
        'normal',
      ).answer;
    expect(of(['alarm', 0], ['open', 1])).toBe('misread');
    expect(of(['open', 1], ['alarm', 0])).toBe('misread');
    expect(of(['open', 1], ['alarm', 2])).toBe('blind');
    expect(of(['alarm', 2], ['alarm', 3])).toBe('blind');
    expect(of(['open', 1], ['alarm', 3])).toBe('not-evaluated');
  });

  test('without an event nothing is judged', () => {
    const none = { possible: [], answer: 'not-evaluated', certain: true, reason: 'nothing is expected' };
    expect(caseCell(() => reads('normal'), [], 'normal')).toEqual(none);
    expect(caseCell(() => reads('normal'), [{ expected: 'alarm', at: [] }], 'normal')).toEqual(none);
  });

  test('classes that are reported together say each of them, and more than is expected', () => {
    expect(reports('alarm', 'alarm')).toBe(true);
    expect(reports('alarm+masked', 'alarm')).toBe(true);
    expect(reports('masked+alarm', 'alarm+masked')).toBe(true);
    expect(reports('alarm', 'alarm+masked')).toBe(false);
    expect(reports('alarms', 'alarm')).toBe(false);
  });

  test('worse is blind than misread, misread than quiet, quiet than announced', () => {
    const order: readonly FaultClass[] = ['announced', 'quiet', 'misread', 'blind'];
    order.forEach((one, i) => {
      order.forEach((other, j) => {
        expect(isWorse(one, other)).toBe(i > j);
      });
    });
  });
});

describe('either of several readings', () => {
  test('has the widest spread, the usual figure of the first and every class once', () => {
    const first: Read = { ...reads('normal', 'alarm'), ohms: spread(20, 30, 40), volts: spread(2, 3, 4) };
    const second: Read = { ...reads('alarm', undefined), ohms: spread(10, 35, 38), volts: spread(2.5, 2.6, 9) };
    expect(unite([first, second])).toEqual({
      ohms: spread(10, 30, 40),
      volts: spread(2, 3, 9),
      usual: 'normal',
      possible: ['normal', 'alarm', undefined],
    });
  });

  test('has no figure that one of them has not, and is the only one where there is one', () => {
    const known: Read = { ...reads('normal'), ohms: exactly(1), volts: exactly(2) };
    expect(unite([known, { ...reads('alarm'), volts: exactly(3) }])).toEqual({
      volts: spread(2, 2, 3),
      usual: 'normal',
      possible: ['normal', 'alarm'],
    });
    expect(unite([known])).toBe(known);
    expect(unite([])).toEqual({ usual: undefined, possible: [] });
  });
});

describe('the class of a row', () => {
  const columns = [{ name: 'one' }, { name: 'two' }, { name: 'three' }];

  test('is announced where rest says so, whatever the cases say', () => {
    expect(classOf(cell('announced'), [cell('blind')], columns)).toEqual({ class: 'announced' });
  });

  test('is not evaluated where rest is not, with its reason if there is one', () => {
    expect(classOf(cell('not-evaluated', { reason: 'r' }), [cell('blind')], columns)).toEqual({
      class: 'not-evaluated',
      reason: 'r',
    });
    expect(classOf(cell('not-evaluated'), [cell('blind')], columns)).toEqual({ class: 'not-evaluated' });
  });

  test('is the worst of the cases, the first of them where several are as bad', () => {
    expect(classOf(cell('quiet'), [cell('quiet'), cell('quiet')], columns)).toEqual({ class: 'quiet' });
    expect(classOf(cell('quiet'), [cell('misread'), cell('blind'), cell('blind')], columns)).toEqual({
      class: 'blind',
      caseName: 'two',
    });
    expect(classOf(cell('quiet'), [cell('quiet'), cell('quiet'), cell('misread')], columns)).toEqual({
      class: 'misread',
      caseName: 'three',
    });
  });

  test('is not evaluated where a case is not, unless another is blind', () => {
    const lacking = cell('not-evaluated', { reason: 'needs limit' });
    expect(classOf(cell('quiet'), [cell('misread'), lacking], columns)).toEqual({
      class: 'not-evaluated',
      reason: 'needs limit',
    });
    expect(classOf(cell('quiet'), [lacking, cell('blind')], columns)).toEqual({ class: 'blind', caseName: 'two' });
    expect(classOf(cell('quiet'), [cell('not-evaluated'), lacking], columns).reason).toBe('a datum is missing');
  });

  test('is not evaluated where no case says what should arrive', () => {
    expect(classOf(cell('quiet'), [], [])).toEqual({
      class: 'not-evaluated',
      reason: 'no case says what should arrive',
    });
  });
});

describe('the worse of two ways in which a fault can stand', () => {
  const worse = (one: FaultRow['class'], other: FaultRow['class']) => isWorseRow(row(one), row(other));

  test('is that of the worse class', () => {
    expect([worse('blind', 'misread'), worse('misread', 'blind')]).toEqual([true, false]);
    expect([worse('quiet', 'announced'), worse('announced', 'quiet')]).toEqual([true, false]);
    expect(worse('blind', 'blind')).toBe(false);
  });

  test('what is not evaluated stands below blind and above all others', () => {
    expect([worse('blind', 'not-evaluated'), worse('not-evaluated', 'blind')]).toEqual([true, false]);
    expect([worse('not-evaluated', 'misread'), worse('misread', 'not-evaluated')]).toEqual([true, false]);
    expect(worse('not-evaluated', 'not-evaluated')).toBe(false);
  });

  test('of two quiet ones that which changes a reading', () => {
    const [still, moved] = [row('quiet', { unchanged: true }), row('quiet', { unchanged: false })];
    expect([isWorseRow(moved, still), isWorseRow(still, moved)]).toEqual([true, false]);
    expect([isWorseRow(moved, moved), isWorseRow(still, still)]).toEqual([false, false]);
    expect(isWorseRow(row('blind', { unchanged: false }), row('blind', { unchanged: true }))).toBe(false);
  });
});

describe('rows that are electrically one', () => {
  const ohms = (...values: readonly number[]) => values.map((value) => cell('quiet', { ohms: exactly(value) }));

  test('read the same to a part in a thousand million', () => {
    expect(sameReads(ohms(2200, 6900), ohms(2200, 6900))).toBe(true);
    expect(sameReads(ohms(2200, 6900), ohms(2200, 6900.1))).toBe(false);
    expect(sameReads(ohms(1e9), ohms(1e9 + 0.9))).toBe(true);
    expect(sameReads(ohms(1e9), ohms(1e9 + 1.1))).toBe(false);
    expect(sameReads(ohms(-1e9), ohms(-1e9 - 0.9))).toBe(true);
    expect(sameReads(ohms(Number.POSITIVE_INFINITY), ohms(Number.POSITIVE_INFINITY))).toBe(true);
    expect(sameReads(ohms(1), [cell('quiet')])).toBe(false);
    expect(sameReads([cell('quiet')], [cell('quiet')])).toBe(true);
  });

  test('at least, usual and most, in class and in volts', () => {
    const of = (facts: Partial<FaultCell>) => [cell('quiet', facts)];
    const base = { ohms: spread(1, 2, 3), volts: spread(4, 5, 6) };
    expect(sameReads(of(base), of({ ...base }))).toBe(true);
    expect(sameReads(of(base), of({ ...base, ohms: spread(0.9, 2, 3) }))).toBe(false);
    expect(sameReads(of(base), of({ ...base, ohms: spread(1, 2.1, 3) }))).toBe(false);
    expect(sameReads(of(base), of({ ...base, ohms: spread(1, 2, 3.1) }))).toBe(false);
    expect(sameReads(of(base), of({ ...base, volts: spread(4, 5, 6.1) }))).toBe(false);
    expect(sameReads(of(base), of({ ...base, usual: 'alarm' }))).toBe(false);
  });

  test('are numbered in the order of their first', () => {
    const made = (rest: number, ...cells: readonly number[]) =>
      row('quiet', { rest: ohms(rest)[0]!, cells: ohms(...cells), group: 99 });
    const groups = grouped([made(1, 2), made(1, 3), made(1, 2), made(2, 2), made(1, 3)]).map(({ group }) => group);
    expect(groups).toEqual([0, 1, 0, 2, 1]);
    // The same ohms on both sides of an edge of a band are not one.
    const other = row('quiet', { rest: cell('quiet', { ohms: exactly(1), possible: ['normal', 'alarm'] }) });
    const same = row('quiet', { rest: cell('quiet', { ohms: exactly(1), possible: ['normal'] }) });
    expect(grouped([other, same]).map(({ group }) => group)).toEqual([0, 1]);
  });
});

describe('a fitting error that commissioning passes', () => {
  const healthy = {
    rest: cell('quiet', { ohms: spread(2100, 2200, 2300) }),
    cells: [cell('quiet', { usual: 'alarm', possible: ['alarm'], ohms: spread(6800, 6900, 7000) })],
  };
  const judged = (): Judged =>
    ({ healthy, loop: { has: (id: number) => id === 7 }, passed: [], rows: [] }) as unknown as Judged;
  const error = (rest: Partial<FaultCell>, inCase: Partial<FaultCell> = {}, facts: Partial<Fault> = {}) =>
    row('quiet', {
      fault: fault(3, { group: 'fitting', word: 'at-other-end', component: 7, ...facts }),
      rest: { ...healthy.rest, ...rest },
      cells: [{ ...healthy.cells[0]!, ...inCase }],
    });
  const passes = (made: FaultRow) => {
    const zone = judged();
    notePassed(zone, made);
    return zone.passed.length === 1;
  };

  test('reads every figure as predicted', () => {
    expect(passes(error({}))).toBe(true);
    const zone = judged();
    const made = error({});
    notePassed(zone, made);
    expect(zone.passed).toEqual([{ fault: made.fault, variant: made.variant, blind: new Map() }]);
  });

  test('or within the tolerance of the parts and one ohm of joints', () => {
    expect(passes(error({ ohms: exactly(2099) }))).toBe(true);
    expect(passes(error({ ohms: exactly(2098.9) }))).toBe(false);
    expect(passes(error({ ohms: exactly(2301) }))).toBe(true);
    expect(passes(error({ ohms: exactly(2301.1) }))).toBe(false);
    expect(passes(error({}, { ohms: exactly(7001) }))).toBe(true);
    expect(passes(error({}, { ohms: exactly(7002) }))).toBe(false);
    expect(passes(error({}, { ohms: exactly(6798) }))).toBe(false);
  });

  test('in the same classes, and where a reading is there in both or in neither', () => {
    expect(passes(error({ usual: 'alarm' }))).toBe(false);
    expect(passes(error({}, { usual: 'normal' }))).toBe(false);
    expect(passes(error({ ohms: undefined } as never))).toBe(false);
  });

  test('is one of the zone’s own loop, and no service fault', () => {
    expect(passes(error({}, {}, { component: 8 }))).toBe(false);
    expect(passes(error({}, {}, { group: 'service' }))).toBe(false);
  });

  test('tells the service faults that are blind with it and not without', () => {
    const [error3, cut, short] = [fault(3), fault(4), fault(5)];
    const blind = new Map([
      [cut, 'alarm'],
      [short, 'tamper'],
    ]);
    const zone = {
      passed: [{ fault: error3, variant: { changes: [] }, blind }],
      rows: [row('blind', { fault: cut }), row('misread', { fault: short })],
    } as unknown as Judged;
    expect(passedErrors(zone)).toEqual([{ fault: error3, newlyBlind: [{ fault: short, caseName: 'tamper' }] }]);
  });
});

describe('what faults do', () => {
  const site = new SiteBuilder().unit('u').rail('u.V', 'u.M').resistor('R1', 100).resistor('R2', 200);
  const design = site.build();
  const missing = (name: string): FaultVariant => ({ changes: [{ sort: 'remove', component: site.id(name) }] });
  const off = (name: string): FaultVariant => ({
    changes: [{ sort: 'force', component: site.id(name), word: 'off' }],
  });
  const join: FaultVariant = { changes: [{ sort: 'join', a: 0, b: 1 }] };

  test('two at once do both, unless both are about one part', () => {
    const both = together(design, missing('R1'), missing('R2'))!;
    expect([...both.altered]).toEqual([
      [site.id('R1'), 'removed'],
      [site.id('R2'), 'removed'],
    ]);
    const mixed = together(design, off('u.V'), join)!;
    expect([[...mixed.forced], mixed.joins]).toEqual([[[site.id('u.V'), 'off']], [{ a: 0, b: 1, ohms: 0 }]]);
    expect(together(design, missing('R1'), missing('R1'))).toBeUndefined();
    expect(together(design, off('u.V'), off('u.V'))).toBeUndefined();
    expect(together(design, off('u.V'), missing('u.V'))).toBeUndefined();
    expect(together(design, missing('u.V'), off('u.V'))).toBeUndefined();
    expect([...doingsOf(design, missing('R1')).altered.keys()]).toEqual([site.id('R1')]);
  });

  test('are named with their end where there is more than one way', () => {
    const [near, far] = ['at pit', 'at mill'].map((where): FaultVariant => ({ where, changes: [] }));
    expect(nameOfVariant(fault(1, { variants: [near!, far!] }), far!)).toBe('F1 at mill');
    expect(nameOfVariant(fault(1, { variants: [near!] }), near!)).toBe('F1');
    expect(nameOfVariant(fault(1, { variants: [near!, far!] }), { changes: [] })).toBe('F1');
  });

  test('have words, five of which are fitting errors', () => {
    expect(FAULT_WORDS.filter(({ group }) => group === 'fitting').map(({ word }) => word)).toEqual([
      'reversed',
      'swapped',
      'at-other-end',
      'a-decade-low',
      'a-decade-high',
    ]);
    for (const made of FAULT_WORDS) expect(faultWord(made.word)).toBe(made);
  });
});
