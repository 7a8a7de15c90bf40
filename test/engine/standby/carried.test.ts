/** What an autonomy rests on: its cases one after another, what makes no sense of it, and what it says was taken for granted. */
import { analyse, type BatteryStandby, casesOnBattery, chargerAmpsOf, standbyOf } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { ambient, choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { expectNear, HOUR } from './support.ts';

/** A 12 V battery and its charger on one bus, 0.1 A all the time and 40 Ω while S1 is closed. */
function hut(facts: { limit?: number; battery?: object; charger?: object } = {}): SiteBuilder {
  const s = new SiteBuilder().place('hut', { ambient: ambient(20, 25) });
  s.battery('B1', {
    volts: datum([10.5, 12, 13.65]),
    nominalVolts: datum(12),
    ampereHours: datum(7),
    chemistry: choice('agm'),
    place: 'hut',
    ...facts.battery,
  });
  s.supply('G1', {
    volts: datum([13.5, 13.65, 13.8]),
    limit: datum(facts.limit ?? 2),
    charges: s.id('B1'),
    place: 'hut',
    ...facts.charger,
  });
  s.load('P1', 'constant-current', { sort: 'amps', amps: datum(0.1) }, { works: datum([10, 15]), place: 'hut' });
  s.resistor('R1', 40).switch('S1', 'make', { contactOhms: 0 });
  s.wire('G1.plus', 'B1.plus').wire('G1.minus', 'B1.minus');
  s.wire('G1.plus', 'P1', 'G1.minus').wire('G1.plus', 'S1', 'R1', 'G1.minus');
  return s;
}

function only(s: SiteBuilder): BatteryStandby {
  const design = s.build();
  return standbyOf(design, analyse(design))[0]!;
}

function reasonOf(one: BatteryStandby): string | undefined {
  return 'sort' in one.standby ? one.standby.reason : undefined;
}

describe('the steps of a case on a battery', () => {
  test('are the loss of its chargers, then those of its chain without what is expected', () => {
    const s = hut();
    s.case('first', s.turn('S1', 'closed', { for: [20, 30] }), s.expect('S1', 'closed'));
    s.caseAfter('second', 'first', s.turn('P1', 'lost'), s.wait(4), s.expect('P1', 'lost'));
    s.autonomy('B1', { second: 1 });
    const [made] = casesOnBattery(s.build());
    expect(made).toMatchObject({ battery: s.id('B1'), of: 'second' });
    expect(made!.case.name).toBe('second on B1');
    const told = made!.case.steps.map((step) =>
      step.sort === 'wait' ? step.seconds.most : step.sort === 'turn' ? [step.target, step.state] : step.sort,
    );
    // The first case has run to its end, after the 30 s that its pulse may last; the last one is not waited for.
    expect(told).toEqual([[s.id('G1'), 'off'], [s.id('S1'), 'closed'], 30, [s.id('P1'), 'lost'], 4]);
  });

  test('a case whose turns stay is followed at once', () => {
    const s = hut();
    s.case('first', s.turn('S1', 'closed'));
    s.caseAfter('second', 'first', s.turn('P1', 'lost'));
    s.autonomy('B1', { second: 1 });
    expect(casesOnBattery(s.build())[0]!.case.steps.map(({ sort }) => sort)).toEqual(['turn', 'turn', 'turn']);
  });

  test('each is made once, with the place in the text of its written case, or of the autonomy at rest', () => {
    const s = hut();
    s.case('other').case('alarm', s.turn('S1', 'closed'));
    s.autonomy('B1', { rest: 24, alarm: 1 }).autonomy('B1', { alarm: 2 });
    const design = s.build();
    const made = casesOnBattery(design);
    expect(made.map(({ case: { name } }) => name)).toEqual(['rest on B1', 'alarm on B1']);
    expect(made[0]!.case.origin).toBe(design.autonomies[0]!.carries[0]!.origin);
    expect(made[1]!.case.origin).toBe(design.cases[1]!.origin);
  });

  test('only what charges this battery is lost', () => {
    const s = hut();
    s.battery('B2', { volts: datum(12), place: 'hut' }).supply('G2', { volts: datum(12), charges: s.id('B2') });
    s.autonomy('B1', { rest: 1 });
    const turned = casesOnBattery(s.build())[0]!.case.steps.map((step) => (step.sort === 'turn' ? step.target : -1));
    expect(turned).toEqual([s.id('G1')]);
  });
});

describe('an autonomy that asks for nothing', () => {
  test('a case for no time at all', () => {
    expect(reasonOf(only(hut().autonomy('B1', { rest: 0 })))).toBe('case rest is to be carried for no time at all');
  });

  test('an ageing below 100 %', () => {
    const aged = (ageing: number) => only(hut().autonomy('B1', { rest: 1 }, { ageing: datum(ageing) }));
    expect(reasonOf(aged(0.8))).toBe('an ageing below 100 % asks less of an old battery than of a new one');
    expect('sort' in aged(1).standby).toBe(false);
  });
});

describe('what is needed of a battery', () => {
  const needs = (battery: object, facts: { place?: boolean } = {}) => {
    const s = hut({ battery: { ...battery, ...(facts.place === false ? { place: undefined } : {}) } });
    const one = only(s.autonomy('B1', { rest: 1 }));
    return 'sort' in one.standby ? one.standby.needs.map(({ property }) => property) : undefined;
  };

  test('its capacity, its volts, where it stands, and a known chemistry', () => {
    expect(needs({})).toBeUndefined();
    expect(needs({ ampereHours: undefined })).toEqual(['rating']);
    expect(needs({ nominalVolts: undefined })).toEqual(['rating']);
    expect(needs({}, { place: false })).toEqual(['ambient']);
    expect(needs({ chemistry: choice('unobtainium') })).toEqual(['chemistry']);
    expect(needs({ ampereHours: undefined, chemistry: choice('unobtainium') })).toEqual(['rating', 'chemistry']);
  });

  test('the hours over which it is rated count, where they are given', () => {
    const sizing = (ratedTime: object) => {
      const one = only(hut({ battery: ratedTime }).autonomy('B1', { rest: 1 }));
      return 'sort' in one.standby || one.standby.sizing.sort !== 'sizing' ? undefined : one.standby.sizing;
    };
    expectNear(sizing({})!.ratedAmps.usual, 7 / 20);
    expectNear(sizing({ ratedTime: datum(10 * HOUR) })!.ratedAmps.usual, 7 / 10);
  });
});

describe('the figures of a case', () => {
  test('an ageing that is given counts, and one that is not is 125 %', () => {
    const needed = (facts: { ageing?: ReturnType<typeof datum> }) => {
      const one = only(hut().autonomy('B1', { rest: 10 }, facts));
      return 'sort' in one.standby || one.standby.sizing.sort !== 'sizing'
        ? Number.NaN
        : one.standby.sizing.needed.usual;
    };
    // 0.1 A for 10 h at 20 °C, where 95 % of the capacity is there.
    expectNear(needed({}), (1.25 * 1) / 0.95);
    expectNear(needed({ ageing: datum(1.5) }), (1.5 * 1) / 0.95);
  });

  test('the moment that draws most counts, not what was there before the case began', () => {
    const s = hut();
    s.case('late', s.wait(5), s.turn('S1', 'closed', { for: 2 }), s.wait(5));
    const one = only(s.autonomy('B1', { late: 1 }));
    expectNear(one.draws[0]!.amps.usual, 0.1 + 12 / 40);
    expect(one.draws[0]!.assumption).toContain('taken for all its time');
    const still = hut();
    still.case('shut', still.turn('S1', 'closed'));
    expect(only(still.autonomy('B1', { shut: 1 })).draws[0]!.assumption).toBeUndefined();
  });

  test('a case that is nowhere computed is not evaluated', () => {
    const one = only(hut().autonomy('B1', { rest: 1 }));
    expect(one.draws.map(({ caseName }) => caseName)).toEqual(['rest']);
    const s = hut().autonomy('B1', { rest: 1 });
    const design = s.build();
    const analysis = analyse(design);
    const without = { ...analysis, cases: analysis.cases.slice(0, 1) };
    expect(reasonOf(standbyOf(design, without)[0]!)).toBe('B1 has no connection in case rest');
  });

  test('every clause is listed once, in alphabetical order', () => {
    const s = hut();
    s.case('chirp', s.turn('S1', 'closed', { for: 5 }), s.wait(10));
    const { assumptions } = only(s.autonomy('B1', { rest: 1, chirp: 1 }, { recharge: datum(72 * HOUR) }));
    expect(assumptions).toEqual([...new Set(assumptions)].sort());
    expect(assumptions).toContain('capacity by temperature as of lead-acid batteries (IEEE 485, from memory)');
    const lacking = only(hut({ battery: { ampereHours: undefined } }).autonomy('B1', { rest: 1 }));
    expect(lacking.assumptions).toEqual([...new Set(lacking.assumptions)].sort());
  });
});

describe('volts on charge', () => {
  test('of several chargers the greatest counts; a charger without volts says nothing', () => {
    const s = hut();
    s.supply('G2', { volts: datum([13.2, 13.4, 14.4]), limit: datum(1), charges: s.id('B1'), place: 'hut' });
    s.supply('G3', { limit: datum(1), charges: s.id('B1'), place: 'hut' });
    expect(only(s.autonomy('B1', { rest: 1 })).volts).toEqual({ end: 10.5, float: 13.65, boost: 14.4 });
    const bare = hut({ charger: { volts: undefined } });
    expect(only(bare.autonomy('B1', { rest: 1 })).volts).toEqual({ end: 10.5 });
  });

  test('a battery without volts has none', () => {
    expect(only(hut({ battery: { volts: undefined } }).autonomy('B1', { rest: 1 })).volts).toBeUndefined();
  });
});

describe('what chargers have to spare', () => {
  const spare = (charger: object) => {
    const s = hut({ charger });
    const design = s.autonomy('B1', { rest: 1 }).build();
    const found = chargerAmpsOf(design, analyse(design), s.id('B1'));
    return 'sort' in found ? found.needs.map(({ property }) => property) : found;
  };

  test('its limit less what its loads draw at rest, in all three figures', () => {
    expect(spare({ limit: datum([1.8, 2, 2.2]) })).toMatchObject({ least: 1.8 - 0.1, usual: 2 - 0.1, most: 2.2 });
  });

  test('no more than its charge limit, which stands alone where there is no other', () => {
    expect(spare({ chargeLimit: datum([0.4, 0.5, 0.6]) })).toMatchObject({ least: 0.4, usual: 0.5, most: 0.6 });
    expect(spare({ limit: undefined, chargeLimit: datum(0.3) })).toMatchObject({ least: 0.3, most: 0.3 });
    const limited = spare({ chargeLimit: datum(0.5) });
    expect(!Array.isArray(limited) && 'assumption' in limited).toBe(false);
    const free = spare({});
    expect(Array.isArray(free) ? undefined : free.assumption).toBe(
      'G1 taken to charge with all that its loads leave (common practice, no source)',
    );
  });

  test('one of which neither is known needs its limit', () => {
    expect(spare({ limit: undefined })).toEqual(['limit']);
  });

  test('several add up', () => {
    const s = hut({ charger: { chargeLimit: datum(0.5) } });
    s.supply('G2', { volts: datum(13.65), chargeLimit: datum(0.25), charges: s.id('B1'), place: 'hut' });
    const design = s.autonomy('B1', { rest: 1 }).build();
    const found = chargerAmpsOf(design, analyse(design), s.id('B1'));
    expect(found).toMatchObject({ usual: 0.75, what: 'charging of B1', unit: 'A' });
  });
});
