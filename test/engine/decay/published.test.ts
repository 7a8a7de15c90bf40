/** Worked and derived values from test/reference, with their sources there. */
import { readFileSync } from 'node:fs';
import {
  assumedTimeConstant,
  capacitorSeconds,
  capacitorVolts,
  copperFactor,
  decayAmps,
  decaySeconds,
  firstOrderSeconds,
  firstOrderValue,
  lawVolts,
  parallelLaw,
  peakSwitchVolts,
  riseSeconds,
  storedJoules,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { expectNear } from './support.ts';

const read = (name: string) => JSON.parse(readFileSync(new URL(`../../reference/${name}`, import.meta.url), 'utf8'));
const formulas = read('worked-formulas.json');
const derived = read('derived.json');
const relay = read('relay.json');

function example(file: { examples: { id: string }[] }, id: string) {
  const found = file.examples.find((each) => each.id === id);
  if (found === undefined) throw new Error(`no example ${id}`);
  return found as unknown as { published: never; computed: never; given: never; expected: never; relTol: number };
}

describe('capacitors charge as printed', () => {
  // Kuphaldt, Lessons In Electric Circuits, vol I ch 16: 15 V, 10 kΩ, 100 µF.
  test('15 V through 10 kΩ into 100 µF', () => {
    const { published, computed, relTol } = example(formulas, 'liec-RC');
    const {
      t,
      V,
      'V_7.25': late,
      'I_7.25': lateAmps,
    } = published as { t: number[]; V: number[] } & Record<string, number>;
    const charged = { farads: 100e-6, ohms: 10e3, sourceVolts: 15, fromVolts: 0 };
    expect(t).toHaveLength(8);
    t.forEach((seconds, k) => {
      expectNear(capacitorVolts(charged, seconds), V[k]!, relTol);
      expectNear(capacitorVolts(charged, seconds), (computed as { V: number[] }).V[k]!, 1e-5);
    });
    expectNear(capacitorVolts(charged, 7.25), late!, relTol);
    expectNear((15 - capacitorVolts(charged, 7.25)) / 10e3, lateAmps!, 1e-3);
    expectNear(capacitorSeconds(charged, 9.48181), 1, 1e-5);
  });

  // Kuphaldt, vol V ch 7: 10 V, 47 µF beside 22 µF, 3.3 kΩ; printed values carry an integration error.
  test('10 V through 3.3 kΩ into 69 µF', () => {
    const { published, computed, relTol } = example(formulas, 'liec-RC-3k3');
    const { t, V } = published as { t: number[]; V: number[] };
    const charged = { farads: 69e-6, ohms: 3300, sourceVolts: 10, fromVolts: 0 };
    expect(t).toHaveLength(5);
    t.forEach((seconds, k) => {
      expectNear(capacitorVolts(charged, seconds), V[k]!, relTol);
      const exact = (computed as { V: number[] }).V[k]!;
      expectNear(capacitorVolts(charged, seconds), exact, 1e-5);
      expectNear(capacitorSeconds(charged, capacitorVolts(charged, seconds)), seconds, 1e-9);
    });
  });
});

describe('coils rise and fall as printed', () => {
  // Kuphaldt, vol I ch 16: 15 V, 1 Ω, 1 H.
  test('15 V on 1 Ω and 1 H', () => {
    const { published, computed, relTol } = example(formulas, 'liec-RL');
    const { t, I, VL } = published as { t: number[]; I: number[]; VL: number[] };
    const rise = { from: 0, towards: 15, tau: 1 };
    expect(t).toHaveLength(7);
    t.forEach((seconds, k) => {
      expectNear(firstOrderValue(rise, seconds), I[k]!, relTol);
      expectNear(15 - firstOrderValue(rise, seconds), VL[k]!, 2e-3);
      expectNear(riseSeconds({ ohms: 1, henries: 1, volts: 15 }, firstOrderValue(rise, seconds)), seconds, 1e-9);
    });
    expectNear(firstOrderValue(rise, 3.5), (computed as { 'I_3.5': number })['I_3.5'], 1e-6);
  });

  // OpenStax University Physics vol 2, 14.4: 2.0 V, 4.0 Ω, 4.0 H.
  test('2 V on 4 Ω and 4 H, and its decay through a short', () => {
    const { computed } = example(formulas, 'openstax-RL');
    const { I_2tau, VL_2tau, t_half, t_1pct } = computed as Record<string, number>;
    const rise = { from: 0, towards: 0.5, tau: 1 };
    expectNear(firstOrderValue(rise, 2), I_2tau!, 1e-5);
    expectNear(2 - 4 * firstOrderValue(rise, 2), VL_2tau!, 1e-5);
    const coil = { ohms: 4, henries: 4, amps: 0.5 };
    const short = parallelLaw([{ volts: 0, ohms: 0 }]);
    expectNear(decaySeconds(coil, short, 0.25), t_half!, 1e-6);
    expectNear(decayAmps(coil, short, t_half!), 0.25, 1e-6);
    // One hundredth of the energy is one tenth of the current.
    expectNear(decaySeconds(coil, short, 0.05), t_1pct!, 1e-5);
    expectNear(storedJoules({ henries: 4, amps: 0.05 }) / storedJoules(coil), 0.01, 1e-12);
  });
});

describe('switched coils, derived values', () => {
  const diode = example(derived, 'flyback-diode');
  const { R, L, I0, I_release, Vf } = diode.given as Record<string, number>;
  const coil = { ohms: R!, henries: L!, amps: I0! };

  test('diode', () => {
    const { tau_ms, E_uJ, t_ms, switchV_at_12V } = diode.expected as Record<string, number>;
    const law = parallelLaw([{ volts: Vf!, ohms: 0 }]);
    expectNear((L! / R!) * 1e3, tau_ms!, 1e-12);
    expectNear(storedJoules(coil) * 1e6, E_uJ!, 1e-12);
    expectNear(decaySeconds(coil, law, I_release!) * 1e3, t_ms!, 1e-5);
    expectNear(peakSwitchVolts(12, coil, law), switchV_at_12V!, 1e-12);
  });

  test('resistor of 680 Ω', () => {
    const { given, expected } = example(derived, 'flyback-resistor');
    const { Vpeak_coil, switchV_at_12V, t_ms } = expected as Record<string, number>;
    const law = parallelLaw([{ volts: 0, ohms: (given as { Rp: number }).Rp }]);
    expectNear(lawVolts(law, I0!), Vpeak_coil!, 1e-12);
    expectNear(peakSwitchVolts(12, coil, law), switchV_at_12V!, 1e-12);
    expectNear(decaySeconds(coil, law, I_release!) * 1e3, t_ms!, 1e-5);
  });
});

describe('table of release times by suppression (from memory, self-consistent)', () => {
  const { coil, rows } = relay.suppression as {
    coil: { V: number; ohm: number };
    rows: { s: string; ms: number; Vth?: number }[];
  };
  const amps = coil.V / coil.ohm;
  const resistors = rows
    .filter((row) => /^\d+R$/.test(row.s))
    .map((row) => ({ ...row, own: Number.parseInt(row.s, 10) }));
  const ms = (name: string) => rows.find((row) => row.s === name)!.ms;

  test('volts at the first instant', () => {
    expect(resistors).toHaveLength(6);
    for (const { own, Vth } of resistors)
      expectNear(lawVolts(parallelLaw([{ volts: 0, ohms: own }]), amps), -Vth!, 7e-3);
    expectNear(lawVolts(parallelLaw([{ volts: 24.8, ohms: 0 }]), amps), 24.8, 1e-12);
  });

  /*
   * One row fixes the inductance at a release of a tenth of the volts; the armature's own time is the row without
   * suppression. The other resistors then come within 5 %, the diode within 15 %. A zener of 24 V releases in 1.9 ms there,
   * in 3.5 ms here: with a constant inductance the figure errs to the slow side, where release is judged.
   */
  test('times follow from one inductance', () => {
    const own = ms('none') / 1e3;
    const release = amps / 10;
    const henries = ((ms('82R') / 1e3 - own) * (coil.ohm + 82)) / Math.log(10);
    const state = { ohms: coil.ohm, henries, amps };
    for (const row of resistors) {
      const seconds = own + decaySeconds(state, parallelLaw([{ volts: 0, ohms: row.own }]), release);
      expectNear(seconds, row.ms / 1e3, 0.05);
    }
    const diode = own + decaySeconds(state, parallelLaw([{ volts: 0.7, ohms: 0 }]), release);
    expectNear(diode, ms('diode') / 1e3, 0.15);
    const zener = own + decaySeconds(state, parallelLaw([{ volts: 24.8, ohms: 0 }]), release);
    expect(zener).toBeGreaterThan(ms('diode+24V zener') / 1e3);
    expect(zener).toBeLessThan(ms('220R') / 1e3);
    // The time constant assumed from the watts of this coil lies within a third of the fitted one.
    expectNear(assumedTimeConstant(coil.V ** 2 / coil.ohm), henries / coil.ohm, 0.33);
  });
});

test('the standard load of electromagnets: 95 % after 288 ms at 48 W', () => {
  // IEC 60947-5-1 DC-13, from memory.
  const { watts, milliseconds } = relay.utilisation.dc13.example as { watts: number; milliseconds: number };
  expectNear(
    firstOrderSeconds({ from: 0, towards: 1, tau: assumedTimeConstant(watts) }, 1 - Math.exp(-3)) * 1e3,
    milliseconds,
    1e-9,
  );
  // e^−3 is what 95 % is rounded from.
  expectNear(Math.exp(-3), 0.05, 5e-3);
});

test('a coil at its temperature', () => {
  for (const { R20, celsius, R } of relay.coilTemperature.examples.filter(
    (each: { R20?: number }) => each.R20 !== undefined,
  )) {
    // The published coefficient is 0.003929, ours 0.00393.
    expectNear(R20 * copperFactor(celsius), R, 1e-4);
  }
});
