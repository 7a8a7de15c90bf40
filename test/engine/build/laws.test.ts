/** What each kind of part is electrically, in each of its states: its pieces, where they end, and the law of each. */
import { describe, expect, test } from 'vitest';
import type { Answer } from '../../../packages/engine/src/build/element.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import { ambient, choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

function site(): SiteBuilder {
  return new SiteBuilder().place('hut', { ambient: ambient(0, 40) });
}

interface Piece {
  readonly role: string;
  readonly counts: number;
  readonly source: boolean;
  /** The law at the usual values, or what is missing, or the word 'open'. */
  readonly usual: (state?: string) => unknown;
  readonly answer: (state?: string) => Answer;
  readonly a: number;
  readonly b: number;
}

function pieces(s: SiteBuilder, name: string): Piece[] {
  const design = s.build();
  const model = new Model(design);
  const part = design.components[s.id(name)]!;
  return (model.ofComponent[part.id] ?? []).map(({ rule, a, b }) => {
    const answer = (state = '') => rule.law(part, state, model.context);
    const usual = (state?: string) => {
      const found = answer(state);
      if (found.sort === 'lacks') return found.lacks.map(({ property }) => property);
      return found.sort === 'law' ? found.shape(found.parameters.map((each) => each.usual)) : 'open';
    };
    return { role: rule.role, counts: rule.counts, source: rule.source === true, usual, answer, a, b };
  });
}

function only(s: SiteBuilder, name: string): Piece {
  const [one, ...others] = pieces(s, name);
  expect(others).toEqual([]);
  return one!;
}

const curve = (points: readonly (readonly number[])[], before: readonly number[], after: readonly number[]) => ({
  sort: 'curve',
  curve: { points, before, after },
});

/** Parameters of a law by what they are, and whether they may be moved together. */
function causes(answer: Answer): unknown {
  return answer.sort === 'law' ? [answer.aligned, ...answer.parameters.map(({ what }) => what)] : answer.sort;
}

describe('passive parts', () => {
  test('resistor, fuse, arrester, contact', () => {
    const s = site().resistor('R1', [90, 100, 110]).fuse('F1', 0.1).switch('S1', 'make', { contactOhms: 0.2 });
    expect(only(s, 'R1').usual()).toEqual({ sort: 'ohms', ohms: 100 });
    expect(causes(only(s, 'R1').answer())).toEqual([true, 'R1']);
    expect(only(s, 'R1').counts).toBe(1);
    expect(only(s, 'F1').usual('intact')).toEqual({ sort: 'ohms', ohms: 0.1 });
    expect(only(s, 'F1').usual('blown')).toBe('open');
    expect(only(s, 'S1.13-14').usual('closed')).toEqual({ sort: 'ohms', ohms: 0.2 });
    expect(only(s, 'S1.13-14').usual('open')).toBe('open');
    const bare = site().resistor('R1', 1);
    bare.components[bare.id('R1')] = { ...bare.components[bare.id('R1')]!, ohms: undefined } as never;
    expect(only(bare, 'R1').usual()).toEqual(['rating']);
  });

  test('a diode blocks up to its drop, and backwards up to what it clamps', () => {
    const s = site()
      .diode('D1', 0.7)
      .diode('D2', 0.6, { slope: datum(2), clamps: datum(5.1) });
    expect(only(s, 'D1').usual()).toEqual(curve([[0.7, 0]], [1, 0], [0, 1]));
    expect(causes(only(s, 'D1').answer())).toEqual([false, 'D1', 'D1']);
    expect(only(s, 'D2').usual()).toEqual(
      curve(
        [
          [-5.1, 0],
          [0.6, 0],
        ],
        [0, 1],
        [2, 1],
      ),
    );
  });

  test('a core warms with its cable, and its ohms lie where those of the cable do', () => {
    const s = site()
      .place('pit', { ambient: ambient(30, 50) })
      .cable('W1', ['RD'], [1, 2, 4], 'pit', 'hut');
    s.cable('W2', ['RD'], 3, 'pit', 'pit').cable('W3', ['RD'], undefined, 'hut', 'pit');
    const law = only(s, 'W1.RD').answer();
    if (law.sort !== 'law') return expect.fail(law.sort);
    expect(causes(law)).toEqual([true, 'W1 ambient', 'W1 core']);
    expect(law.shape([20, 1])).toEqual({ sort: 'ohms', ohms: 4 });
    const cold = law.shape([40, -1]);
    expect(cold.sort === 'ohms' && cold.ohms).toBeCloseTo(1 + 20 * 0.00393, 12);
    const even = only(s, 'W2.RD').answer();
    expect(causes(even)).toEqual([true, 'W2 ambient']);
    const warm = only(s, 'W2.RD').usual() as { ohms: number };
    expect(warm.ohms).toBeCloseTo(3 * (1 + 20 * 0.00393), 12);
    expect(only(s, 'W3.RD').usual()).toEqual(['length']);
  });

  test('a capacitor is open at rest and holds its volts while they move', () => {
    const s = site().capacitor('C1', 1e-3);
    expect(only(s, 'C1').usual('')).toBe('open');
    expect(only(s, 'C1').usual('holds 3/5')).toEqual({ sort: 'volts', volts: 4 });
    const law = only(s, 'C1').answer('holds 3/5');
    expect(law.sort === 'law' && law.parameters[0]).toMatchObject({ least: 3, usual: 4, most: 5, what: 'C1 volts' });
  });
});

describe('loads', () => {
  const load = (style: 'resistive' | 'constant-current' | 'constant-power', rating: object | undefined, facts = {}) =>
    pieces(site().load('P1', style, rating as never, facts), 'P1')[0]!;
  const works = datum([9, 12, 15]);
  const [atVolts, amps, watts] = [datum(12), datum(0.5), datum(6)];

  test('resistive: from ohms, from amperes or watts at volts', () => {
    expect(load('resistive', { sort: 'ohms', ohms: datum(24) }).usual()).toEqual({ sort: 'ohms', ohms: 24 });
    expect(load('resistive', { sort: 'amps', amps, atVolts }).usual()).toEqual({ sort: 'ohms', ohms: 24 });
    expect(load('resistive', { sort: 'watts', watts, atVolts }).usual()).toEqual({ sort: 'ohms', ohms: 24 });
    expect(load('resistive', { sort: 'amps', amps: datum(0), atVolts }).usual()).toEqual({ sort: 'amps', amps: 0 });
    expect(load('resistive', { sort: 'amps', amps }).usual()).toEqual(['rating']);
    expect(load('resistive', undefined).usual()).toEqual(['rating']);
    expect(causes(load('resistive', { sort: 'watts', watts, atVolts }).answer())).toEqual([false, 'P1', 'P1']);
  });

  test('constant current: within its working range, resistive below, steady above', () => {
    const wanted = curve(
      [
        [9, 0.5],
        [15, 0.5],
      ],
      [9, 0.5],
      [15, 0.5],
    );
    expect(load('constant-current', { sort: 'amps', amps }, { works }).usual()).toEqual(wanted);
    expect(load('constant-current', { sort: 'watts', watts, atVolts }, { works }).usual()).toEqual(wanted);
    const spread = { sort: 'watts', watts: datum([5, 6, 8]), atVolts: datum([10, 12, 16]) };
    const law = load('constant-current', spread, { works }).answer();
    expect(law.sort === 'law' && law.parameters[0]).toMatchObject({ least: 5 / 16, usual: 0.5, most: 0.8 });
    expect(load('constant-current', { sort: 'amps', amps }).usual()).toEqual(['works']);
    expect(load('constant-current', { sort: 'watts', watts }, { works }).usual()).toEqual(['rating']);
    expect(load('constant-current', { sort: 'ohms', ohms: datum(24) }, { works }).usual()).toEqual(['rating']);
  });

  test('constant current from nothing, without end, and at one voltage alone', () => {
    const at = (range: readonly [number, number]) =>
      load('constant-current', { sort: 'amps', amps }, { works: datum(range) }).usual();
    expect(at([0, 15])).toEqual(
      curve(
        [
          [0, 0],
          [0, 0.5],
          [15, 0.5],
        ],
        [1, 0],
        [15, 0.5],
      ),
    );
    expect(at([9, Number.POSITIVE_INFINITY])).toEqual(curve([[9, 0.5]], [9, 0.5], [1, 0]));
    expect(at([12, 12])).toEqual(curve([[12, 0.5]], [12, 0.5], [12, 0.5]));
  });

  test('constant power within its working range', () => {
    const wanted = { sort: 'power', watts: 6, least: 9, most: 15 };
    expect(load('constant-power', { sort: 'watts', watts }, { works }).usual()).toEqual(wanted);
    expect(load('constant-power', { sort: 'amps', amps, atVolts }, { works }).usual()).toEqual(wanted);
    const none = load('constant-power', { sort: 'watts', watts: datum(0) }, { works });
    expect(none.usual()).toEqual({ sort: 'amps', amps: 0 });
    expect(load('constant-power', { sort: 'watts', watts }).usual()).toEqual(['works']);
    expect(load('constant-power', { sort: 'amps', amps }, { works }).usual()).toEqual(['rating']);
    expect(load('constant-power', { sort: 'ohms', ohms: datum(1) }, { works }).usual()).toEqual(['rating']);
  });

  test('one without a style, and one with modes', () => {
    const s = site().load('P1', 'resistive', { sort: 'ohms', ohms: datum(24) }, { works });
    s.components[s.id('P1')] = { ...s.components[s.id('P1')]!, style: undefined } as never;
    expect(only(s, 'P1').usual()).toEqual(['style']);
    const modes = [
      { name: 'busy', draws: datum(0.25), origin: -1 },
      { name: 'idle', origin: -1 },
    ];
    s.components[s.id('P1')] = { ...s.components[s.id('P1')]!, style: choice('resistive'), modes } as never;
    expect(only(s, 'P1').usual('busy')).toEqual(
      curve(
        [
          [9, 0.25],
          [15, 0.25],
        ],
        [9, 0.25],
        [15, 0.25],
      ),
    );
    expect(causes(only(s, 'P1').answer('busy'))).toEqual([true, 'P1 busy']);
    expect(only(s, 'P1').usual('idle')).toEqual(['draws']);
    expect(only(s, 'P1').usual('on')).toEqual({ sort: 'ohms', ohms: 24 });
  });

  test('its suppressor lies the other way round, and "none" is no piece', () => {
    const of = (suppressor: object) => {
      const s = site().load('P1', 'resistive', { sort: 'ohms', ohms: datum(24) }, { suppressor } as never);
      const [main, ...others] = pieces(s, 'P1');
      for (const each of others) expect([each.a, each.b, each.counts]).toEqual([main!.b, main!.a, -1]);
      return others.map((each) => [each.role, each.usual()]);
    };
    expect(of({ sort: 'none', origin: -1 })).toEqual([]);
    expect(of({ sort: 'diode', origin: -1 })).toEqual([['suppressor', curve([[0.7, 0]], [1, 0], [0, 1])]]);
    expect(of({ sort: 'zener', volts: datum(24), origin: -1 })).toEqual([
      ['suppressor', curve([[24.7, 0]], [1, 0], [0, 1])],
    ]);
    expect(of({ sort: 'zener', origin: -1 })).toEqual([['suppressor', curve([[0.7, 0]], [1, 0], [0, 1])]]);
    expect(of({ sort: 'rc', origin: -1 })).toEqual([['suppressor', 'open']]);
    expect(of({ sort: 'varistor', origin: -1 })).toEqual([['suppressor', 'open']]);
    expect(of({ sort: 'varistor', volts: datum(30), origin: -1 })).toEqual([
      [
        'suppressor',
        curve(
          [
            [-30, 0],
            [30, 0],
          ],
          [0, 1],
          [0, 1],
        ),
      ],
    ]);
  });
});

describe('what units draw and see', () => {
  test('a feed draws what it says, or what the mode of its unit says, and nothing when off', () => {
    const s = site().unit('u', {
      modes: [
        { name: 'busy', draws: datum(0.3), origin: -1 },
        { name: 'plain', origin: -1 },
      ],
    } as never);
    s.feed('u.IN', 'u.P', 'u.M', { draws: datum(0.1), works: datum([9, 15]), owner: s.id('u') } as never);
    const drawn = (state: string) =>
      (only(s, 'u.IN').usual(state) as { curve: { points: number[][] } }).curve.points[0];
    expect(drawn('on')).toEqual([9, 0.1]);
    expect(drawn('busy')).toEqual([9, 0.3]);
    expect(drawn('plain')).toEqual([9, 0.1]);
    expect(only(s, 'u.IN').usual('disconnected')).toBe('open');
    expect(only(site().feed('F', 'P', 'M', { draws: datum(0.1) }), 'F').usual('on')).toEqual(['works']);
    expect(only(site().feed('F', 'P', 'M', { works: datum([9, 15]) }), 'F').usual('on')).toEqual(['draws']);
  });

  test('an input is its ohms, behind a drop where it has one', () => {
    const of = (facts: object) => only(site().input('X1', 'X1.P', 'X1.N', facts), 'X1');
    expect(of({ ohms: datum(3300) }).usual()).toEqual({ sort: 'ohms', ohms: 3300 });
    expect(of({ ohms: datum(3300), drop: datum(1.2) }).usual()).toEqual(curve([[1.2, 0]], [1, 0], [3300, 1]));
    expect(of({ drop: datum(1.2) }).usual()).toEqual(['ohms']);
  });

  test('an input that feeds its contact is volts behind ohms', () => {
    const s = site().input('X1', 'X1.P', 'X1.N', { feedVolts: datum(5), feedOhms: datum(1000) });
    const [main, feed] = pieces(s, 'X1');
    expect(main!.usual()).toEqual({ sort: 'ohms', ohms: 1000 });
    expect([feed!.role, feed!.counts, feed!.source]).toEqual(['feed', 0, true]);
    expect(feed!.usual('on')).toEqual({ sort: 'volts', volts: 5 });
    expect(feed!.usual('unpowered')).toBe('open');
    expect(main!.a).toBe(feed!.a);
    expect(main!.b).toBe(s.build().terminals.findIndex(({ name }) => name === 'X1.P'));
    expect(pieces(site().input('X1', 'P', 'N', { feedVolts: datum(5) }), 'X1')[0]!.usual()).toEqual(['feed']);
  });

  test('a zone is volts behind ohms, and needs both', () => {
    const s = site().zone('Z1', 'Z1.C', { feedVolts: datum(5), feedOhms: datum(2200) });
    const [main, feed] = pieces(s, 'Z1');
    expect([main!.usual(), feed!.usual('on')]).toEqual([
      { sort: 'ohms', ohms: 2200 },
      { sort: 'volts', volts: 5 },
    ]);
    expect(pieces(site().zone('Z1', 'Z1.C'), 'Z1').map((each) => each.usual('on'))).toEqual([['feed'], ['feed']]);
  });
});

describe('relays', () => {
  const relay = (facts: object) => pieces(site().relay('K1', { place: 'hut', ...facts } as never), 'K1');

  test('a coil warms with its surroundings and with itself', () => {
    const [main] = relay({ ohms: datum(400) });
    const law = main!.answer();
    if (law.sort !== 'law') return expect.fail(law.sort);
    expect(causes(law)).toEqual([true, 'K1 coil', 'hut ambient', 'K1 coil rise']);
    expect(law.parameters[2]).toMatchObject({ least: 0, usual: 0, most: 30 });
    expect(law.parameters[2]!.assumption).toBe('coil of K1 taken as up to 30 °C above ambient');
    const hot = law.shape([400, 40, 30]);
    expect(hot.sort === 'ohms' && hot.ohms).toBeCloseTo(400 * (1 + 50 * 0.00393), 9);
    const given = relay({ ohms: datum(400), rise: datum(45) })[0]!.answer();
    expect(given.sort === 'law' && given.parameters[2]).toMatchObject({ least: 0, usual: 0, most: 45 });
    expect(given.sort === 'law' && given.parameters[2]!.assumption).toBeUndefined();
    expect(relay({})[0]!.usual()).toEqual(['coil']);
  });

  test('a timer may say what it draws instead of its ohms', () => {
    const timed = { function: 'on-delay', draws: datum(0.02), works: datum([9, 15]), control: true };
    const found = relay({ timed });
    expect(found.map(({ role }) => role)).toEqual(['main', 'control']);
    expect((found[0]!.usual() as { curve: { points: unknown } }).curve.points).toEqual([
      [9, 0.02],
      [15, 0.02],
    ]);
    expect([found[1]!.usual(), found[1]!.counts]).toEqual(['open', 0]);
    // The control counts against A2.
    expect(found[1]!.b).toBe(found[0]!.b);
    expect(relay({ timed: { function: 'on-delay' }, ohms: datum(400) }).map(({ role }) => role)).toEqual(['main']);
  });

  test('a second coil is another piece of the same ohms that does not count twice', () => {
    const found = relay({ ohms: datum(400), twoCoils: true });
    expect(found.map(({ role, counts }) => [role, counts])).toEqual([
      ['main', 1],
      ['second-coil', 0],
    ]);
    expect(found[1]!.usual()).toEqual(found[0]!.usual());
  });

  test('its suppressor lies across the coil the other way round', () => {
    const [main, suppressor, ...others] = relay({ ohms: datum(400), suppressor: { sort: 'diode', origin: -1 } });
    expect([suppressor!.a, suppressor!.b, suppressor!.counts, others]).toEqual([main!.b, main!.a, -1, []]);
    expect(relay({ ohms: datum(400), suppressor: { sort: 'none', origin: -1 } })).toHaveLength(1);
  });
});

describe('sources', () => {
  const source = (facts: object) => only(site().supply('G1', facts), 'G1');

  test('volts, behind ohms, up to a limit', () => {
    expect(source({ volts: datum(12) }).usual('on')).toEqual({ sort: 'volts', volts: 12 });
    expect(source({ volts: datum(12), ohms: datum(0) }).usual('on')).toEqual({ sort: 'volts', volts: 12 });
    expect(source({ volts: datum(12), ohms: datum(0.5) }).usual('on')).toEqual(curve([[12, 0]], [0.5, 1], [0.5, 1]));
    expect(source({ volts: datum(12), ohms: datum(0.5), limit: datum(2) }).usual('on')).toEqual(
      curve([[11, -2]], [1, 0], [0.5, 1]),
    );
    expect(source({ volts: datum(12) }).usual('off')).toBe('open');
    expect(source({}).usual('on')).toEqual(['volts']);
    const { source: drives, counts } = source({ volts: datum(12) });
    expect([drives, counts]).toEqual([true, -1]);
    expect(causes(source({ volts: datum(12) }).answer('on'))).toEqual([true, 'G1']);
    expect(causes(source({ volts: datum(12), ohms: datum(1) }).answer('on'))).toEqual([false, 'G1', 'G1 ohms']);
  });

  test('a battery on its charger gives and takes nothing before the charger falls', () => {
    const battery = (charger: readonly number[], facts = {}) => {
      const s = site().battery('B1', { volts: datum([10.5, 12, 14]), ...facts });
      s.supply('G1', { volts: datum(charger as never), charges: s.id('B1') });
      s.supply('G2', { volts: datum(20), charges: s.id('B1') }).supply('G3', { volts: datum(1) });
      return only(s, 'B1').answer('floating');
    };
    const law = battery([13.5, 13.6, 13.7]);
    if (law.sort !== 'law') return expect.fail(law.sort);
    // A thousandth below the least of its chargers.
    expect(law.parameters[0]).toMatchObject({ least: 10.5, usual: 12, most: 13.5 - 0.0135, what: 'B1 while charged' });
    expect(law.shape([12, 0.1])).toEqual(curve([[12, 0]], [0.1, 1], [1, 0]));
    const far = battery([15, 15, 15]);
    expect(far.sort === 'law' && far.parameters[0]).toMatchObject({ most: 14, what: 'B1' });
    const limited = battery([13.5, 13.6, 13.7], { limit: datum(2) });
    expect(limited.sort === 'law' && limited.shape([12, 0.5, 2])).toEqual(
      curve(
        [
          [11, -2],
          [12, 0],
        ],
        [1, 0],
        [1, 0],
      ),
    );
    const low = battery([9, 9, 9]);
    expect(low.sort === 'law' && low.parameters[0]).toMatchObject({ least: 9 - 0.009, usual: 9 - 0.009 });
  });

  test('what rails draw hangs where they are fed from', () => {
    const s = site().supply('G1', { volts: datum(24) });
    s.rail('V12', 'V12.M', { volts: datum(12), fedBy: s.id('G1') });
    const [, carried] = pieces(s, 'G1');
    expect([carried!.role, carried!.counts]).toEqual(['carried', 1]);
    expect(carried!.usual('0.1/0.2/0.4')).toEqual({ sort: 'amps', amps: 0.2 });
    expect(carried!.usual('0/0/0')).toBe('open');
    expect(carried!.usual('-1/0/0')).toEqual({ sort: 'amps', amps: 0 });
    expect(carried!.usual('unknown')).toEqual(['draws']);
    const law = carried!.answer('0.1/0.2/0.4');
    expect(law.sort === 'law' && law.parameters[0]).toMatchObject({ least: 0.1, most: 0.4, what: 'drawn through G1' });
    expect(pieces(s, 'V12')).toHaveLength(1);
  });
});

describe('outputs', () => {
  const DROP = curve([[0.5, 0]], [1, 0], [2, 1]);
  const facts = { drop: datum(0.5), ohms: datum(2) };

  function unit(
    style: 'sink' | 'source' | 'push-pull',
    more: object = {},
    wired: { returns?: boolean; rail?: boolean } = {},
  ) {
    const { returns = style !== 'source', rail = style !== 'sink' } = wired;
    const s = site()
      .unit('u')
      .rail('u.V', 'u.GND', { volts: datum(12) });
    s.output('u.Q1', style, {
      ...facts,
      ...(returns ? { returns: 'u.GND' } : {}),
      ...(rail ? { rail: 'u.V' } : {}),
      ...more,
    });
    return {
      s,
      list: pieces(s, 'u.Q1'),
      node: (name: string) => s.build().terminals.findIndex((each) => each.name === name),
    };
  }

  test('a sinking one conducts to its return when on, and leaks when off', () => {
    const { list, node } = unit('sink', { leak: datum(1e-4) });
    expect(list.map(({ role, a, b }) => [role, a, b])).toEqual([['low', node('u.Q1'), node('u.GND')]]);
    expect(list[0]!.usual('on')).toEqual(DROP);
    expect(list[0]!.usual('off')).toEqual(
      curve(
        [
          [0, 0],
          [0, 1e-4],
        ],
        [1, 0],
        [1, 0],
      ),
    );
    expect(list[0]!.usual('unpowered')).toBe('open');
    expect(unit('sink', { leak: datum(0) }).list[0]!.answer('off')).toEqual({ sort: 'open', assumptions: [] });
    const assumed = unit('sink').list[0]!.answer('off');
    expect(assumed).toEqual({ sort: 'open', assumptions: ['off-state leakage of u.Q1 not given, taken as none'] });
    expect(unit('sink', {}, { returns: false }).list[0]!.usual('on')).toEqual(['return']);
  });

  test('leakage that may be nothing is nothing at its least', () => {
    const law = unit('sink', { leak: datum([0, 1e-4]) }).list[0]!.answer('off');
    expect(law.sort === 'law' && law.shape([0])).toEqual(curve([[0, 0]], [1, 0], [1, 0]));
  });

  test('a sourcing one conducts from its rail when on', () => {
    const { list, node } = unit('source');
    expect(list.map(({ role, a, b }) => [role, a, b])).toEqual([['high', node('u.V'), node('u.Q1')]]);
    expect(list[0]!.usual('on')).toEqual(DROP);
    expect(list[0]!.usual('off')).toBe('open');
    expect(unit('source', {}, { rail: false }).list[0]!.usual('on')).toEqual(['rail']);
  });

  test('a push-pull one does one or the other', () => {
    const { list } = unit('push-pull', { leak: datum(1e-4) });
    expect(list.map(({ role }) => role)).toEqual(['low', 'high']);
    expect(list.map((each) => each.usual('on'))).toEqual(['open', DROP]);
    expect(list.map((each) => each.usual('off'))).toEqual([DROP, 'open']);
  });

  test('it limits only where it says so, and needs its drop or its ohms', () => {
    expect(unit('sink', { limits: datum(0.1) }).list[0]!.usual('on')).toEqual(
      curve(
        [
          [0.5, 0],
          [0.7, 0.1],
        ],
        [1, 0],
        [1, 0],
      ),
    );
    expect(unit('sink', { drop: undefined }).list[0]!.usual('on')).toEqual(curve([[0, 0]], [1, 0], [2, 1]));
    expect(unit('sink', { ohms: undefined }).list[0]!.usual('on')).toEqual(curve([[0.5, 0]], [1, 0], [0, 1]));
    expect(unit('sink', { drop: undefined, ohms: undefined }).list[0]!.usual('on')).toEqual(['drop']);
  });

  test('its body diode leads up to the rail, or up from 0 V, where it has one', () => {
    const of = (style: 'sink' | 'source', word: string, wired = {}) => {
      const { list, node } = unit(style, { bodyDiode: choice(word) }, wired);
      const found = list.find(({ role }) => role === 'body-diode');
      if (found === undefined) return undefined;
      expect([found.usual(), found.counts]).toEqual([curve([[0.7, 0]], [1, 0], [0, 1]), -1]);
      return [found.a, found.b].map((each) => ['u.Q1', 'u.V', 'u.GND'].find((name) => node(name) === each));
    };
    expect(of('source', 'yes')).toEqual(['u.Q1', 'u.V']);
    expect(of('sink', 'yes')).toEqual(['u.GND', 'u.Q1']);
    expect(of('sink', 'no')).toBeUndefined();
    expect(of('source', 'yes', { rail: false })).toBeUndefined();
    expect(of('sink', 'yes', { returns: false })).toBeUndefined();
  });
});
