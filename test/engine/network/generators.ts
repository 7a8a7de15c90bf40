/** fast-check generators of networks. Values lie on a coarse grid as often as not, so that corners and ties come up. */
import type { Curve, Law, Network } from '@couplet/engine';
import fc from 'fast-check';
import { constantCurrentCurve, diodeCurve, limitedCurve, zenerCurve } from './support.ts';

const amount = (...grid: number[]): fc.Arbitrary<number> =>
  fc.oneof(fc.constantFrom(...grid), fc.double({ min: 0.1, max: 15, noNaN: true }));

const ohmsValue = fc.oneof(
  fc.constantFrom(0, 1, 2, 5, 10),
  fc.double({ min: -1, max: 6, noNaN: true }).map((decades) => 10 ** decades),
);

const direction = fc.constantFrom<readonly [number, number]>([0, 1], [1, 0], [1, 1], [2, 0.5]);

/** A monotone polyline of up to six points, with vertical, level and sloped pieces. */
const anyCurve: fc.Arbitrary<Curve> = fc
  .record({
    first: fc.tuple(fc.integer({ min: -4, max: 4 }), fc.integer({ min: -3, max: 3 })),
    steps: fc.array(
      fc.oneof(
        fc.tuple(amount(1, 2), fc.constant(0)),
        fc.tuple(fc.constant(0), amount(1, 2)),
        fc.tuple(amount(1, 2), amount(1, 2)),
      ),
      { maxLength: 5 },
    ),
    before: direction,
    after: direction,
  })
  .map(({ first, steps, before, after }) => {
    const points: [number, number][] = [[first[0], first[1]]];
    for (const [dV, dI] of steps) {
      const [v, i] = points[points.length - 1]!;
      points.push([v + dV, i + dI]);
    }
    return { points, before, after };
  });

export const curveOfAnySort: fc.Arbitrary<Curve> = fc.oneof(
  amount(1, 0.65).map((drop) => diodeCurve(drop)),
  fc.tuple(amount(1), amount(0.5)).map(([drop, slope]) => diodeCurve(drop, slope)),
  amount(3, 12).map((breakdown) => zenerCurve(breakdown)),
  fc.tuple(amount(12, 5), amount(1)).map(([emf, limit]) => limitedCurve(emf, 0, limit)),
  fc.tuple(amount(12, 5), amount(0.5), amount(1)).map(([emf, series, limit]) => limitedCurve(emf, series, limit)),
  fc.tuple(amount(1, 0.3), amount(3)).map(([draw, from]) => constantCurrentCurve(draw, from)),
  anyCurve,
);

const ends = (nodes: number) => ({
  a: fc.integer({ min: 0, max: nodes - 1 }),
  b: fc.integer({ min: 0, max: nodes - 1 }),
});

const ohmsLaw = (nodes: number): fc.Arbitrary<Law> =>
  fc.record({ sort: fc.constant('ohms' as const), ...ends(nodes), ohms: ohmsValue });
const voltsLaw = (nodes: number): fc.Arbitrary<Law> =>
  fc.record({ sort: fc.constant('volts' as const), ...ends(nodes), volts: amount(0, 5, 12) });
const ampsLaw = (nodes: number): fc.Arbitrary<Law> =>
  fc.record({ sort: fc.constant('amps' as const), ...ends(nodes), amps: amount(0, 1, 2) });
const curveLaw = (nodes: number): fc.Arbitrary<Law> =>
  fc.record({ sort: fc.constant('curve' as const), ...ends(nodes), curve: curveOfAnySort });

/** Anything goes: floating parts, conflicts, loops of 0 Ω, laws from a node to itself. */
export const anyNetwork: fc.Arbitrary<Network> = fc.integer({ min: 1, max: 7 }).chain((nodes) =>
  fc.record({
    nodes: fc.constant(nodes),
    laws: fc.array(
      fc.oneof(
        { weight: 4, arbitrary: ohmsLaw(nodes) },
        { weight: 1, arbitrary: voltsLaw(nodes) },
        { weight: 1, arbitrary: ampsLaw(nodes) },
        { weight: 5, arbitrary: curveLaw(nodes) },
      ),
      { maxLength: 14 },
    ),
  }),
);

/** Resistors (no 0 Ω) in a tree over all nodes and across it; sources in series with resistors, so none conflict. */
export const resistiveNetwork: fc.Arbitrary<Network> = fc.integer({ min: 2, max: 8 }).chain((nodes) => {
  const some = fc.double({ min: -1, max: 5, noNaN: true }).map((decades) => 10 ** decades);
  return fc
    .record({
      tree: fc.tuple(...Array.from({ length: nodes - 1 }, (_, k) => fc.tuple(fc.integer({ min: 0, max: k }), some))),
      across: fc.array(fc.record({ sort: fc.constant('ohms' as const), ...ends(nodes), ohms: some }), { maxLength: 8 }),
      emfs: fc.array(
        fc.tuple(
          fc.integer({ min: 0, max: nodes - 1 }),
          fc.integer({ min: -24_000, max: 24_000 }).map((mV) => mV / 1000),
          some,
        ),
        {
          minLength: 1,
          maxLength: 3,
        },
      ),
      currents: fc.array(
        fc.record({
          sort: fc.constant('amps' as const),
          ...ends(nodes),
          amps: fc.integer({ min: -1000, max: 1000 }).map((mA) => mA / 1000),
        }),
        { maxLength: 3 },
      ),
    })
    .map(({ tree, across, emfs, currents }) => {
      const laws: Law[] = [
        ...tree.map(([to, ohms], k) => ({ sort: 'ohms' as const, a: k + 1, b: to, ohms })),
        ...across,
        ...currents,
      ];
      let count = nodes;
      for (const [at, volts, ohms] of emfs) {
        laws.push({ sort: 'volts', a: count, b: 0, volts }, { sort: 'ohms', a: count, b: at, ohms });
        count++;
      }
      return { nodes: count, laws };
    });
});
