/** Published worked examples of direct-current circuits; every value's source stands beside it in test/reference. */
import { type Law, type Network, type OperatingPoint, solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import derived from '../../reference/derived.json';
import formulas from '../../reference/worked-formulas.json';
import networks from '../../reference/worked-networks.json';
import {
  across,
  amps,
  constantCurrentCurve,
  curve,
  diode,
  expectConsistent,
  network,
  ohms,
  volts,
  zenerCurve,
} from '../network/support.ts';

interface Parsed {
  readonly net: Network;
  readonly node: ReadonlyMap<string, number>;
  readonly law: ReadonlyMap<string, number>;
}

/** Lines of name, plus node, minus node, volts or ohms. */
function parse(lines: readonly string[]): Parsed {
  const node = new Map<string, number>([['0', 0]]);
  const law = new Map<string, number>();
  const laws: Law[] = lines.map((line, k) => {
    const [name, plus, minus, value] = line.split(' ');
    for (const n of [plus!, minus!]) if (!node.has(n)) node.set(n, node.size);
    law.set(name!, k);
    const make = name!.startsWith('V') ? volts : ohms;
    return make(node.get(plus!)!, node.get(minus!)!, Number(value));
  });
  return { net: { nodes: node.size, laws }, node, law };
}

function expectWithin(found: number, wanted: number, relTol: number): void {
  // A published figure of exactly 0 leaves nothing to be relative to.
  const bound = wanted === 0 ? 1e-12 : relTol * Math.abs(wanted) * (1 + 1e-9);
  if (!(Math.abs(found - wanted) <= bound)) expect.fail(`${found}, published ${wanted} within ${relTol}`);
}

function solved(net: Network): OperatingPoint {
  const point = solve(net);
  expectConsistent(net, point);
  return point;
}

const formula = <I extends string>(id: I) => {
  const found = formulas.examples.find((e) => e.id === id);
  if (found === undefined) throw new Error(`no example ${id}`);
  return found as unknown as { published: Record<string, never>; relTol: number; computed: Record<string, never> };
};
const computed = (id: string) => {
  const found = derived.examples.find((e) => e.id === id);
  if (found === undefined) throw new Error(`no example ${id}`);
  return found as unknown as { given: Record<string, number>; expected: Record<string, never> };
};

describe('published networks', () => {
  it('are all there', () => {
    expect(networks.examples.length).toBeGreaterThanOrEqual(15);
  });

  for (const example of networks.examples) {
    it(`${example.id}: ${example.source}`, () => {
      const { net, node, law } = parse(example.net);
      const point = solved(net);
      expect(example.answers.length).toBeGreaterThan(0);
      for (const answer of example.answers as { volts?: string[]; amps?: string; is: number }[]) {
        if (answer.volts !== undefined) {
          const [from, to] = answer.volts;
          expectWithin(across(point, node.get(from!)!, node.get(to!)!), answer.is, example.relTol);
        } else expectWithin(point.amps[law.get(answer.amps!)!]!, answer.is, example.relTol);
      }
    });
  }

  it('liec-two-source: Thévenin and Norton of the rest (Kuphaldt, Lessons In Electric Circuits, vol I ch 10)', () => {
    const { published, relTol } = networks.examples.find((e) => e.id === 'liec-two-source')! as never as {
      published: { thevenin: { V: number; R: number }; norton: { I: number; R: number } };
      relTol: number;
    };
    const rest = [volts(1, 0, 28), ohms(1, 2, 4), ohms(2, 3, 1), volts(3, 0, 7)];
    const open = across(solved(network(4, ...rest)), 2, 0);
    const short = solved(network(4, ...rest, ohms(2, 0, 0))).amps[4]!;
    expectWithin(open, published.thevenin.V, relTol);
    expectWithin(short, published.norton.I, relTol);
    expectWithin(open / short, published.thevenin.R, relTol);
  });
});

describe('published circuits with diodes', () => {
  it('liec-zener (Kuphaldt, Lessons In Electric Circuits, vol III ch 3)', () => {
    const { published, relTol } = formula('liec-zener') as unknown as {
      published: {
        a: { V_Rs: number; I: number };
        b: { I_load: number; I_z: number };
        c: { V_load: number; I: number; V_Rs: number };
        minLoadAt100k: number;
      };
      relTol: number;
    };
    const net = (series: number, load?: number): Network =>
      network(
        3,
        volts(1, 0, 45),
        ohms(1, 2, series),
        curve(0, 2, zenerCurve(12.6)),
        ...(load ? [ohms(2, 0, load)] : []),
      );
    const a = solved(net(1000));
    expectWithin(across(a, 1, 2), published.a.V_Rs, relTol);
    expectWithin(a.amps[1]!, published.a.I, relTol);
    const b = solved(net(1000, 500));
    expectWithin(b.amps[3]!, published.b.I_load, relTol);
    expectWithin(-b.amps[2]!, published.b.I_z, relTol);
    const c = solved(net(100_000, 500));
    // Printed with three digits.
    expectWithin(across(c, 2, 0), published.c.V_load, 0.0005 / published.c.V_load);
    expectWithin(c.amps[1]!, published.c.I, relTol);
    expectWithin(across(c, 1, 2), published.c.V_Rs, relTol);
    // The least load at which it still regulates: just above it the zener conducts, just below it does not.
    expect(solved(net(100_000, published.minLoadAt100k * 1.001)).amps[2]!).toBeLessThan(0);
    expect(solved(net(100_000, published.minLoadAt100k * 0.999)).amps[2]!).toBe(0);
  });

  it('liec-led: the series resistor gives its 20 mA (Kuphaldt, Lessons In Electric Circuits, vol III ch 3)', () => {
    const { published, relTol } = formula('liec-led') as unknown as {
      published: Record<'6V' | '24V', { R: number; P: number }>;
      relTol: number;
    };
    for (const [emf, { R, P }] of [
      [6, published['6V']],
      [24, published['24V']],
    ] as const) {
      const point = solved(network(3, volts(1, 0, emf), ohms(1, 2, R), diode(2, 0, 1.6)));
      expectWithin(point.amps[1]!, 0.02, relTol);
      expectWithin(point.amps[1]! * across(point, 1, 2), P, relTol);
    }
  });

  it('tuttle-diode-R and sedra-4.34: a drop of 0.65 V comes near the exponential answers', () => {
    const found: string[] = [];
    for (const [id, emf, series, bound] of [
      ['tuttle-diode-R', 7, 10_000, 0.001],
      ['sedra-4.34', 1, 1000, 0.05],
    ] as const) {
      const exact = formula(id).computed as unknown as { I: number };
      const point = solved(network(3, volts(1, 0, emf), ohms(1, 2, series), diode(2, 0, 0.65)));
      const off = Math.abs(point.amps[1]! / exact.I - 1);
      found.push(`${id} ${(100 * off).toFixed(2)} %`);
      expect(off).toBeLessThan(bound);
    }
    console.log(`0.65 V instead of an exponential: ${found.join(', ')} of the current`);
  });

  it('liec-diode-model: the table of currents as a curve gives them back', () => {
    const { table } = formula('liec-diode-model').published as unknown as {
      table: { VD: number; mfr: number; datasheetFit: number; default: number }[];
    };
    expect(table.length).toBeGreaterThan(3);
    for (const column of ['mfr', 'datasheetFit', 'default'] as const) {
      const shape = {
        points: table.map((row) => [row.VD, row[column]] as const),
        before: [1, 0] as const,
        after: [1, 100] as const,
      };
      for (const row of table) {
        const point = solved(network(2, volts(0, 1, row.VD), curve(0, 1, shape)));
        expectWithin(point.amps[1]!, row[column], 1e-9);
      }
    }
  });

  it('dac-weighted: superposition (Kuphaldt, Lessons In Electric Circuits, vol IV ch 13)', () => {
    const { published, relTol } = formula('dac-weighted') as unknown as {
      published: Record<string, number>;
      relTol: number;
    };
    for (const [bits, wanted] of Object.entries(published)) {
      const inputs = [...bits].flatMap((bit, k) => [
        volts(2 + k, 0, bit === '1' ? 5 : 0),
        ohms(2 + k, 1, 1000 * 2 ** k),
      ]);
      // The virtual ground: a join of 0 V whose current the feedback resistor carries.
      const point = solved(network(5, volts(1, 0, 0), ...inputs));
      expectWithin(-1000 * point.amps[0]!, wanted, relTol);
    }
  });
});

describe('computed examples without a published twin', () => {
  it('deol-states', () => {
    const { given, expected } = computed('deol-states');
    const { pullUp, Vs, EOL, Ra, loopCable } = given as Record<'pullUp' | 'Vs' | 'EOL' | 'Ra' | 'loopCable', number>;
    const states: Record<string, number> = { short: 0, normal: EOL, alarm: EOL + Ra };
    for (const [state, beyond] of Object.entries(states)) {
      const wanted = (expected as Record<string, { V: number; R: number }>)[state]!;
      const point = solved(network(4, volts(1, 0, Vs), ohms(1, 2, pullUp), ohms(2, 3, loopCable), ohms(3, 0, beyond)));
      expectWithin(across(point, 2, 0), wanted.V, 1e-5);
      expectWithin(across(point, 2, 0) / point.amps[1]!, wanted.R, 1e-9);
    }
    const open = solved(network(4, volts(1, 0, Vs), ohms(1, 2, pullUp), ohms(2, 3, loopCable)));
    expectWithin(across(open, 2, 0), (expected as Record<string, { V: number }>)['open(tamper)']!.V, 1e-12);
  });

  it('siren-R and siren-I', () => {
    const resistive = computed('siren-R').expected as unknown as { R_loop: number; I: number; V_load: number };
    const half = resistive.R_loop / 2;
    const line = [volts(1, 0, 12), ohms(1, 2, half), ohms(3, 0, half)];
    const r = solved(network(4, ...line, ohms(2, 3, 40)));
    expectWithin(r.amps[3]!, resistive.I, 1e-5);
    expectWithin(across(r, 2, 3), resistive.V_load, 1e-6);
    const constant = computed('siren-I').expected as unknown as { drop: number; V_load: number };
    const i = solved(network(4, ...line, curve(2, 3, constantCurrentCurve(0.3, 6))));
    expectWithin(across(i, 2, 3), constant.V_load, 1e-9);
    expectWithin(12 - across(i, 2, 3), constant.drop, 1e-9);
  });

  it('leak-relay and leak-input', () => {
    const relay = computed('leak-relay');
    const coil = solved(network(2, amps(0, 1, relay.given.leak!), ohms(1, 0, relay.given.coil!)));
    expectWithin(across(coil, 1, 0), (relay.expected as unknown as { V: number }).V, 1e-12);
    const input = computed('leak-input');
    const high = solved(network(2, amps(0, 1, input.given.leak!), ohms(1, 0, input.given.Rin!)));
    expectWithin(across(high, 1, 0), (input.expected as unknown as { V: number }).V, 1e-12);
  });

  it('wcca-divider', () => {
    const { given, expected } = computed('wcca-divider');
    const net = network(3, volts(1, 0, given.V!), ohms(1, 2, given.R1!), ohms(2, 0, given.R2!));
    const point = solved(net);
    const wanted = expected as unknown as {
      nominal: number;
      dV_dR1: number;
      dV_dR2: number;
      EVA_corner: [number, number];
    };
    expectWithin(across(point, 2, 0), wanted.nominal, 1e-12);
    const slope = (laws: Law[]): number => {
      const { volts: v } = point.shift(laws);
      return v[2]! - v[0]!;
    };
    expectWithin(slope([net.laws[0]!, ohms(1, 2, given.R1! + 1), net.laws[2]!]), wanted.dV_dR1, 1e-9);
    expectWithin(slope([net.laws[0]!, net.laws[1]!, ohms(2, 0, given.R2! + 1)]), wanted.dV_dR2, 1e-9);
    const corner = (up: number, down: number): number =>
      across(solved(network(3, volts(1, 0, given.V!), ohms(1, 2, given.R1! * up), ohms(2, 0, given.R2! * down))), 2, 0);
    expectWithin(corner(1 + given.tol!, 1 - given.tol!), wanted.EVA_corner[0], 1e-9);
    expectWithin(corner(1 - given.tol!, 1 + given.tol!), wanted.EVA_corner[1], 1e-9);
  });
});
