/** 'What if' against the truth: a varied moment must answer as the analysis of the design that was changed by hand. */
import { analyse, type Change, type Component, type Design, type Figure, type Moment } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { samples } from '../../support/samples.ts';
import { SiteBuilder } from '../../support/site.ts';
import { tidewater } from '../../support/tidewater.ts';

/** Two regions: a meshed one with a supply that limits, and a small one of its own. */
function sketch(random: () => number): Design {
  const site = new SiteBuilder();
  const nodes = 5 + Math.floor(random() * 4);
  for (let node = 0; node < nodes; node++) site.joint(`X${node}`);
  for (let i = 0; i < nodes + 3; i++) {
    const from = i < nodes ? i : Math.floor(random() * nodes);
    const to = i < nodes ? (i + 1) % nodes : Math.floor(random() * nodes);
    if (from !== to) site.resistor(`R${i}`, 10 ** (1 + 2 * random())).wire(`X${from}`, `R${i}`, `X${to}`);
  }
  site.supply('G1', { volts: datum(12), limit: datum(0.05 + random()) });
  site.wire('G1.plus', 'X1').wire('G1.minus', 'X0');
  site
    .supply('G2', { volts: datum(24) })
    .joint('Y0')
    .joint('Y1')
    .resistor('S1', 470)
    .resistor('S2', 1000);
  site.wire('G2.plus', 'Y0', 'S1', 'Y1', 'S2', 'G2.minus');
  return site.build();
}

function withPart(design: Design, id: number, change: (part: Component) => Component): Design {
  return { ...design, components: design.components.map((part) => (part.id === id ? change(part) : part)) };
}

/** The same change made to the design itself. */
function changed(design: Design, change: Change): Design {
  if (change.sort === 'join') {
    const { a, b, ohms } = change;
    if (ohms === undefined) return { ...design, joins: [...design.joins, { a, b, origin: -1 }] };
    const id = design.components.length;
    const part: Component = { kind: 'resistor', id, name: 'extra', origin: -1, a, b, ohms: datum(ohms) };
    return { ...design, components: [...design.components, part] };
  }
  const scaled = (factor: number) => (part: Component) => {
    if (part.kind !== 'resistor') return part;
    return { ...part, ohms: datum(part.ohms!.usual * factor) };
  };
  if (change.sort === 'remove') return withPart(design, change.component, scaled(Number.POSITIVE_INFINITY));
  if (change.sort === 'scale') return withPart(design, change.component, scaled(change.factor));
  const part = design.components[change.sort === 'bridge' ? change.component : -1]!;
  if (part?.kind !== 'resistor') throw new Error(`no twin of ${change.sort}`);
  return { ...design, joins: [...design.joins, { a: part.a, b: part.b, origin: -1 }] };
}

function rest(design: Design): Moment {
  return analyse(design).cases[0]!.moments[0]!;
}

function expectSame(one: Figure, other: Figure, where: string): void {
  expect(one.sort, where).toBe(other.sort);
  if (one.sort !== 'value' || other.sort !== 'value') return;
  for (const end of ['least', 'usual', 'most'] as const) {
    const scale = 1e-9 * (Math.abs(other[end]) + 1e-3);
    expect(Math.abs(one[end] - other[end]), `${where} ${end}`).toBeLessThan(scale);
  }
}

describe('a varied moment', () => {
  it('answers as the changed design, for 120 seeded sites and every sort of change', () => {
    for (let seed = 1; seed <= samples(120); seed++) {
      const random = generator(seed);
      const design = sketch(random);
      const resistors = design.components.filter(({ kind }) => kind === 'resistor');
      const joints = design.components.flatMap((part) => (part.kind === 'joint' ? [part.a] : []));
      const pick = <T>(list: readonly T[]): T => list[Math.floor(random() * list.length)]!;
      const changes: Change[] = [
        { sort: 'remove', component: pick(resistors).id },
        { sort: 'bridge', component: pick(resistors).id },
        { sort: 'scale', component: pick(resistors).id, factor: 10 },
        { sort: 'join', a: pick(joints), b: pick(joints), ohms: 200 },
        { sort: 'join', a: pick(joints), b: pick(joints) },
      ];
      const base = rest(design);
      for (const change of changes) {
        if (change.sort === 'join' && change.a === change.b) continue;
        const varied = base.vary([change]);
        const truth = rest(changed(design, change));
        for (const a of joints) {
          for (const b of joints) {
            const [one, other] = [varied.volts(a, b), truth.volts(a, b)];
            // A part of exactly no ohms reads 0 V between its ends, whether or not anything drives it.
            if (change.sort === 'bridge' || (change.sort === 'join' && change.ohms === undefined)) {
              if (one.sort !== 'value' || other.sort !== 'value') continue;
            }
            expectSame(one, other, `seed ${seed} ${change.sort} volts ${a} ${b}`);
          }
        }
        for (const { id, name } of resistors) {
          if ('component' in change && change.component === id) continue;
          const [one, other] = [varied.amps(id), truth.amps(id)];
          if (one.sort !== 'value' || other.sort !== 'value') continue;
          expectSame(one, other, `seed ${seed} ${change.sort} ${name}`);
        }
      }
    }
  });

  it('runs the case again with the change from the start', () => {
    const site = tidewater();
    const highWater = analyse(site.build()).cases.find(({ name }) => name === 'high-water')!;
    const open = [{ sort: 'remove', component: site.id('K1') }] as const;
    for (const moment of highWater.moments) {
      expect(moment.vary(open).states(site.id('K1'))).toEqual(['released']);
      expect(moment.vary(open).time).toBe(moment.time);
    }
  });

  it('adds changes to those it has already', () => {
    const site = tidewater();
    const moment = analyse(site.build()).cases[0]!.moments[0]!;
    const once = moment.vary([{ sort: 'remove', component: site.id('RA') }]);
    const twice = once.vary([{ sort: 'scale', component: site.id('RE'), factor: 10 }]);
    expect(once.reading(site.id('panel.Z4')).usual).toBe('normal');
    expect(twice.reading(site.id('panel.Z4')).usual).toBe('open');
    expect(moment.reading(site.id('panel.Z4')).usual).toBe('normal');
  });
});
