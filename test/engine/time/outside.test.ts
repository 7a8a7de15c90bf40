/**
 * Capacitors that charge together against the transient analysis of an independent circuit simulator, with the same
 * network given to it; a diode is the same straight law by a behavioural source.
 */
import { analyse } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { decades, expectNear, seeded, transient } from '../decay/support.ts';
import { caseOf } from './support.ts';

const VOLTS = 12;
/** Steps of the simulator and the straight line between two of them. */
const WITHIN = 1e-4;
const DROP = 0.65;
const SLOPE = 0.5;

interface Stage {
  readonly ohms: number;
  readonly farads: number;
  /** Across the capacitor. */
  readonly across: number;
}

function stages(random: () => number, count: number): Stage[] {
  return Array.from({ length: count }, () => ({
    ohms: decades(random, 100, 1e4),
    farads: decades(random, 1e-5, 1e-3),
    across: decades(random, 3e4, 1e6),
  }));
}

/** Volts behind the ladder once nothing moves any more. */
function settled(ladder: readonly Stage[], drop: number): number {
  let [volts, ohms] = [VOLTS - drop, drop > 0 ? SLOPE : 0];
  for (const stage of ladder) {
    const before = ohms + stage.ohms;
    volts *= stage.across / (before + stage.across);
    ohms = (before * stage.across) / (before + stage.across);
  }
  return volts;
}

/** Seconds at which the volts of the last capacitor come to `level` after S1 closed. */
function ours(ladder: readonly Stage[], level: number, diode: boolean): number {
  const s = new SiteBuilder();
  s.supply('G1', { volts: datum(VOLTS) }).switch('S1', 'make');
  s.joint('X0');
  if (diode) s.diode('V1', DROP, { slope: datum(SLOPE) }).wire('G1.plus', 'S1', 'V1', 'X0');
  else s.wire('G1.plus', 'S1', 'X0');
  let at = 'X0';
  ladder.forEach(({ ohms, farads, across }, i) => {
    s.resistor(`R${i}`, ohms).capacitor(`C${i}`, farads).resistor(`RP${i}`, across);
    s.wire(at, `R${i}`, `C${i}`, 'G1.minus').wire(`R${i}.2`, `RP${i}`, 'G1.minus');
    at = `R${i}.2`;
  });
  s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(1e12) }, { works: datum([level, 2 * VOLTS, 3 * VOLTS]) });
  s.wire(at, 'P1', 'G1.minus').case('it', s.turn('S1', 'closed'));
  const track = caseOf(analyse(s.build()), 'it').timeline.find(({ component }) => component === s.id('P1'));
  const on = track?.points.find(({ states }) => states.join() === 'on');
  return on?.time.usual ?? expect.fail('the load never comes on');
}

/** The closed contact of S1 has the ohms that the builder gives it. */
async function theirs(ladder: readonly Stage[], level: number, diode: boolean, seconds: number): Promise<number> {
  const lines = [`v1 n0 0 ${VOLTS}`];
  let at = 'n0';
  if (diode) {
    lines.push(`b1 n0 d i=v(n0,d) > ${DROP} ? (v(n0,d)-${DROP})/${SLOPE} : 0`);
    at = 'd';
  }
  ladder.forEach(({ ohms, farads, across }, i) => {
    lines.push(`r${i} ${at} n${i + 1} ${ohms}`, `c${i} n${i + 1} 0 ${farads} ic=0`, `rp${i} n${i + 1} 0 ${across}`);
    at = `n${i + 1}`;
  });
  const run = await transient(lines, seconds * 1.2);
  const values = run.of(`v(${at})`);
  const k = values.findIndex((value) => value >= level);
  const [below, above] = [values[k - 1]!, values[k]!];
  return run.seconds[k - 1]! + ((level - below) / (above - below)) * (run.seconds[k]! - run.seconds[k - 1]!);
}

describe('a ladder of capacitors charges as a circuit simulator says', () => {
  test.each([
    { count: 2, diode: false },
    { count: 3, diode: false },
    { count: 2, diode: true },
  ])('$count capacitors, diode: $diode', { timeout: 240_000 }, async ({ count, diode }) => {
    const random = seeded(7001 + count + (diode ? 1 : 0));
    for (let set = 0; set < 6; set++) {
      const ladder = stages(random, count);
      const level = settled(ladder, diode ? DROP : 0) * (0.2 + 0.6 * random());
      const seconds = ours(ladder, level, diode);
      expectNear(seconds, await theirs(ladder, level, diode, seconds), WITHIN);
    }
  });
});
