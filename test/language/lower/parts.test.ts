/** What each kind of component becomes: its facts with their spreads, what is taken for granted, types under bodies. */
import type { Datum } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { findingsOf, lowerText, partOf } from './site.ts';

function clean(text: string) {
  const lowered = lowerText(text);
  expect(findingsOf(lowered)).toEqual([]);
  return lowered.design;
}

function spread(datum: Datum | undefined): number[] | undefined {
  return datum === undefined
    ? undefined
    : [datum.least, datum.usual, datum.most].map((value) => Number(value.toPrecision(9)));
}

describe('values', () => {
  test.each<[string, number[]]>([
    ['2k2', [2200, 2200, 2200]],
    ['2k2 +-1%', [2178, 2200, 2222]],
    ['470R -15% +20%', [399.5, 470, 564]],
    ['100R +20%', [100, 100, 120]],
    ['1k0 +-50 ohm', [950, 1000, 1050]],
    ['1k .. 3k', [1000, 2000, 3000]],
    ['1k .. 1k2 .. 3k', [1000, 1200, 3000]],
    ['LIM', [1500, 1500, 1500]],
    ['AGAIN', [1500, 1500, 1500]],
    ['2  kohm', [2000, 2000, 2000]],
  ])('%s', (text, expected) => {
    const design = clean(`resistor R1 = ${text}\nvalue LIM = 1k5\nvalue AGAIN = LIM`);
    expect(spread(partOf(design, 'R1', 'resistor').ohms)).toEqual(expected);
  });

  test('a named value that leads to itself has no value', () => {
    const design = clean('resistor R1 = A\nvalue A = B\nvalue B = A');
    expect(partOf(design, 'R1', 'resistor').ohms).toBeUndefined();
  });

  test('what cannot be read is absent', () => {
    const design = clean('resistor R1 = 12 Vv\nresistor R2 = 12 V\nresistor R3');
    expect(['R1', 'R2', 'R3'].map((name) => partOf(design, name, 'resistor').ohms)).toEqual([
      undefined,
      undefined,
      undefined,
    ]);
  });

  test('a single value is what the property table says: at most, at least or exact', () => {
    const design = clean(`unit u {
  common G { earthed: no }
  rail V { volts: 12 V  limit: 1 A  return: G }
  output Q { style: source  rail: V  return: G  rated: 100 mA  drop: 0.5 V  leak: 10 uA  withstands: 30 V }
}`);
    const output = partOf(design, 'u.Q', 'output');
    expect(spread(output.drop)).toEqual([0, 0.5, 0.5]);
    expect(spread(output.leak)).toEqual([0, 10e-6, 10e-6]);
    expect(spread(output.rated)).toEqual([0.1, 0.1, 0.1]);
    expect(output.rail).toBe(partOf(design, 'u.V', 'source').id);
  });

  test('the middle of a range is assumed, 20 °C in an ambient range', () => {
    const design = clean(
      'place a { ambient: -5 degC .. 40 degC }\nplace b { ambient: 30 degC .. 50 degC }\nplace c { ambient: 15 degC }\nload P { works: 9 V .. 15 V }',
    );
    expect(design.places.map((place) => [place.ambient?.usual, place.ambient?.assumption])).toEqual([
      [20, 'usual ambient taken as 20 degC'],
      [40, 'usual ambient taken as the middle of its range'],
      [15, undefined],
    ]);
    expect(partOf(design, 'P', 'load').works?.assumption).toBe('works: middle of its range taken as usual');
  });
});

describe('types under bodies', () => {
  const TYPES = `type Q : unit {
  common G { earthed: no }
  output Q1 .. Q4 { style: sink  return: G  rated: 200 mA  drop: 0.5 V }
  scheme one { normal: below 1k  alarm: above 1k }
  scheme two { normal: below 2k  alarm: above 2k }
  zone Z1 .. Z2 { feed: 5 V via 4k7  return: G  scheme: one }
  Q2.rated: 1 A
}
`;

  test('a body overrides its type, members by dotted name, programs come last', () => {
    const design = clean(
      `${TYPES}unit a : Q { Q1.rated: 400 mA  Q1.rest: on }\nunit b : Q\nprogram a.Z2 scheme = two\nprogram a.Q1 rest = pulsing`,
    );
    const rated = (name: string) => partOf(design, name, 'output').rated?.usual;
    expect(['a.Q1', 'a.Q2', 'a.Q3', 'b.Q1', 'b.Q2'].map(rated)).toEqual([0.4, 1, 0.2, 0.2, 1]);
    expect(partOf(design, 'a.Q1', 'output').rest.word).toBe('pulsing');
    expect(['a.Z1', 'a.Z2', 'b.Z2'].map((name) => partOf(design, name, 'zone').scheme?.name)).toEqual([
      'one',
      'two',
      'one',
    ]);
  });

  test('a body may change a band of a scheme, and add members', () => {
    const design = clean(`${TYPES}unit a : Q { one.alarm: above 3k  terminal T9 }\nunit b : Q`);
    const top = (name: string) =>
      partOf(design, name, 'zone').scheme?.bands.map((band) => [band.classes.join(), band.from, band.to]);
    expect(top('a.Z1')).toEqual([
      ['normal', undefined, 1000],
      ['alarm', 3000, undefined],
    ]);
    expect(top('b.Z1')).toEqual([
      ['normal', undefined, 1000],
      ['alarm', 1000, undefined],
    ]);
    expect(partOf(design, 'a.T9', 'terminal').owner).toBe(partOf(design, 'a', 'unit').id);
  });

  test('several components share one declaration, each with its own programs', () => {
    const design = clean(`${TYPES}unit a, b : Q { Q3.rated: 3 A }\nprogram b.Q1 rest = on`);
    expect(['a.Q3', 'b.Q3'].map((name) => partOf(design, name, 'output').rated?.usual)).toEqual([3, 3]);
    expect(['a.Q1', 'b.Q1'].map((name) => partOf(design, name, 'output').rest.word)).toEqual(['off', 'on']);
  });

  test('a zone may write its bands itself, several classes and ranges too', () => {
    const design = clean(`unit p { common G  zone Z { feed: 5 V via 4k7  return: G
  bands { short: below 1 V  alarm+masked: 1 V .. 2 V, above 4 V  normal: 2 V .. 4 V } } }`);
    const { scheme } = partOf(design, 'p.Z', 'zone');
    expect(scheme?.unit).toBe('V');
    expect(scheme?.bands.map(({ classes, from, to }) => [classes, from, to])).toEqual([
      [['short'], undefined, 1],
      [['alarm', 'masked'], 1, 2],
      [['alarm', 'masked'], 4, undefined],
      [['normal'], 2, 4],
    ]);
  });

  test('a scheme in ohms and volts is told', () => {
    const lowered = lowerText(
      'unit p { common G\n zone Z { return: G  bands { short: below 1 V  normal: 1k .. 2k } } }',
    );
    expect(findingsOf(lowered)).toEqual(["bands-mixed 2:56 Scheme 'bands' counts in volts; this range does not."]);
  });
});

describe('units', () => {
  test('terminals belong to the member that declares them', () => {
    const design = clean(`unit d {
  rail V { volts: 12 V  return: G  fed-by: IN }
  supply IN { plus: P  minus: G  draws: 20 mA }
  common G { earthed: yes }
  mode alert { draws: 100 mA }
  standing: 30 mA
}`);
    const unit = partOf(design, 'd', 'unit');
    const feed = partOf(design, 'd.IN', 'feed');
    const common = partOf(design, 'd.G', 'common');
    expect(design.terminals.map((terminal) => [terminal.name, terminal.component])).toEqual([
      ['d.G', common.id],
      ['d.P', feed.id],
      ['d.V', partOf(design, 'd.V', 'source').id],
    ]);
    expect(partOf(design, 'd.V', 'source').fedBy).toBe(feed.id);
    expect(feed.b).toBe(common.a);
    expect(unit.modes.map((mode) => [mode.name, mode.draws?.most])).toEqual([['alert', 0.1]]);
    expect(unit.standing?.most).toBe(0.03);
  });

  test('inputs are fed from outside or feed their contact', () => {
    const design = clean(`unit t {
  common N { earthed: no }
  input A { plus: AP  minus: AN  ohms: 3k3  drop: 1.2 V  on: above 2 mA  off: below 1.5 mA }
  input B { feed: 5 V via 4k7  return: N  on: below 1 V  off: above 4 V }
}`);
    expect(partOf(design, 't.A', 'input')).toMatchObject({
      on: { above: 0.002, unit: 'A' },
      off: { below: 0.0015, unit: 'A' },
    });
    const fed = partOf(design, 't.B', 'input');
    expect([fed.feedVolts?.usual, fed.feedOhms?.usual]).toEqual([5, 4700]);
    expect(design.terminals[fed.a]?.name).toBe('t.B');
  });

  test('contacts stand open at rest unless they say otherwise', () => {
    const design = clean(`unit c {
  contact A { from: 1  to: 2  rest: closed  unpowered: open }
  contact B { from: 3  to: 4  unpowered: unchanged }
  contact D { common: C  nc: NC  no: NO  rest: operated  unpowered: released  rating: 3 A @ 30 V }
  contact E { common: 7  no: 8 }
}`);
    const states = ['A', 'B', 'D', 'E'].map((name) => {
      const { form, rest, unpowered } = partOf(design, `c.${name}`, 'actuator');
      return [form, rest.word, unpowered?.word, rest.assumption === undefined];
    });
    expect(states).toEqual([
      ['simple', 'operated', 'released', true],
      ['simple', 'released', 'unchanged', false],
      ['changeover', 'operated', 'released', true],
      ['changeover', 'released', undefined, false],
    ]);
    expect(partOf(design, 'c.C-NO', 'contact').rating?.amps.usual).toBe(3);
    expect(design.components.filter((part) => part.kind === 'contact').map((part) => part.name)).toEqual([
      'c.1-2',
      'c.3-4',
      'c.C-NC',
      'c.C-NO',
      'c.7-8',
    ]);
  });

  test('a rating stands behind the name, or in a body as that of a type; the nearest one counts', () => {
    const design = clean(`type Lamp6 : load { rating: 6 W @ 12 V  style: resistive }
type Battery17 : battery { rating: 12 V, 17 Ah }
load P1 : Lamp6
load P2 : Lamp6 = 5 W @ 12 V
load P3 : Lamp6 { rating: 4 W @ 12 V }
battery G1 : Battery17
fuse F1 { rating: 2 A }
resistor R1 { rating: 2k2 +-1% }`);
    expect(['P1', 'P2', 'P3'].map((name) => partOf(design, name, 'load').rating)).toMatchObject(
      [6, 5, 4].map((usual) => ({ sort: 'watts', watts: { usual }, atVolts: { usual: 12 } })),
    );
    expect(partOf(design, 'G1', 'source').ampereHours?.usual).toBe(17);
    expect(partOf(design, 'F1', 'fuse').rated?.usual).toBe(2);
    expect(partOf(design, 'R1', 'resistor').ohms).toMatchObject({ least: 2178, usual: 2200, most: 2222 });
  });

  test('a port is what it is programmed as', () => {
    const port =
      'unit t {\n common G { earthed: no }\n port X1 .. X3 { as output { style: sink  return: G  rated: 1 A }  as input { feed: 5 V via 4k7  return: G } } }';
    const design = clean(`${port}\nprogram t.X1 as = output\nprogram t.X2 as = input`);
    expect(partOf(design, 't.X1', 'output')).toMatchObject({ style: { word: 'sink' }, rated: { usual: 1 } });
    expect(partOf(design, 't.X2', 'input').feedVolts?.usual).toBe(5);
    expect(partOf(design, 't.X3', 'terminal').name).toBe('t.X3');
    expect(design.uncomputed).toEqual([]);
    expect(partOf(design, 't.X3', 'terminal').undecidedPort).toBeUndefined();
    expect(partOf(clean(`${port}\nwire t.X3 -- t.G`), 't.X3', 'terminal').undecidedPort).toBe(true);
  });

  test.each([
    ['zone Z { feed: 5 V via 4k7 }', "zone u.Z needs 'return': the common or terminal that its current comes back to."],
    ['rail V { volts: 12 V }', "rail u.V needs 'return': the common or terminal that its current comes back to."],
    ['output Q { return: G }', "output u.Q needs 'style': sink, source or push-pull."],
    ['supply IN { plus: P }', "supply u.IN needs 'minus': the terminal at its minus side, as printed on the unit."],
    ['input D { plus: P }', "input u.D needs 'minus' or 'return': the terminal at its minus side."],
    ['contact A { from: C }', "contact u.A needs its terminals: 'from' and 'to', or 'common' with 'nc' or 'no'."],
  ])('%s', (member, message) => {
    const lowered = lowerText(`unit u {\n  common G\n  ${member}\n}`);
    const column = member.indexOf(' ') + 4;
    expect(findingsOf(lowered)).toEqual([`property-missing 3:${column} ${message}`]);
  });
});

describe('relays and switches', () => {
  test('percentages of the rated volts become volts', () => {
    const design = clean(
      'relay K { coil: 24 V, 1k1 +-10%  operates: 70%  releases: 2.4 V  holds: 50%  range: 75% .. 120% }',
    );
    const relay = partOf(design, 'K', 'relay');
    expect(spread(relay.operates)).toEqual([16.8, 16.8, 16.8]);
    expect(spread(relay.releases)).toEqual([2.4, 2.4, 2.4]);
    expect(spread(relay.holds)).toEqual([12, 12, 12]);
    expect(spread(relay.range)).toEqual([18, 23.4, 28.8]);
    expect(spread(relay.ohms)).toEqual([990, 1100, 1210]);
  });

  test('what a relay does not say is assumed, or absent', () => {
    const design = clean('relay K { coil: 12 V, 360 mW }\nrelay L');
    const relay = partOf(design, 'K', 'relay');
    expect(spread(relay.ohms)).toEqual([400, 400, 400]);
    expect(relay.releases).toMatchObject({
      usual: expect.closeTo(1.2, 12),
      assumption: expect.stringContaining('releases taken as 10%'),
    });
    expect(relay.range?.assumption).toContain('110 %');
    expect(relay.rise?.assumption).toContain('30 degC');
    expect(relay.operates).toBeUndefined();
    expect(partOf(design, 'L', 'relay').rated).toBeUndefined();
  });

  test.each<[string, string[]]>([
    ['changeover', ['K.11-12 released', 'K.11-14 operated']],
    ['make', ['K.13-14 operated']],
    ['break', ['K.11-12 released']],
    ['changeover, make', ['K.11-12 released', 'K.11-14 operated', 'K.23-24 operated']],
    ['changeover 2', ['K.11-12 released', 'K.11-14 operated', 'K.21-22 released', 'K.21-24 operated']],
    ['late-changeover', ['K.15-16 released late', 'K.15-18 operated late']],
  ])('contacts: %s', (contacts, expected) => {
    const design = clean(`relay K { contacts: ${contacts} }`);
    const made = design.components.filter((part) => part.kind === 'contact');
    expect(made.map((part) => `${part.name} ${part.closes}${part.late ? ' late' : ''}`)).toEqual(expected);
  });

  test('a timer has a control, and its contacts act late', () => {
    const design = clean(
      'relay T { function: off-delay  time: 30 s  contacts: changeover }\njoint X\nwire X -- T.15-18 -- X\nwire X -- T.B1',
    );
    const relay = partOf(design, 'T', 'relay');
    expect(relay.timer).toMatchObject({
      function: { word: 'off-delay' },
      time: { usual: 30 },
      controlTo: relay.coil.b,
    });
    expect(design.terminals[relay.timer?.control ?? -1]?.name).toBe('T.B1');
    expect(clean('relay T { function: on-delay }').terminals.map((terminal) => terminal.name)).toEqual([
      'T.A1',
      'T.A2',
    ]);
    const wired = clean('relay T { function: on-delay }\njoint X\nwire X -- T.B1');
    expect(partOf(wired, 'T', 'relay').timer?.control).toBe(wired.terminals.findIndex((each) => each.name === 'T.B1'));
  });

  test('a latching relay has two coils, a pole its own facts', () => {
    const design = clean(
      'relay K { latching: two-coil  contacts: changeover  rest: set  "11-14".carries: 230 V ac  "11-14".role: safety-function }',
    );
    const relay = partOf(design, 'K', 'relay');
    expect(design.terminals[relay.secondCoil?.b ?? -1]?.name).toBe('K.B2');
    expect(relay.latching?.word).toBe('two-coil');
    expect(partOf(design, 'K.11-14', 'contact')).toMatchObject({
      carries: { volts: 230, alternating: true },
      role: { word: 'safety-function' },
    });
    expect(partOf(design, 'K.11-12', 'contact').carries).toBeUndefined();
  });

  test.each([
    ['break', 'closed', 'released'],
    ['break', 'open', 'operated'],
    ['make', 'closed', 'operated'],
    ['changeover', 'operated', 'operated'],
  ])('a switch with a %s contact that rests %s is %s', (contacts, rest, state) => {
    const design = clean(`switch S { contacts: ${contacts}  rest: ${rest} }`);
    expect(partOf(design, 'S', 'switch')).toMatchObject({ rest: { word: state }, simple: contacts !== 'changeover' });
  });
});

describe('small parts', () => {
  test('loads are rated in watts, amperes or ohms', () => {
    const design = clean(
      'load A = 6 W @ 12 V\nload B = 350 mA @ 24 V { inrush: 2 A @ 5 ms }\nload C = 100 ohm\nload D = 6 W\nload E { inrush: 300% @ 20 ms }',
    );
    const rating = (name: string) => partOf(design, name, 'load').rating;
    expect(rating('A')).toMatchObject({ sort: 'watts', watts: { usual: 6 }, atVolts: { usual: 12 } });
    expect(rating('B')).toMatchObject({ sort: 'amps', amps: { usual: 0.35 }, atVolts: { usual: 24 } });
    expect(rating('C')).toMatchObject({ sort: 'ohms', ohms: { usual: 100 } });
    expect(rating('D')).toMatchObject({ sort: 'watts', watts: { usual: 6 } });
    expect(partOf(design, 'B', 'load').inrush).toMatchObject({ amps: { most: 2 }, seconds: { usual: 0.005 } });
    expect(partOf(design, 'E', 'load').inrush).toMatchObject({ factor: { most: 3 } });
  });

  test('supplies and batteries', () => {
    const design = clean('supply G1 = 24 V, 2 A { earthed: minus  charges: G2 }\nbattery G2 = 12 V, 7 Ah');
    expect(partOf(design, 'G1', 'source')).toMatchObject({
      sort: 'supply',
      volts: { usual: 24 },
      limit: { usual: 2 },
      earthed: { word: 'minus' },
      charges: partOf(design, 'G2', 'source').id,
    });
    expect(partOf(design, 'G2', 'source')).toMatchObject({
      sort: 'battery',
      volts: { usual: 12 },
      ampereHours: { usual: 7 },
      chemistry: { word: 'agm' },
    });
  });

  test('alternating volts are not computed, and that is told once a file', () => {
    const design = clean('supply G1 = 24 V ac\nsupply G2 = 12 V ac\nrelay K { coil: 24 V ac, 50 ohm }');
    expect(design.uncomputed.map((each) => each.what)).toEqual(['alternating current']);
    expect(partOf(design, 'G1', 'source').volts).toBeUndefined();
  });

  test('diodes and fuses have their defaults, marked', () => {
    const design = clean('diode D = 1 A\nfuse F = 500 mA');
    expect(partOf(design, 'D', 'diode').drop.assumption).toContain('0.7 V');
    expect(partOf(design, 'F', 'fuse')).toMatchObject({
      rated: { usual: 0.5 },
      ohms: { usual: 0, assumption: expect.any(String) },
    });
  });

  test('cores have ohms by Ω/km, by section, or say what they lack', () => {
    const design = clean(`cable A { cores: 2  core-ohms: 95 ohm/km +-10%  length: 100 m }
cable B { cores: GN  size: 0.5 mm2  length: 100 m }
cable C { cores: GN  size: 0.22 mm2  length: 100 m }
cable D { cores: GN  length: 100 m  screen: yes }
cable E { cores: GN  size: 0.5 mm2 }
cable F { cores: GN }
cable G { cores: GN  size: 4 mm2  length: 1 km  class: 1 }`);
    expect(spread(partOf(design, 'A.2', 'core').ohms)).toEqual([8.55, 9.5, 10.45]);
    expect(partOf(design, 'B.GN', 'core').ohms?.most).toBeCloseTo(3.9, 9);
    expect(partOf(design, 'B.GN', 'core').ohms?.assumption).toContain('class 5 assumed');
    const { least = 0, usual, most } = partOf(design, 'C.GN', 'core').ohms ?? {};
    expect([(usual ?? 0) / least, (most ?? 0) / least].map((ratio) => Number(ratio.toFixed(6)))).toEqual([1.12, 1.21]);
    expect(['D.GN', 'E.GN', 'F.GN'].map((name) => partOf(design, name, 'core').lacks)).toEqual([
      'size or core-ohms',
      'length',
      'length and size or core-ohms',
    ]);
    expect(partOf(design, 'D.screen', 'core').colour).toBe('screen');
    expect(partOf(design, 'G.GN', 'core').ohms?.most).toBeCloseTo(4.61, 9);
  });
});
