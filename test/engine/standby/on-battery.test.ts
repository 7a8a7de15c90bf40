/** Cases as they go on a battery, and what that asks of it and of its charger: worked by hand from a whole site. */
import { readFileSync } from 'node:fs';
import {
  analyse,
  type BatteryStandby,
  batteryAt,
  type Figure,
  type Standby,
  standbyOf,
  type Value,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { ambient, choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { expectNear, HOUR } from './support.ts';

const reference = JSON.parse(readFileSync(new URL('../../reference/battery.json', import.meta.url), 'utf8'));

interface Options {
  readonly ah?: number;
  readonly limit?: number;
  readonly celsius?: readonly [number, number];
  readonly chargeLimit?: number;
  readonly volts?: readonly [number, number, number];
  readonly charger?: readonly [number, number, number];
  readonly standing?: number;
  readonly alarm?: number;
}

/** A 12 V battery and its charger on one bus; 100 mA all the time, 40 Ω while S1 is closed. */
function hut(options: Options = {}): SiteBuilder {
  const { ah = 7, limit = 2, celsius = [5, 35], chargeLimit, standing = 0.1, alarm = 40 } = options;
  const s = new SiteBuilder().place('hut', { ambient: ambient(...celsius) });
  s.battery('B1', {
    volts: datum(options.volts ?? [10.5, 12, 13.65]),
    nominalVolts: datum(12),
    ampereHours: datum(ah),
    chemistry: choice('agm'),
    place: 'hut',
  });
  s.supply('G1', {
    volts: datum(options.charger ?? [13.5, 13.65, 13.8]),
    limit: datum(limit),
    charges: s.id('B1'),
    ...(chargeLimit === undefined ? {} : { chargeLimit: datum(chargeLimit) }),
    place: 'hut',
  });
  s.load('P1', 'constant-current', { sort: 'amps', amps: datum(standing) }, { works: datum([10, 15]), place: 'hut' });
  s.resistor('R1', alarm).switch('S1', 'make', { contactOhms: 0 });
  s.wire('G1.plus', 'B1.plus').wire('G1.minus', 'B1.minus');
  s.wire('G1.plus', 'P1', 'G1.minus').wire('G1.plus', 'S1', 'R1', 'G1.minus');
  s.case('alarm', s.turn('S1', 'closed'));
  return s;
}

function only(s: SiteBuilder): BatteryStandby {
  const design = s.build();
  const [one] = standbyOf(design, analyse(design));
  return one!;
}

function sized(one: BatteryStandby): Standby & { sizing: Extract<Standby['sizing'], { sort: 'sizing' }> } {
  if ('sort' in one.standby) return expect.fail(JSON.stringify(one.standby));
  const { sizing } = one.standby;
  return sizing.sort === 'sizing' ? { ...one.standby, sizing } : expect.fail(sizing.reason);
}

function value(figure: Figure): Value {
  return figure.sort === 'value' ? figure : expect.fail(figure.sort);
}

describe('cases on a battery', () => {
  test('come after the written ones, with what charges it off', () => {
    const s = hut().autonomy('B1', { rest: 24, alarm: 0.5 });
    const design = s.build();
    const { cases, problems } = analyse(design);
    expect(problems).toEqual([]);
    expect(cases.map(({ name }) => name)).toEqual(['rest', 'alarm', 'rest on B1', 'alarm on B1']);
    expect(cases.map(({ onBattery }) => onBattery?.of)).toEqual([undefined, undefined, 'rest', 'alarm']);
    const amps = (index: number, name: string) => value(cases[index]!.moments.at(-1)!.amps(s.id(name)));
    // On its charger the battery gives nothing, whatever the charger's volts.
    expect([amps(0, 'B1').most, amps(1, 'B1').most]).toEqual([0, 0]);
    expectNear(amps(1, 'G1').most, 0.1 + 13.8 / 40);
    expect(amps(3, 'G1').most).toBe(0);
    // From the end of discharge to full: 0.1 A + 10.5 V .. 13.65 V over 40 Ω.
    expectNear(amps(3, 'B1').least, 0.3625);
    expectNear(amps(3, 'B1').usual, 0.4);
    expectNear(amps(3, 'B1').most, 0.44125);
    const across = value(cases[3]!.moments.at(-1)!.volts(s.terminal('P1.plus'), s.terminal('P1.minus')));
    expect([across.least, across.usual, across.most]).toEqual([10.5, 12, 13.65]);
  });

  test('a battery gives what a charger at its limit does not, at volts below those of the charger', () => {
    // 0.1 A + 13.65 V / 10 Ω is more than 1 A: the charger holds 1 A, the battery gives the rest at 12 V.
    const s = hut({ limit: 1, alarm: 10, volts: [12, 12, 12] });
    const { cases } = analyse(s.build());
    const alarm = cases[1]!.moments.at(-1)!;
    expectNear(value(alarm.amps(s.id('G1'))).usual, 1);
    expectNear(value(alarm.amps(s.id('B1'))).usual, 0.1 + 12 / 10 - 1);
  });

  test('follow the case before theirs, run to its end', () => {
    const s = hut();
    s.switch('S2', 'make', { contactOhms: 0 }).resistor('R2', 60).wire('G1.plus', 'S2', 'R2', 'G1.minus');
    s.case('first', s.turn('S1', 'closed', { for: 30 }), s.turn('S2', 'closed'));
    s.caseAfter('second', 'first', s.turn('P1', 'lost'));
    s.autonomy('B1', { second: 1 });
    const { cases } = analyse(s.build());
    const second = cases.find(({ name }) => name === 'second on B1')!;
    // S1 has gone back when `second` begins; S2 has not.
    expectNear(value(second.moments.at(-1)!.amps(s.id('B1'))).usual, 0.1 + 12 / 60);
    expect(second.verdicts).toEqual([]);
  });

  test('there are none where nothing charges it: its cases go as they are written', () => {
    const s = new SiteBuilder().place('hut', { ambient: ambient(0, 30) });
    s.battery('B1', { volts: datum([10.5, 12, 13]), nominalVolts: datum(12), ampereHours: datum(7), place: 'hut' });
    s.resistor('R1', 120).wire('B1.plus', 'R1', 'B1.minus').autonomy('B1', { rest: 10 });
    const design = s.build();
    const analysis = analyse(design);
    expect(analysis.cases.map(({ name }) => name)).toEqual(['rest']);
    const [one] = standbyOf(design, analysis);
    expect(one!.chargerAmps).toBeUndefined();
    expect(one!.volts).toEqual({ end: 10.5 });
    expectNear(sized(one!).sizing.cases[0]!.drawn.usual, 1);
  });
});

describe('what it asks of the battery, by hand', () => {
  /*
   * 7 Ah AGM at 5 °C .. 35 °C, rated over 20 h: 0.35 A.
   * rest   0.1 A × 24 h        = 2.4 Ah, below 0.35 A: counts once.
   * alarm  0.44125 A × 0.5 h   = 0.220625 Ah; (0.44125 / 0.35)^0.1 = 1.260714^0.1 = 1.0234383: counts 0.225796 Ah.
   * At 5 °C: 0.75 + (0.85 − 0.75) × 5 / 10 = 0.80.
   * Needed: 1.25 × 2.625796 / 0.80 = 4.102806 Ah.
   */
  const one = only(hut().autonomy('B1', { rest: 24, alarm: 0.5 }, { ageing: datum(1.25), recharge: datum(72 * HOUR) }));

  test('currents, capacity, corner', () => {
    expect(one.draws.map(({ caseName, computed, moment }) => [caseName, computed, moment])).toEqual([
      ['rest', 'rest on B1', 'after G1 off'],
      ['alarm', 'alarm on B1', 'after G1 off, S1 closed'],
    ]);
    const { sizing } = sized(one);
    expectNear(sizing.cases[0]!.drawn.most, 2.4);
    expectNear(sizing.cases[1]!.drawn.most, 0.220625);
    expectNear(sizing.cases[1]!.counted.most, 0.225796, 1e-5);
    expectNear(sizing.needed.most, 4.102806, 1e-6);
    expect(sizing.sufficient).toBe(true);
    expect(sizing.needed.mostCorner.map(({ what }) => what)).toEqual(['B1 ambient', 'B1 in alarm']);
  });

  test('the charger has 1.9 A to spare, and 97 mA are needed', () => {
    // 2 A − 0.1 A; 0.8 × 7 Ah / 0.8 / 72 h = 97.2 mA; a quarter of 7 Ah is 1.75 A, and 2 A may be pushed.
    const spare = one.chargerAmps!;
    if ('sort' in spare) return expect.fail(spare.sort);
    expectNear(spare.least, 1.9);
    expectNear(spare.most, 2);
    const { recharge } = sized(one);
    expectNear(recharge!.neededAmps.most, (0.8 * 7) / 0.8 / 72);
    expect([recharge!.tooSmall, recharge!.tooStrong]).toEqual([false, true]);
    expect(one.assumptions).toContain('G1 taken to charge with all that its loads leave (common practice, no source)');
  });

  test('volts at which checks are made: end of discharge, float, boost', () => {
    expect(one.volts).toEqual({ end: 10.5, float: 13.65, boost: 13.8 });
    expect(only(hut({ charger: [13.5, 13.65, 13.65] }).autonomy('B1', { rest: 1 })).volts).toEqual({
      end: 10.5,
      float: 13.65,
    });
  });

  test('a charge limit holds the charging current, from both sides', () => {
    const limited = only(hut({ chargeLimit: 0.5 }).autonomy('B1', { rest: 24 }, { recharge: datum(24 * HOUR) }));
    const spare = limited.chargerAmps!;
    if ('sort' in spare) return expect.fail(spare.sort);
    expect([spare.least, spare.usual, spare.most]).toEqual([0.5, 0.5, 0.5]);
    expect(sized(limited).recharge!.tooStrong).toBe(false);
    // 80 % of 7 Ah at 80 % in 24 h: 292 mA. A charger of 0.35 A that carries 0.1 A leaves 0.25 A.
    const small = only(
      hut({ limit: 0.35, chargeLimit: 0.5 }).autonomy('B1', { rest: 24 }, { recharge: datum(24 * HOUR) }),
    );
    expect(sized(small).recharge!.tooSmall).toBe(true);
  });
});

test('the demand of a printed example, from a site that draws it', () => {
  // fatskills.com quiz on battery calculations (confirmed on the page): 0.25 A for 24 h and 1.5 A for 5 min, 7.65625 Ah at 1.25.
  const { parts, 'with1.25': printed } = reference.sizing.example;
  const [standing, alarm] = parts as { amps: number; hours: number }[];
  const s = hut({ ah: 1000, celsius: [25, 25], standing: standing!.amps, alarm: 1e12, limit: 4 });
  s.load(
    'P2',
    'constant-current',
    { sort: 'amps', amps: datum(alarm!.amps - standing!.amps) },
    { works: datum([10, 15]), place: 'hut' },
  );
  s.switch('S2', 'make', { contactOhms: 0 }).wire('G1.plus', 'S2', 'P2', 'G1.minus');
  s.case('sounding', s.turn('S2', 'closed'));
  s.autonomy('B1', { rest: standing!.hours, sounding: alarm!.hours }, { ageing: datum(1.25) });
  const { sizing } = sized(only(s));
  expectNear(sizing.needed.usual, printed, 1e-9);
});

test('a pulse is taken at its highest for all the time, and says so', () => {
  const s = hut();
  s.case('chirp', s.turn('S1', 'closed', { for: 5 }), s.wait(10));
  s.autonomy('B1', { chirp: 1 });
  const one = only(s);
  expect(one.draws[0]).toMatchObject({ moment: 'after G1 off, S1 closed' });
  expectNear(one.draws[0]!.amps.usual, 0.4);
  expect(one.assumptions).toContain('what B1 gives in case chirp, after G1 off, S1 closed, taken for all its time');
});

describe('what is missing is named', () => {
  const needs = (s: SiteBuilder) => {
    const one = only(s);
    return 'sort' in one.standby
      ? { needs: one.standby.needs.map(({ component, property }) => [component, property]), reason: one.standby.reason }
      : expect.fail('evaluated');
  };

  test('capacity, ambient', () => {
    const s = new SiteBuilder();
    s.battery('B1', { volts: datum(12) })
      .resistor('R1', 100)
      .wire('B1.plus', 'R1', 'B1.minus')
      .autonomy('B1', { rest: 1 });
    expect(needs(s)).toEqual({
      needs: [
        [0, 'rating'],
        [0, 'ambient'],
      ],
      reason: undefined,
    });
    expect('sort' in batteryAt(s.build(), 0)).toBe(true);
  });

  test('what the battery feeds', () => {
    const s = hut();
    s.autonomy('B1', { rest: 1 });
    const bare = new SiteBuilder().place('hut', { ambient: ambient(0, 30) });
    bare.battery('B1', { volts: datum(12), nominalVolts: datum(12), ampereHours: datum(7), place: 'hut' });
    bare.supply('G1', { volts: datum(13.65), limit: datum(1), charges: 0, place: 'hut' });
    bare.wire('G1.plus', 'B1.plus').wire('G1.minus', 'B1.minus').autonomy('B1', { rest: 1 });
    expect(needs(bare)).toEqual({
      needs: [],
      reason: "nothing draws from B1: say what it feeds, by wires or 'fed-by'",
    });
    const loose = new SiteBuilder().place('hut', { ambient: ambient(0, 30) });
    loose.battery('B1', { volts: datum(12), nominalVolts: datum(12), ampereHours: datum(7), place: 'hut' });
    loose.autonomy('B1', { rest: 1 });
    expect(needs(loose).reason).toBe("nothing draws from B1: say what it feeds, by wires or 'fed-by'");
  });

  test('a datum of a load that it feeds', () => {
    const s = hut();
    s.load('P2', 'resistive', undefined, { place: 'hut' })
      .wire('G1.plus', 'P2', 'G1.minus')
      .autonomy('B1', { rest: 1 });
    expect(needs(s).needs).toEqual([[s.id('P2'), 'rating']]);
  });

  test('the limit of a charger', () => {
    const s = hut({ chargeLimit: 0.4 });
    const design = s.autonomy('B1', { rest: 1 }).build();
    const components = design.components.map((part) =>
      part.kind === 'source' && part.sort === 'supply' ? { ...part, limit: undefined, chargeLimit: undefined } : part,
    );
    const without = { ...design, components };
    const [one] = standbyOf(without, analyse(without));
    expect(one!.chargerAmps).toMatchObject({ sort: 'not-evaluated', needs: [{ property: 'limit' }] });
    expect(sized(one!).recharge).toBeUndefined();
  });
});
