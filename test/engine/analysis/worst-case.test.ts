/** Extremes against brute force over all corners, and against random points that must never lie outside. */
import { analyse, type Datum, type Design, type Figure, type Value } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { samples } from '../../support/samples.ts';
import { SiteBuilder } from '../../support/site.ts';

interface Cause {
  readonly spread: readonly [number, number, number];
}

interface Random {
  readonly causes: readonly Cause[];
  readonly build: (values: readonly Datum[]) => { design: Design; nodes: readonly number[]; parts: readonly number[] };
}

/** A connected network of a few nodes: a stiff source, one behind ohms, resistors, and diodes where asked for. */
function randomNetwork(random: () => number, resistors: number, diodes: number): Random {
  const causes: Cause[] = [];
  const nodeCount = 3 + Math.floor(random() * 3);
  const ends: (readonly [number, number])[] = [];
  for (let node = 1; node < nodeCount; node++) ends.push([Math.floor(random() * node), node]);
  while (ends.length < resistors) {
    const a = Math.floor(random() * nodeCount);
    const b = Math.floor(random() * nodeCount);
    if (a !== b) ends.push([a, b]);
  }
  for (const _ of ends) {
    const usual = 10 ** (1 + 3 * random());
    const tolerance = 0.01 + 0.2 * random();
    causes.push({ spread: [usual * (1 - tolerance), usual, usual * (1 + tolerance)] });
  }
  const diodeEnds = Array.from({ length: diodes }, () => {
    const a = Math.floor(random() * nodeCount);
    return [a, (a + 1 + Math.floor(random() * (nodeCount - 1))) % nodeCount] as const;
  });
  const at = [Math.floor(random() * nodeCount), Math.floor(random() * nodeCount)];
  const volts = 8 + 16 * random();
  causes.push({ spread: [volts * 0.9, volts, volts * 1.15] });
  const second = 4 + 8 * random();
  causes.push({ spread: [second * 0.95, second, second * 1.05] });
  return {
    causes,
    build: (values) => {
      const site = new SiteBuilder();
      for (let node = 0; node < nodeCount; node++) site.joint(`X${node}`);
      ends.forEach(([a, b], i) => {
        site.resistor(`R${i}`, values[i]!).wire(`X${a}`, `R${i}`, `X${b}`);
      });
      diodeEnds.forEach(([a, b], i) => {
        site.diode(`D${i}`, 0.65, { slope: datum(0.5) }).wire(`X${a}`, `D${i}`, `X${b}`);
      });
      site
        .supply('G1', { volts: values.at(-2)! })
        .joint('N1')
        .resistor('RG1', 33);
      site.wire('G1.plus', 'RG1', `X${at[0]}`).wire('G1.minus', 'X0');
      site.supply('G2', { volts: values.at(-1)! }).resistor('RG2', 47);
      site.wire('G2.plus', 'RG2', `X${at[1]}`).wire('G2.minus', `X${(at[1]! + 1) % nodeCount}`);
      const nodes = Array.from({ length: nodeCount }, (_, node) => site.terminal(`X${node}`));
      return { design: site.build(), nodes, parts: ends.map((_, i) => site.id(`R${i}`)) };
    },
  };
}

/** All figures that a test looks at, in one order. */
function figuresOf(made: ReturnType<Random['build']>): readonly Figure[] {
  const { moments } = analyse(made.design).cases[0]!;
  const moment = moments[0]!;
  const volts = made.nodes.slice(1).map((node) => moment.volts(node, made.nodes[0]!));
  return [...volts, ...made.parts.map((part) => moment.amps(part))];
}

function usualOf(made: ReturnType<Random['build']>): readonly number[] {
  return figuresOf(made).map((figure) => (figure.sort === 'value' ? figure.usual : Number.NaN));
}

function atCorner(network: Random, pick: (cause: Cause, i: number) => number): readonly number[] {
  return usualOf(network.build(network.causes.map((cause, i) => datum(pick(cause, i)))));
}

function withinRounding(value: number, other: number, scale: number): boolean {
  return Math.abs(value - other) <= 1e-9 * Math.max(scale, 1e-6);
}

describe('extremes of networks of resistors and sources', () => {
  it('are those of all corners, for 40 seeded networks of up to 10 causes', () => {
    let compared = 0;
    for (let seed = 1; seed <= samples(40); seed++) {
      const random = generator(seed);
      const network = randomNetwork(random, 3 + (seed % 6), 0);
      const figures = figuresOf(network.build(network.causes.map(({ spread }) => datum(spread))));
      const least = figures.map(() => Number.POSITIVE_INFINITY);
      const most = figures.map(() => Number.NEGATIVE_INFINITY);
      for (let bits = 0; bits < 1 << network.causes.length; bits++) {
        atCorner(network, ({ spread }, i) => spread[((bits >> i) & 1) * 2]!).forEach((value, k) => {
          least[k] = Math.min(least[k]!, value);
          most[k] = Math.max(most[k]!, value);
        });
      }
      figures.forEach((figure, k) => {
        if (figure.sort !== 'value') return;
        expect(figure.proven).toBe(true);
        const scale = Math.max(Math.abs(least[k]!), Math.abs(most[k]!));
        expect(withinRounding(figure.least, least[k]!, scale), `seed ${seed} figure ${k} least`).toBe(true);
        expect(withinRounding(figure.most, most[k]!, scale), `seed ${seed} figure ${k} most`).toBe(true);
        compared++;
      });
    }
    expect(compared).toBeGreaterThan(samples(240));
  });

  it('hold for networks with more causes than are enumerated', () => {
    for (let seed = 101; seed <= 106; seed++) {
      const random = generator(seed);
      const network = randomNetwork(random, 14, 0);
      const figures = figuresOf(network.build(network.causes.map(({ spread }) => datum(spread))));
      for (let draw = 0; draw < samples(400); draw++) {
        const corner = draw % 2 === 0;
        atCorner(network, ({ spread }) => pick(random, spread, corner)).forEach((value, k) => {
          expectInside(figures[k]!, value, `seed ${seed} figure ${k}`);
        });
      }
    }
  });
});

describe('extremes of networks with diodes', () => {
  it('are never left by 200 random points in each of 40 networks', () => {
    let proven = 0;
    let all = 0;
    for (let seed = 201; seed <= 240; seed++) {
      const random = generator(seed);
      const network = randomNetwork(random, 5, 1 + (seed % 3));
      const figures = figuresOf(network.build(network.causes.map(({ spread }) => datum(spread))));
      for (const figure of figures) {
        all++;
        if (figure.sort === 'value' && figure.proven) proven++;
      }
      for (let draw = 0; draw < samples(200); draw++) {
        const corner = draw % 2 === 0;
        atCorner(network, ({ spread }) => pick(random, spread, corner)).forEach((value, k) => {
          expectInside(figures[k]!, value, `seed ${seed} figure ${k} draw ${draw}`);
        });
      }
    }
    expect(proven).toBeGreaterThan(0.9 * all);
  });
});

function pick(random: () => number, spread: readonly [number, number, number], corner: boolean): number {
  if (corner) return random() < 0.5 ? spread[0] : spread[2];
  return spread[0] + random() * (spread[2] - spread[0]);
}

function expectInside(figure: Figure, value: number, where: string): void {
  if (figure.sort !== 'value' || Number.isNaN(value)) return;
  const { least, most, proven } = figure as Value;
  const slack = 1e-9 * Math.max(Math.abs(least), Math.abs(most), 1e-6);
  const inside = value >= least - slack && value <= most + slack;
  expect(inside || !proven, `${where}: ${value} outside ${least} .. ${most}`).toBe(true);
}
