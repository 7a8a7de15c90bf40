/** What holds for any site: samples stay within the spreads, worst cases are worst, order of writing means nothing. */
import { analyse, type Datum, type Step } from '@couplet/engine';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { choice, datum } from '../../support/data.ts';
import { samples } from '../../support/samples.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, caseOf, EXACT, round } from './support.ts';

/** Milliseconds, so that times are short to read in a counterexample. */
const ms = (most: number) => fc.integer({ min: 0, max: most });
const span = (most: number) =>
  fc.tuple(ms(most), ms(most)).map(([a, b]): [number, number] => [Math.min(a, b), Math.max(a, b)]);

/** What is made of a span of a time: all of it, or one sample. */
type Sample = (span: readonly [number, number], index: number) => Datum;

const spread: Sample = ([least, most]) => datum([least / 1000, most / 1000]);
const sampled =
  (shares: readonly number[]): Sample =>
  ([least, most], index) =>
    datum((least + shares[index % shares.length]! * (most - least)) / 1000);

interface Plan {
  readonly relays: readonly {
    readonly operate: [number, number];
    readonly release: [number, number];
    readonly breaks: boolean;
  }[];
  readonly responds: [number, number];
  readonly presses: readonly { readonly at: [number, number]; readonly lasts: [number, number] }[];
  readonly within: number;
  readonly times: number;
  /** Of an off-delay between the last relay and the loop. */
  readonly timer: [number, number] | undefined;
}

const plan: fc.Arbitrary<Plan> = fc.record({
  relays: fc.array(fc.record({ operate: span(20), release: span(20), breaks: fc.boolean() }), {
    minLength: 1,
    maxLength: 3,
  }),
  responds: span(60),
  presses: fc.array(fc.record({ at: span(100).map(([a, b]): [number, number] => [a + 1, b + 1]), lasts: span(120) }), {
    minLength: 1,
    maxLength: 2,
  }),
  within: fc.integer({ min: 1, max: 200 }),
  times: fc.integer({ min: 0, max: 2 }),
  timer: fc.option(span(80), { nil: undefined }),
});

/** A row of relays, each worked by a contact of the one before, the last one in a loop; a button works the first. */
function built({ relays, responds, presses, within, times, timer }: Plan, take: Sample): SiteBuilder {
  let index = 0;
  const time = (of: [number, number]) => take(of, index++);
  const s = new SiteBuilder();
  s.supply('G1', { volts: datum(12) });
  s.switch('S1', 'make');
  relays.forEach(({ operate, release }, i) => {
    s.relay(`K${i}`, { ...EXACT, poles: 2, operateTime: time(operate), releaseTime: time(release) });
    const from = i === 0 ? 'S1' : relays[i - 1]!.breaks ? `K${i - 1}.11-12` : `K${i - 1}.11-14`;
    s.wire('G1.plus', from, `K${i}.A1-A2`, 'G1.minus');
  });
  const last = relays.length - 1;
  let end = `K${last}`;
  if (timer !== undefined) {
    const timed = {
      function: 'off-delay',
      time: time(timer),
      works: datum([9, 16]),
      draws: datum(0.01),
      control: true,
    } as const;
    s.relay('T1', { timed });
    s.wire('G1.plus', 'T1.A1-A2', 'G1.minus').wire('G1.plus', `K${last}.21-24`, 'T1.B1');
    end = 'T1';
  }
  const notices = time(responds);
  s.zone('Z1', 'ZC', {
    feedVolts: datum(5),
    feedOhms: datum(4700),
    bands: BANDS,
    responds: notices,
    restores: notices,
  });
  s.resistor('RE', 2200).resistor('RA', 4700);
  s.wire('Z1', `${end}.11-12`, 'RE', 'ZC').wire(`${end}.11`, 'RA', `${end}.12`);
  const steps: Step[] = [];
  for (const { at, lasts } of presses) {
    steps.push(s.wait(time(at)), s.turn('S1', 'closed', { for: time(lasts) }));
    steps.push(
      s.expect('Z1', 'alarm', { within: within / 1000 }),
      s.expect(`K${last}`, 'operated', { within: within / 1000 }),
    );
  }
  steps.push(
    s.expect('Z1', 'alarm', { times }),
    s.expect(`K${last}`, 'operated', { times }),
    s.expect('Z1', 'normal', { throughout: true }),
  );
  return s.case('it', ...steps);
}

describe('times with a spread', () => {
  it('are worst cases: what holds over the spread holds for every sample of it', () => {
    let held = 0;
    fc.assert(
      fc.property(
        plan,
        fc.array(fc.double({ min: 0.01, max: 0.99, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (made, shares) => {
          const analysis = analyse(built(made, spread).build());
          if (analysis.problems.some(({ sort }) => sort === 'bound-reached')) return;
          const wide = caseOf(analysis, 'it').verdicts;
          const narrow = caseOf(analyse(built(made, sampled(shares)).build()), 'it').verdicts;
          wide.forEach(({ holds, found }, i) => {
            const { entries } = narrow[i]!.found;
            if (found.entries !== undefined && entries !== undefined && narrow[i]!.order === undefined) {
              expect(entries.least).toBeGreaterThanOrEqual(found.entries.least);
              expect(entries.most).toBeLessThanOrEqual(found.entries.most);
            }
            if (holds !== true) return;
            held++;
            expect(narrow[i]!.holds).toBe(true);
          });
        },
      ),
      { numRuns: samples(150), seed: 20261101 },
    );
    expect(held).toBeGreaterThan(samples(100));
  });

  it('hold every sample: where nothing hesitates each event comes between its least and its most', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        plan,
        fc.array(fc.double({ min: 0.01, max: 0.99, noNaN: true }), { minLength: 12, maxLength: 12 }),
        (made, shares) => {
          const site = built(made, spread);
          const analysis = analyse(site.build());
          if (analysis.problems.some(({ sort }) => sort === 'order-decides' || sort === 'bound-reached')) return;
          const wide = caseOf(analysis, 'it').timeline;
          const narrow = caseOf(analyse(built(made, sampled(shares)).build()), 'it').timeline;
          for (const track of wide) {
            const other = narrow.find(({ component, what }) => component === track.component && what === track.what);
            if (track.what !== 'state' || other === undefined || other.points.length !== track.points.length) continue;
            track.points.forEach(({ time }, i) => {
              const sample = other.points[i]!.time;
              expect(sample.usual).toBeGreaterThanOrEqual(time.least - 1e-9);
              expect(sample.usual).toBeLessThanOrEqual(time.most + 1e-9);
              compared++;
            });
          }
        },
      ),
      { numRuns: samples(100), seed: 20261102 },
    );
    expect(compared).toBeGreaterThan(samples(240));
  });
});

describe('a case in which nothing moves by itself', () => {
  it('is told by its settled instants as it is told when it is played event by event', () => {
    let compared = 0;
    fc.assert(
      fc.property(plan, (made) => {
        const quiet: Plan = { ...made, timer: undefined };
        const site = built(quiet, spread);
        const { steps } = site.cases[0]!;
        const only = steps.filter((step) => step.sort !== 'expect' || step.within !== undefined);
        const told = (...more: readonly Step[]) => {
          site.cases.splice(0, 1);
          site.case('it', ...only, ...more);
          return caseOf(analyse(site.build()), 'it').verdicts;
        };
        const settled = told();
        // Asking how often something comes makes the case be played.
        const played = told(
          site.expect('RE', { sort: 'compare', operator: '>=', value: -1, dimension: 'A' }, { times: 0 }),
        );
        settled.forEach(({ holds, found }, at) => {
          expect(played[at]!.holds).toBe(holds);
          if (holds !== true) return;
          expect(played[at]!.found.seconds!.most).toBeCloseTo(found.seconds!.most, 9);
          compared++;
        });
      }),
      { numRuns: samples(150), seed: 20261105 },
    );
    expect(compared).toBeGreaterThan(samples(50));
  });
});

describe('a site written in another order', () => {
  /** Two buttons, a self-hold, a timer and a loop, declared in the order of a permutation. */
  function site(order: readonly number[]): SiteBuilder {
    const s = new SiteBuilder();
    s.supply('G1', { volts: datum(12) });
    const parts: (() => void)[] = [
      () => s.relay('K1', { ...EXACT, selfHold: choice('meant') }),
      () => s.relay('K2', EXACT),
      () =>
        s.relay('T1', {
          timed: { function: 'off-delay', time: datum(0.5), works: datum([9, 16]), draws: datum(0.01) },
        }),
      () => s.switch('S1', 'make'),
      () => s.switch('S2', 'break'),
      () => s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(100) }, { works: datum([9, 16]) }),
    ];
    for (const i of order) parts[i]!();
    const chains: (readonly string[])[] = [
      ['G1.plus', 'S2', 'S1', 'K1.A1-A2', 'G1.minus'],
      ['S2.12', 'K1.11-14', 'K1.A1'],
      ['K1.A1', 'K2.A1-A2', 'G1.minus'],
      ['G1.plus', 'K2.11-14', 'T1.A1-A2', 'G1.minus'],
      ['G1.plus', 'T1.11-14', 'P1', 'G1.minus'],
    ];
    for (const i of order) if (chains[i] !== undefined) s.wire(...chains[i]!);
    return s.case(
      'it',
      s.turn('S1', 'closed', { for: 0.1 }),
      s.wait(1),
      s.expect('P1', 'on'),
      s.turn('S2', 'open', { for: 0.2 }),
      s.expect('P1', 'off', { within: 0.6 }),
      s.expect('P1', 'on', { times: 1 }),
    );
  }

  function told(s: SiteBuilder) {
    const one = caseOf(analyse(s.build()), 'it');
    const lines = one.timeline.map(({ component, what, points }) => {
      const name = s.components[component]!.name;
      return `${name} ${what} ${points.map(({ time, states }) => `${round(time.usual)} ${states.join('/')}`).join(', ')}`;
    });
    return { verdicts: one.verdicts.map(({ holds }) => holds), lines: lines.sort() };
  }

  it('does the same at the same times', () => {
    const first = told(site([0, 1, 2, 3, 4, 5]));
    expect(first.verdicts).toEqual([true, true, true]);
    fc.assert(
      fc.property(fc.shuffledSubarray([0, 1, 2, 3, 4, 5], { minLength: 6 }), (order) => {
        expect(told(site(order))).toEqual(first);
      }),
      { numRuns: samples(40), seed: 20261103 },
    );
  });
});

describe('a relay on volts that only rise, and then only fall', () => {
  it('operates at most once and releases at most once', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 10, max: 400 }), { minLength: 2, maxLength: 5 }),
        fc.integer({ min: 1, max: 40 }),
        fc.double({ min: 2, max: 11, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (ohms, wait, operates, share) => {
          const s = new SiteBuilder();
          s.supply('G1', { volts: datum(12) });
          s.relay('K1', {
            ...EXACT,
            operates: datum(operates),
            holds: datum(operates * share),
            releases: datum(operates * share),
          });
          const chain: string[] = ['G1.plus'];
          ohms.forEach((each, i) => {
            s.resistor(`R${i}`, each).switch(`S${i}`, 'make');
            chain.push(`R${i}`);
          });
          s.wire(...chain, 'K1.A1-A2', 'G1.minus');
          ohms.forEach((_, i) => {
            s.wire(`R${i}.1`, `S${i}`, `R${i}.2`);
          });
          const steps: Step[] = [];
          for (const state of ['closed', 'open'] as const) {
            const order = ohms.map((_, i) => i);
            for (const i of state === 'closed' ? order : order.reverse()) {
              steps.push(s.turn(`S${i}`, state), s.wait(wait / 1000));
            }
          }
          s.case('it', ...steps, s.expect('K1', 'operated', { times: 1 }));
          const [verdict] = caseOf(analyse(s.build()), 'it').verdicts;
          const { most } = verdict!.found.entries!;
          expect(most).toBeLessThanOrEqual(1);
        },
      ),
      { numRuns: samples(100), seed: 20261104 },
    );
  });
});
