/** Recharge, prospective current and fuses, worked by hand; and an autonomy as one result. */
import { readFileSync } from 'node:fs';
import {
  assumedEfficiency,
  batteryOf,
  chemistryOf,
  copperFactor,
  type FaultLoop,
  fixed,
  fuseClearing,
  prospectiveAmps,
  recharge,
  standby,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { agm, expectNear, HOUR, overCorners, spread } from './support.ts';

const networks = JSON.parse(readFileSync(new URL('../../reference/worked-networks.json', import.meta.url), 'utf8'));

describe('recharge', () => {
  test('by hand: 80 % of 17 Ah in 24 h', () => {
    // 13.6 Ah / 0.85 / 24 h = 666.67 mA; at an efficiency of 0.80: 708.33 mA. A quarter of 17 Ah: 4.25 A.
    const given = {
      battery: agm(17),
      chargerAmps: spread('charger', 'A', 0.71, 0.8, 1.2),
      seconds: fixed('demanded time', 's', 24 * HOUR),
    };
    const found = recharge(given);
    expectNear(found.neededAmps.usual, 2 / 3, 1e-12);
    expectNear(found.neededAmps.most, 13.6 / 0.8 / 24, 1e-12);
    expectNear(found.strongestAmps.usual, 4.25, 1e-12);
    // 13.6 Ah / 0.8 / 0.71 A = 23.94 h.
    expectNear(found.restoredIn.most, (13.6 / 0.8 / 0.71) * HOUR, 1e-12);
    expect([found.tooSmall, found.tooStrong, found.frost]).toEqual([false, false, undefined]);
    expect(found.neededAmps.assumptions).toEqual([
      'charge efficiency of B1 taken as 85 % (80 % .. 95 %) (common practice, no source)',
      'charger of B1 taken to hold its current until 80 % are restored',
    ]);
    expect(recharge({ ...given, chargerAmps: spread('charger', 'A', 0.7, 0.8, 1.2) }).tooSmall).toBe(true);
    expect(recharge({ ...given, chargerAmps: spread('charger', 'A', 0.71, 2, 4.25) }).tooStrong).toBe(false);
    expect(recharge({ ...given, chargerAmps: spread('charger', 'A', 0.71, 2, 4.3) }).tooStrong).toBe(true);
  });

  test('a spread of the capacity, and a current that is just enough', () => {
    const battery = { ...agm(10), ampereHours: spread('B1', 'Ah', 9, 10, 11) };
    const given = { battery, seconds: fixed('demanded time', 's', 8 * HOUR), efficiency: fixed('efficiency', '', 1) };
    const found = recharge({ ...given, chargerAmps: spread('charger', 'A', 1.1, 1.5, 2) });
    // 0.8 × 11 Ah / 8 h = 1.1 A; 0.8 × 9 Ah / 2 A = 3.6 h.
    expectNear(found.neededAmps.most, 1.1, 1e-12);
    expectNear(found.neededAmps.least, 0.9, 1e-12);
    expectNear(found.restoredIn.most, 8 * HOUR, 1e-12);
    expectNear(found.restoredIn.least, 3.6 * HOUR, 1e-12);
    expectNear(found.strongestAmps.least, 2.25, 1e-12);
    const exact = { ...given, chargerAmps: fixed('charger', 'A', found.neededAmps.most) };
    expect(recharge(exact).tooSmall).toBe(false);
    expect(recharge({ ...exact, chargerAmps: fixed('charger', 'A', 1.0999) }).tooSmall).toBe(true);
    expect(recharge({ ...exact, share: 0.9 }).tooSmall).toBe(true);
    expect(recharge({ ...exact, strongest: 0.1 }).tooStrong).toBe(true);
  });

  test('nothing to spare never restores it', () => {
    const found = recharge({
      battery: agm(7),
      chargerAmps: spread('charger', 'A', -0.2, 0, 0.1),
      seconds: fixed('demanded time', 's', 72 * HOUR),
      efficiency: fixed('efficiency', '', 1),
    });
    expect(found.restoredIn.most).toBe(Number.POSITIVE_INFINITY);
    expectNear(found.restoredIn.least, 56 * HOUR);
    expect(found.tooSmall).toBe(true);
  });

  test('lithium iron phosphate in frost', () => {
    const battery = batteryOf({
      name: 'B2',
      chemistry: chemistryOf('lifepo4')!,
      volts: 12.8,
      ampereHours: fixed('B2', 'Ah', 10),
      celsius: spread('B2 ambient', 'degC', -5, 15, 30),
    });
    const given = { battery, chargerAmps: fixed('charger', 'A', 1), seconds: fixed('demanded time', 's', 24 * HOUR) };
    expect(recharge(given).frost).toContain('B2 stands at -5 °C');
    expect(assumedEfficiency(battery).usual).toBe(0.98);
    const warm = { ...battery, celsius: spread('B2 ambient', 'degC', 0, 15, 30) };
    expect(recharge({ ...given, battery: warm }).frost).toBeUndefined();
  });
});

/** Sum of a printed network's resistances, which all lie in series. */
function series(id: string): { volts: number; ohms: number[]; amps: number; relTol: number } {
  const found = networks.examples.find((each: { id: string }) => each.id === id);
  const values = (found.net as string[]).map((line) => Number(line.split(' ')[3]));
  return { volts: values[0]!, ohms: values.slice(1), amps: found.published.I, relTol: found.relTol };
}

describe('prospective current', () => {
  const none = (what: string) => fixed(what, 'ohm', 0);

  test('currents of printed series circuits', () => {
    // OpenStax University Physics vol 2, 10.1: 12 V behind 0.1 Ω and 0.5 Ω, loaded with 10 Ω and 0.5 Ω.
    for (const id of ['openstax-battery-10ohm', 'openstax-battery-half-ohm', 'openstax-battery-aged']) {
      const { volts, ohms, amps, relTol } = series(id);
      const loop: FaultLoop = {
        volts: fixed('B1', 'V', volts),
        sourceOhms: fixed('B1 ohms', 'ohm', ohms[0]!),
        copperOhms: none('copper'),
        celsius: fixed('ambient', 'degC', 20),
        otherOhms: fixed('load', 'ohm', ohms[1]!),
      };
      expectNear(prospectiveAmps(loop).usual, amps, relTol);
    }
    // Kuphaldt, Lessons In Electric Circuits, vol I ch 12: 14 V, two wires of 15 Ω at 20 °C, 250 Ω.
    const { volts, ohms, amps } = series('liec-wire-20C');
    const wires: FaultLoop = {
      volts: fixed('V1', 'V', volts),
      sourceOhms: none('V1 ohms'),
      copperOhms: fixed('wires', 'ohm', ohms[0]! + ohms[2]!),
      celsius: fixed('ambient', 'degC', 20),
      otherOhms: fixed('load', 'ohm', ohms[1]!),
    };
    expectNear(prospectiveAmps(wires).usual, amps, 1e-12);
  });

  const loop: FaultLoop = {
    volts: spread('AUX', 'V', 10.5, 13, 13.8),
    sourceOhms: spread('AUX ohms', 'ohm', 0, 0.05, 0.1),
    copperOhms: spread('W1', 'ohm', 2.6, 2.8, 3),
    celsius: spread('W1 ambient', 'degC', -5, 20, 40),
    otherOhms: fixed('fuse and contacts', 'ohm', 0.2),
  };

  test('by hand: least volts, hot copper; extremes are those of all corners', () => {
    // 10.5 / (0.1 + 3 × 1.0786 + 0.2) = 10.5 / 3.5358 = 2.96963 A.
    const found = prospectiveAmps(loop);
    expectNear(found.least, 2.96963, 1e-5);
    const [low, high] = overCorners(
      [loop.volts, loop.sourceOhms, loop.copperOhms, loop.celsius],
      ([volts, own, copper, celsius]) => volts! / (own! + copper! * copperFactor(celsius!) + 0.2),
    );
    expectNear(found.least, low, 1e-12);
    expectNear(found.most, high, 1e-12);
    expect(found.leastCorner.map((part) => part.what).sort()).toEqual(['AUX', 'AUX ohms', 'W1', 'W1 ambient']);
  });

  test('fuses: 2.1 × and 4 × the rating', () => {
    const clearing = (amps: number) => fuseClearing(loop, fixed('F1', 'A', amps));
    // 2.96963 A is 4 × 0.742 A and 2.1 × 1.414 A.
    expect(clearing(0.74).clearing).toBe('promptly');
    expect(clearing(0.75).clearing).toBe('slowly');
    expect(clearing(1.41).clearing).toBe('slowly');
    expect(clearing(1.42).clearing).toBe('never');
    expectNear(clearing(1).ratio.least, 2.96963, 1e-5);
    expectNear(clearing(1).mustOpenAmps, 2.1, 1e-12);
    expectNear(clearing(1).promptAmps, 4, 1e-12);
    expect(clearing(1).heldBy).toBe('loop');
    // 10.5 V / 4 A − 0.3 Ω = 2.325 Ω hot, 2.325 / 1.0786 = 2.15557 Ω at 20 °C.
    expectNear(clearing(1).copperForPrompt, 2.15557, 1e-5);
    const shorter = { ...loop, copperOhms: fixed('W1', 'ohm', clearing(1).copperForPrompt * (1 - 1e-9)) };
    expect(fuseClearing(shorter, fixed('F1', 'A', 1)).clearing).toBe('promptly');
    const longer = { ...loop, copperOhms: fixed('W1', 'ohm', clearing(1).copperForPrompt * (1 + 1e-9)) };
    expect(fuseClearing(longer, fixed('F1', 'A', 1)).clearing).toBe('slowly');
  });

  test('a factor that is just reached counts as reached', () => {
    const plain = {
      volts: fixed('AUX', 'V', 12),
      sourceOhms: none('AUX ohms'),
      copperOhms: none('W1'),
      celsius: fixed('ambient', 'degC', 20),
      otherOhms: fixed('contacts', 'ohm', 3),
    };
    expect(fuseClearing(plain, fixed('F1', 'A', 1)).ratio.usual).toBe(4);
    expect(fuseClearing(plain, fixed('F1', 'A', 1)).clearing).toBe('promptly');
    const factors = { mustOpen: 4, prompt: 5 };
    expect(fuseClearing(plain, fixed('F1', 'A', 1), factors).clearing).toBe('slowly');
  });

  test('a supply that limits holds the current down', () => {
    const limited = { ...loop, limit: spread('AUX limit', 'A', 1.6, 1.8, 2) };
    const found = fuseClearing(limited, fixed('F1', 'A', 1));
    expect(found.amps.least).toBe(1.6);
    expect(found.amps.most).toBe(2);
    expect([found.clearing, found.heldBy]).toEqual(['never', 'limit']);
    expect(found.copperForPrompt).toBe(Number.NEGATIVE_INFINITY);
    const generous = fuseClearing({ ...loop, limit: fixed('AUX limit', 'A', 50) }, fixed('F1', 'A', 1));
    expect([generous.clearing, generous.heldBy]).toEqual(['slowly', 'loop']);
  });

  test('nothing resists', () => {
    const bare = { ...loop, sourceOhms: none('AUX'), copperOhms: none('W1'), otherOhms: none('F1') };
    expect(prospectiveAmps(bare).least).toBe(Number.POSITIVE_INFINITY);
    const dead = { ...bare, volts: fixed('AUX', 'V', 0) };
    expect(prospectiveAmps(dead).most).toBe(0);
  });
});

describe('an autonomy as one result', () => {
  const battery = agm(7, [5, 20, 35]);
  const carries = [
    { name: 'rest', amps: spread('current in rest', 'A', 0.09, 0.1, 0.12), seconds: fixed('time', 's', 24 * HOUR) },
    { name: 'alarm', amps: fixed('current in alarm', 'A', 1.4), seconds: fixed('time', 's', HOUR / 2) },
  ];

  test('every part is there, with its assumptions', () => {
    const chargerAmps = fixed('charger', 'A', 0.5);
    const found = standby({ battery, carries, recharge: { seconds: fixed('time', 's', 24 * HOUR), chargerAmps } });
    if (found.sizing.sort !== 'sizing') return expect.fail(found.sizing.reason);
    // The same figures as in the table worked by hand for the sizing.
    expectNear(found.sizing.needed.most, 5.756389, 1e-6);
    expect(found.runtimes.map(({ name }) => name)).toEqual(['rest', 'alarm']);
    // 7 Ah × 0.8 / (1.25 × 0.12 A) = 37.33 h.
    const rest = found.runtimes[0]!.seconds;
    expectNear(rest.sort === 'value' ? rest.least : Number.NaN, (7 * 0.8 * HOUR) / (1.25 * 0.12), 1e-12);
    expectNear(found.curve[0]!.amps, 0.03, 1e-12);
    expectNear(found.curve.at(-1)!.amps, 4.2, 1e-12);
    expectNear(found.recharge!.neededAmps.most, 5.6 / 0.8 / 24, 1e-12);
    expect(found.assumptions).toEqual([
      'B1 from new to worn down to 80 % of its capacity (IEEE 485, from memory)',
      'B1 taken as 6 cells of 1.75 V .. 2.275 V (AGM)',
      "Peukert's exponent of B1 taken as 1.1 (AGM)",
      'ageing taken as 125 % (IEEE 485, from memory)',
      'capacity by temperature as of lead-acid batteries (IEEE 485, from memory)',
      'capacity of B1 taken as stated over 20 h (common practice, no source)',
      'charge efficiency of B1 taken as 85 % (80 % .. 95 %) (common practice, no source)',
      'charger of B1 taken to hold its current until 80 % are restored',
    ]);
  });

  test('too cold to judge, and nothing to carry', () => {
    const cold = standby({ battery: agm(7, [-30, 0, 10]), carries });
    expect(cold.sizing.sort).toBe('not-evaluated');
    expect(cold.runtimes.map(({ seconds }) => seconds.sort)).toEqual(['not-evaluated', 'not-evaluated']);
    expect(cold.curve).toEqual([]);
    const idle = standby({ battery, carries: [] });
    expect(idle.curve).toEqual([]);
    expect(idle.sizing).toMatchObject({ sort: 'sizing', sufficient: true, needed: { most: 0 }, smallest: { most: 0 } });
  });
});
