/** The operating point against a general-purpose circuit simulator, on seeded random networks. */
import { type Network, type OperatingPoint, solve } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { solveExactly } from '../network/exact.ts';
import { diode, expectConsistent, ohms, volts } from '../network/support.ts';
import { type Dice, diceFrom, linearNetwork, piecewiseNetwork, powerNetwork } from './random-networks.ts';
import { type Answer, netlistOf, nodeName, simulate } from './spice.ts';

const LINEAR = 5500;
const PIECEWISE = 3000;
const POWER = 1500;
const SECONDS = 1000; // in milliseconds

interface Case {
  readonly network: Network;
  readonly point: OperatingPoint;
  readonly netlist: string;
}

/** Networks without floating parts, which the simulator would tie down by conductances of its own. */
function draw(count: number, seed: number, make: (dice: Dice) => { network: Network; unloaded?: Network }): Case[] {
  const dice = diceFrom(seed);
  const cases: Case[] = [];
  while (cases.length < count) {
    const { network, unloaded } = make(dice);
    const point = solve(network);
    if (point.outcome.sort !== 'solved' || new Set(point.group).size > 1) continue;
    const nodeset = unloaded === undefined ? undefined : solve(unloaded).volts;
    cases.push({ network, point, netlist: netlistOf(network, { reference: 0, nodeset }) });
  }
  return cases;
}

/** What rounding of the volts leaves of a current that should be 0, in the simulator: 1e-16 of 30 V across 0.1 Ω. */
const NO_AMPS = 1e-13;

/**
 * Figures below this share of the network's largest are compared with that share: what the simulator leaves open in
 * them is its rounding of the large ones (1e-16 of 1 A through 1 MΩ is 0.1 nV).
 */
const SHARE = 0.02;

/** Largest difference of volts and of source currents, each relative to itself or a share of the largest. */
function difference({ network, point }: Case, answer: Record<string, number>): number {
  let worst = 0;
  const compare = (found: readonly number[], wanted: readonly number[], largest: number, nothing: number): void => {
    found.forEach((x, k) => {
      const scale = Math.max(Math.abs(x), Math.abs(wanted[k]!), SHARE * largest);
      const off = Math.abs(x - wanted[k]!);
      if (!(off <= nothing)) worst = Math.max(worst, off / scale);
    });
  };
  const nodes = [...point.volts.keys()].filter((n) => n !== 0);
  compare(
    nodes.map((n) => point.volts[n]! - point.volts[0]!),
    nodes.map((n) => answer[`v(${nodeName(n, 0)})`] ?? Number.NaN),
    Math.max(...point.volts.map((v) => Math.abs(v - point.volts[0]!))),
    0,
  );
  const sources = network.laws.flatMap((law, k) => (law.sort === 'volts' ? [k] : []));
  if (sources.length > 0) {
    compare(
      sources.map((k) => point.amps[k]!),
      sources.map((k) => answer[`i(v${k})`] ?? Number.NaN),
      Math.max(...point.amps.map(Math.abs)),
      NO_AMPS,
    );
  }
  return worst;
}

/** An error, or an iteration that ran away on a level piece: no network here holds anything near a megavolt. */
const failed = (answer: Answer): answer is string =>
  typeof answer === 'string' || !('v(n1)' in answer) || Object.values(answer).some((x) => !(Math.abs(x) < 1e6));

describe('against a circuit simulator', () => {
  it(
    `agrees on ${LINEAR} linear networks within 1e-9`,
    async () => {
      const cases = draw(LINEAR, 20261124, (dice) => ({ network: linearNetwork(dice) }));
      const answers = await simulate(cases.map((c) => c.netlist));
      let worst = 0;
      let decided = 0;
      cases.forEach((c, k) => {
        const answer = answers[k]!;
        if (failed(answer)) expect.fail(`${answer}\n${c.netlist}`);
        const off = difference(c, answer);
        if (off <= 1e-9) {
          worst = Math.max(worst, off);
          return;
        }
        // The simulator loses digits where small ohms hang on large ones: exact arithmetic decides.
        decided++;
        const exact = solveExactly(c.network);
        const figures = Object.fromEntries([
          ...exact.volts.map((v, n) => [`v(n${n})`, v]),
          ...exact.amps.map((i, n) => [`i(v${n})`, i]),
        ]);
        const own = difference(c, figures);
        if (!(own <= 1e-12)) expect.fail(`off by ${off}, from exact by ${own}\n${c.netlist}`);
      });
      console.log(
        `linear networks: largest relative difference ${worst.toExponential(2)}; ${decided} by exact arithmetic`,
      );
      expect(decided).toBeLessThan(0.01 * LINEAR);
    },
    600 * SECONDS,
  );

  it(
    `agrees on ${PIECEWISE} piecewise-linear networks within 1e-6`,
    async () => {
      await agree(
        draw(PIECEWISE, 19, (dice) => ({ network: piecewiseNetwork(dice) })),
        'piecewise-linear networks',
      );
    },
    600 * SECONDS,
  );

  it(
    `agrees on ${POWER} networks with constant watts within 1e-6`,
    async () => {
      await agree(
        draw(POWER, 7, (dice) => powerNetwork(dice)),
        'networks with constant watts',
      );
    },
    600 * SECONDS,
  );

  it(
    'stays near exponential diodes with a drop of 0.65 V',
    async () => {
      for (const { name, model } of EXPONENTIAL) {
        const dice = diceFrom(65);
        const cases = Array.from({ length: 60 }, () => rectifierNetwork(dice));
        const laws = (n: Network) => new Set(n.laws.flatMap((law, k) => (law.sort === 'curve' ? [k] : [])));
        const netlists = cases.map((n) => netlistOf(n, { reference: 0, diodes: { model, laws: laws(n) } }));
        let volts = 0;
        let amps = 0;
        (await simulate(netlists)).forEach((answer, k) => {
          const network = cases[k]!;
          if (failed(answer)) expect.fail(`${answer}\n${netlists[k]}`);
          const point = solve(network);
          expectConsistent(network, point);
          for (let n = 1; n < network.nodes; n++) {
            volts = Math.max(volts, Math.abs(point.volts[n]! - point.volts[0]! - answer[`v(n${n})`]!));
          }
          amps = Math.max(amps, Math.abs(point.amps[0]! / answer['i(v0)']! - 1));
        });
        console.log(
          `diode of 0.65 V against ${name}: at most ${volts.toFixed(3)} V at a node, ${(100 * amps).toFixed(1)} % of the supply's current`,
        );
        expect(volts).toBeLessThan(0.3);
        expect(amps).toBeLessThan(0.06);
      }
    },
    600 * SECONDS,
  );
});

/**
 * Models of the references: Kuphaldt, Lessons In Electric Circuits, vol III ch 3 (two fits of one rectifier, and the
 * simulator's default); the practice page and the textbook problem of worked-formulas.json for the last two.
 */
const EXPONENTIAL = [
  { name: 'IS 76.9 nA, N 1.45, RS 42 mΩ', model: 'd(is=76.9n n=1.45 rs=42m)' },
  { name: 'IS 18.8 nA, N 2', model: 'd(is=18.8n n=2)' },
  { name: 'IS 10 fA, N 1', model: 'd(is=1e-14 n=1)' },
  { name: 'IS 6 fA, N 1', model: 'd(is=6e-15 n=1)' },
  { name: 'IS 1 fA, N 1', model: 'd(is=1e-15 n=1)' },
];

/** One diode in series with a load, one reversed across it: 8 V to 28 V, 330 Ω to 10 kΩ; 0.5 Ω of slope. */
function rectifierNetwork(dice: Dice): Network {
  return {
    nodes: 4,
    laws: [
      volts(1, 0, dice.real(8, 28)),
      ohms(1, 2, dice.decades(330, 3300)),
      diode(2, 3, 0.65, 0.5),
      ohms(3, 0, dice.decades(100, 6800)),
      diode(0, 3, 0.65, 0.5),
    ],
  };
}

/** The simulator's iteration does not always converge; such networks are counted, and may be few. */
async function agree(cases: readonly Case[], what: string): Promise<void> {
  const answers = await simulate(cases.map((c) => c.netlist));
  let worst = 0;
  let unanswered = 0;
  cases.forEach((c, k) => {
    expectConsistent(c.network, c.point, 1e-9);
    const answer = answers[k]!;
    if (failed(answer)) {
      unanswered++;
      return;
    }
    const off = difference(c, answer);
    if (!(off <= 1e-6)) expect.fail(`off by ${off}\n${c.netlist}\n${JSON.stringify(answer)}\n${c.point.volts}`);
    worst = Math.max(worst, off);
  });
  console.log(`${what}: largest relative difference ${worst.toExponential(2)}; ${unanswered} without an answer`);
  expect(unanswered).toBeLessThan(0.03 * cases.length);
}
