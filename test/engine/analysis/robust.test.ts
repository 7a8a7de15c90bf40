/** Nonsense never throws and never becomes NaN: random parts, wired at random, with data missing at random. */
import { analyse, type Component, type Design, type Figure, type Moment, type Step } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { choice, datum } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { SiteBuilder } from '../../support/site.ts';

const FAULTS = ['cut', 'missing', 'linked', 'welded', 'never-closes', 'coil-open', 'coil-shorted', 'stuck-on', 'lost'];
const WORDS = ['on', 'off', 'pulsing', 'open', 'closed', 'operated', 'released', 'blown', 'loud', ...FAULTS];

function nonsense(seed: number): Design {
  const random = generator(seed);
  const chance = (share: number) => random() < share;
  const some = <T>(value: T): T | undefined => (chance(0.8) ? value : undefined);
  const number = (most: number) => datum([random() * most * 0.5, random() * most * 0.2 + most * 0.5, most]);
  const site = new SiteBuilder('Nonsense');
  site.place('a', chance(0.5) ? { ambient: datum([-20, 20, 50]) } : {}).place('b');
  const count = 3 + Math.floor(random() * 12);
  const pins: string[] = [];
  const names: string[] = [];
  for (let i = 0; i < count; i++) {
    const place = chance(0.5) ? 'a' : 'b';
    const name = `N${i}`;
    const kind = Math.floor(random() * 13);
    names.push(name);
    if (kind === 0) {
      site.unit(name, { place });
      site.feed(`${name}.IN`, `${name}.P`, `${name}.N`, { works: some(datum([9, 15])), draws: some(number(0.2)) });
      const fedBy = some(site.id(`${name}.IN`));
      site.rail(`${name}.V`, `${name}.G`, { volts: some(number(15)), limit: some(number(1)), fedBy });
      const style = (['sink', 'source', 'push-pull'] as const)[Math.floor(random() * 3)]!;
      site.output(`${name}.Q`, style, {
        returns: some(`${name}.G`),
        rail: some(`${name}.V`),
        drop: some(number(1)),
        leak: some(number(1e-4)),
        limits: chance(0.3) ? number(0.5) : undefined,
        bodyDiode: some(choice('yes')),
        rest: chance(0.5) ? 'on' : 'off',
      });
      site.contact(`${name}.C`, `${name}.C1`, `${name}.C2`, { rest: 'closed', unpowered: 'open' });
      site.zone(`${name}.Z`, `${name}.G`, {
        feedVolts: some(datum(5)),
        feedOhms: some(datum(4700)),
        responds: some(datum(0.4)),
        ...(chance(0.7)
          ? {
              bands: [
                ['low', undefined, 1000],
                ['high', 1500, undefined],
              ] as const,
            }
          : {}),
      });
      pins.push(...['P', 'N', 'V', 'G', 'Q', 'C1', 'C2', 'Z'].map((pin) => `${name}.${pin}`));
      names.push(...['IN', 'V', 'Q', 'C', 'Z'].map((member) => `${name}.${member}`));
      continue;
    }
    if (kind === 1)
      site.supply(name, { volts: some(number(24)), limit: some(number(2)), ohms: some(datum(0.1)), place });
    else if (kind === 2) site.battery(name, { volts: some(number(13)), ohms: some(number(0.1)), place });
    else if (kind < 5) {
      site.relay(name, {
        place,
        rated: datum(12),
        ohms: some(number(500)),
        operates: some(datum(8)),
        releases: some(datum(1)),
        operateTime: some(datum(0.01)),
        suppressor: some({ sort: 'diode', origin: -1 } as const),
        ...(chance(0.2) ? { latching: choice('reversing' as const) } : {}),
        ...(chance(0.1) ? { timer: { function: choice('on-delay' as const) } } : {}),
      });
      pins.push(...['A1', 'A2', '11', '12', '14'].map((pin) => `${name}.${pin}`));
      names.push(`${name}.11-14`);
      continue;
    } else if (kind === 5) site.resistor(name, chance(0.2) ? 0 : number(1000));
    else if (kind === 6) site.diode(name, number(0.7), { clamps: some(datum(5.6)) });
    else if (kind === 7) site.fuse(name, datum(0.1));
    else if (kind === 8) site.capacitor(name, 1e-6);
    else if (kind === 9)
      site.load(name, 'constant-power', { sort: 'watts', watts: number(20) }, { works: some(datum([6, 30])) });
    else if (kind === 10)
      site.load(name, 'constant-current', { sort: 'amps', amps: number(1) }, { works: some(datum([0, 30])) });
    else if (kind === 11) site.switch(name, chance(0.5) ? 'break' : 'make', { place });
    else site.input(name, `${name}.P`, `${name}.N`, { ohms: some(datum(3300)), drop: some(datum(1.2)) });
    const ends = ({ 1: ['plus', 'minus'], 2: ['plus', 'minus'], 6: ['A', 'K'], 12: ['P', 'N'] } as const)[kind as 1];
    const own = site.terminals.filter(({ name: pin }) => pin.startsWith(`${name}.`)).map(({ name: pin }) => pin);
    pins.push(...(ends === undefined ? own : ends.map((end) => `${name}.${end}`)));
  }
  if (chance(0.5)) pins.push('earth');
  if (pins.includes('earth')) site.earth();
  // Most ends hang on one of two poles or on each other, so that something flows.
  site
    .supply('G', { volts: datum([11, 12, 14]), limit: some(datum(3)) })
    .joint('PP')
    .joint('NN');
  site.wire('G.plus', 'PP').wire('G.minus', 'NN');
  for (const pin of pins) {
    const pole = chance(0.5) ? 'PP' : 'NN';
    site.wire(pin, chance(0.6) ? pole : pins[Math.floor(random() * pins.length)]!);
  }
  const any = () => names[Math.floor(random() * names.length)]!;
  const steps: Step[] = [];
  for (let i = 0; i < 8; i++) {
    const word = WORDS[Math.floor(random() * WORDS.length)]!;
    const what = Math.floor(random() * 4);
    if (what < 2) steps.push(site.turn(any(), word, chance(0.3) ? { for: number(10) } : {}));
    else if (what === 2) steps.push(site.wait(number(10)));
    else steps.push(site.expect(any(), word, chance(0.5) ? { within: 1 } : chance(0.3) ? { times: 1 } : {}));
  }
  return site.case('it', ...steps).build();
}

function expectSane(figure: Figure, where: string): void {
  if (figure.sort !== 'value') return;
  for (const number of [figure.least, figure.usual, figure.most]) expect(Number.isNaN(number), where).toBe(false);
  expect(figure.least, where).toBeLessThanOrEqual(figure.most);
  expect(figure.usual, where).toBeLessThanOrEqual(figure.most);
  expect(figure.usual, where).toBeGreaterThanOrEqual(figure.least);
  expect(Array.isArray(figure.mostCorner) && Array.isArray(figure.leastCorner), where).toBe(true);
}

function expectAnswers(moment: Moment, design: Design, where: string): void {
  for (const part of design.components) {
    const at = `${where} ${part.name}`;
    expect(Array.isArray(moment.states(part.id)), at).toBe(true);
    expectSane(moment.amps(part.id), `${at} amps`);
    expectSane(moment.demand(part.id), `${at} demand`);
    expectSane(moment.watts(part.id), `${at} watts`);
    if (part.kind === 'zone') expectSane(moment.reading(part.id).ohms, `${at} ohms`);
    for (const [a, b] of pairs(part)) {
      expectSane(moment.volts(a, b), `${at} volts`);
      expectSane(moment.ohms(a, b), `${at} ohms`);
    }
  }
}

function pairs(part: Component): readonly (readonly [number, number])[] {
  if (part.kind === 'relay') return [[part.coil.a, part.coil.b]];
  return 'a' in part && 'b' in part ? [[part.a, part.b]] : [];
}

describe('nonsense', () => {
  it('is answered without throwing, without NaN, with least ≤ usual ≤ most, for 150 seeds', () => {
    const sorts = new Map<string, number>();
    const count = (sort: string) => sorts.set(sort, (sorts.get(sort) ?? 0) + 1);
    for (let seed = 1; seed <= 150; seed++) {
      const design = nonsense(seed);
      const { cases, problems } = analyse(design);
      for (const { sort } of problems) count(sort);
      for (const { moments, verdicts } of cases) {
        for (const { holds } of verdicts) count(`holds ${holds}`);
        for (const moment of moments) {
          expectAnswers(moment, design, `seed ${seed} ${moment.label}`);
          for (const { id } of design.components) count(moment.amps(id).sort);
        }
      }
    }
    // The seeds reach all of these.
    for (const sort of [
      'value',
      'no-connection',
      'not-evaluated',
      'holds true',
      'holds false',
      'holds not-evaluated',
    ]) {
      expect(sorts.get(sort) ?? 0, sort).toBeGreaterThan(0);
    }
    for (const sort of ['contradictory-sources', 'relay-oscillates', 'memory', 'not-computed']) {
      expect(sorts.get(sort) ?? 0, `${sort} in ${[...sorts]}`).toBeGreaterThan(0);
    }
  });

  it('an empty site has a rest', () => {
    const { cases, problems } = analyse(new SiteBuilder().build());
    expect(cases.map(({ name }) => name)).toEqual(['rest']);
    expect(problems).toEqual([]);
  });

  it('cases that follow each other in a circle begin at rest', () => {
    const site = new SiteBuilder();
    site.case('one').caseAfter('two', 'one');
    const design = site.build();
    const circular = { ...design, cases: design.cases.map((one, i) => ({ ...one, after: 1 - i })) };
    expect(analyse(circular).cases.map(({ name }) => name)).toEqual(['rest', 'two', 'one']);
  });
});
