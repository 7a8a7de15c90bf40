/** Cases, readings, acceptances, settings and what is spare. */
import { describe, expect, test } from 'vitest';
import { findingsOf, lowerText, partOf } from './site.ts';

const PARTS = `site "S" { blind: 2  blind-fitting: 1  ambient: 0 degC .. 30 degC  limits { output-overloaded: 90%  leakage-masks-alarm: 10k } }
place hall
type Panel : unit {
  common G { earthed: yes }
  rail AUX { volts: 12 V  return: G }
  scheme single { normal: below 4k  alarm: above 4k }
  scheme double { normal: below 4k  alarm: 4k .. 10k  open: above 10k  alarm+masked: 20k .. 30k }
  zone Z1 .. Z2 { feed: 5 V via 4k7  return: G  scheme: double }
  input D1 { feed: 5 V via 4k7  return: G }
  output Q1 { style: sink  return: G }
  contact A { from: C  to: D }
  contact B { common: 1  nc: 2  no: 3 }
}
type Siren : unit { supply IN { plus: P  minus: M  draws: 20 mA }  mode loud { draws: 300 mA } }
unit panel : Panel in hall
unit siren : Siren in hall
relay K1 in hall { coil: 12 V, 400 ohm  contacts: changeover }
relay K2 in hall { latching: two-coil }
switch S1 in hall { contacts: break }
switch S2 in hall { contacts: changeover }
load P1 in hall
fuse F1 = 1 A in hall
resistor R1 = 1k0
resistor R2 = 1k0
cable W1 { cores: GN, YE  size: 0.5 mm2  length: 10 m  from: hall  to: hall2 }
place hall2
value LIM = 10.5 V
program panel "Beacon time" = 90 s
`;

function lowerWith(statements: string) {
  const lowered = lowerText({
    'site.couplet': `${statements}\nuse "parts.couplet"`,
    'parts.couplet': PARTS.replace(/^site/, 'site'),
  });
  return { ...lowered, found: findingsOf(lowered) };
}

/** The steps of the only case, by names. */
function steps(body: string) {
  const { design, found } = lowerWith(`case c {\n${body}\n}`);
  expect(found).toEqual([]);
  return design.cases[0]?.steps.map((step) => {
    if (step.sort === 'wait') return `wait ${step.seconds.usual}`;
    if (step.sort === 'turn') {
      const parts = [design.components[step.target]?.name, step.state];
      if (step.other !== undefined) parts.push(design.components[step.other]?.name);
      if (step.for !== undefined) parts.push(`for ${step.for.usual}`);
      return parts.join(' ');
    }
    const { subject, predicate } = step;
    const what =
      subject.sort === 'between'
        ? [subject.quantity, design.terminals[subject.a]?.name, design.terminals[subject.b]?.name].join(' ')
        : `${subject.sort === 'amps' ? 'amps ' : ''}${design.components[subject.component]?.name}`;
    const { sort: _, ...asked } = predicate;
    const more = [
      step.within && `within ${step.within.usual}`,
      step.times !== undefined && `${step.times} times`,
      step.throughout && 'throughout',
    ];
    const numbers = Object.values(asked).map((each) => (typeof each === 'number' ? Number(each.toPrecision(9)) : each));
    return [what, numbers.join(' '), ...more.filter((each) => each)].join(' ');
  });
}

describe('steps', () => {
  test.each<[string, string]>([
    ['turn panel.Q1 on', 'panel.Q1 on'],
    ['turn panel.Q1 pulsing for 30 s', 'panel.Q1 pulsing for 30'],
    ['turn panel.Q1 on for panel."Beacon time"', 'panel.Q1 on for 90'],
    ['turn panel.A closed', 'panel.A closed'],
    ['turn panel.B operated', 'panel.B operated'],
    ['turn S1 open', 'S1 open'],
    ['turn S2 operated', 'S2 operated'],
    ['turn panel off', 'panel off'],
    ['turn panel.AUX off', 'panel.AUX off'],
    ['turn siren loud', 'siren loud'],
    ['turn F1 blown', 'F1 blown'],
    ['turn W1.GN cut', 'W1.GN cut'],
    ['turn W1.GN shorted to W1.YE', 'W1.GN shorted W1.YE'],
    ['turn R1 swapped with R2', 'R1 swapped R2'],
    ['turn K1.11-14 welded', 'K1.11-14 welded'],
    ['turn K1 coil-open', 'K1 coil-open'],
    ['wait 2 min', 'wait 120'],
    ['expect K1 operated', 'K1 operated'],
    ['expect K2 set', 'K2 set'],
    ['expect panel.Z1 alarm within 1 s', 'panel.Z1 alarm within 1'],
    ['expect panel.Z1 alarm+masked', 'panel.Z1 alarm+masked'],
    ['expect panel.Z1 any', 'panel.Z1 any'],
    ['expect panel.Z1 open 2 times', 'panel.Z1 open 2 times'],
    ['expect P1 off throughout', 'P1 off throughout'],
    ['expect P1 >= LIM', 'P1 >= 10.5 V'],
    ['expect P1 ≥ 10.5 V', 'P1 >= 10.5 V'],
    ['expect P1 ≤ 10.5 V', 'P1 <= 10.5 V'],
    ['expect P1 < 200 mA', 'P1 < 0.2 A'],
    ['expect P1 10 V .. 12 V', 'P1 10 12 V'],
    ['expect P1 about 100 mA', 'P1 0.1 0.099 0.101 A'],
    ['expect P1 about 100 mA +-10%', 'P1 0.1 0.09 0.11 A'],
    ['expect panel.D1 undecided', 'panel.D1 undecided'],
    ['expect siren >= 9 V', 'siren.IN >= 9 V'],
    ['expect volts K1.A1 to K1.A2 >= 9 V', 'volts K1.A1 K1.A2 >= 9 V'],
    ['expect ohms panel.Z1 to panel.Z1.return 1k .. 2k', 'ohms panel.Z1 panel.G 1000 2000 ohm'],
    ['expect amps in F1 < 1 A', 'amps F1 < 1 A'],
  ])('%s', (text, expected) => expect(steps(text)).toEqual([expected]));

  test.each<[string, string]>([
    [
      'turn panel.Q1 open',
      "state-wrong 2:15 panel.Q1 cannot be turned 'open': write on, off, pulsing, cut, earthed, stuck-on or stuck-off.",
    ],
    [
      'turn P1 on',
      "state-wrong 2:9 P1 cannot be turned 'on': write cut, earthed, missing, linked, reversed, swapped or at-other-end.",
    ],
    ['turn panel.G on', 'state-wrong 2:6 panel.G cannot be turned.'],
    ['turn W1.GN shorted', "state-wrong 2:12 'shorted' needs the other part: 'turn W1.GN shorted to …'."],
    ['turn hall off', 'component-needed 2:6 hall cannot be turned: name a component or a member of one.'],
    ['turn K1.A1 off', 'component-needed 2:6 K1.A1 cannot be turned: name a component or a member of one.'],
    ['turn K9 off', "name-unknown 2:6 There is no 'K9' on this site."],
    ['expect K1 on', "state-wrong 2:11 K1 is never 'on': write operated or released."],
    [
      'expect panel.Z1 tamper',
      "state-wrong 2:17 panel.Z1 is never 'tamper': write normal, alarm, open, masked, alarm+masked or any.",
    ],
    ['expect panel on', "state-wrong 2:14 No state can be expected of panel; expect a figure: 'expect panel >= …'."],
    ['expect P1 12 V', "comparison-missing 2:11 Say how it compares: '>= 12 V', '<= 12 V', 'about 12 V' or a range."],
    ['expect volts K1 to K1.A2 >= 9 V', 'terminal-needed 2:14 A terminal is needed here; K1 is none.'],
  ])('%s', (text, expected) => expect(lowerWith(`case c {\n${text}\n}`).found).toEqual([expected]));

  test('classes are those of the scheme that the zone is programmed to', () => {
    const { found } = lowerWith('program panel.Z1 scheme = single\ncase c {\nexpect panel.Z1 open\n}');
    expect(found).toEqual(["state-wrong 3:17 panel.Z1 is never 'open': write normal, alarm or any."]);
  });
});

describe('cases', () => {
  test('rest adds up, and turns nothing', () => {
    const { design, found } = lowerWith(
      'case rest { expect K1 released }\ncase a { wait 1 s }\ncase rest { expect P1 off\n turn S1 open }',
    );
    expect(design.cases.map(({ name, steps }) => [name, steps.length])).toEqual([
      ['rest', 2],
      ['a', 1],
    ]);
    expect(found).toEqual([
      "turn-at-rest 4:2 The case 'rest' turns nothing: write 'rest:' on the part, or 'program … rest = …'.",
    ]);
  });

  test('a case may begin where another ends, in whichever order they are written', () => {
    const { design } = lowerWith(
      'case b after a "B" { wait 1 s }\ncase a { wait 1 s }\ncase c after rest { wait 1 s }',
    );
    expect(design.cases.map(({ name, after, description }) => [name, after, description])).toEqual([
      ['b', 1, 'B'],
      ['a', undefined, undefined],
      ['c', undefined, undefined],
    ]);
  });
});

describe('the rest of a site', () => {
  test('facts of the site', () => {
    const { design } = lowerText(PARTS);
    expect(design.site).toMatchObject({
      title: 'S',
      ambient: { least: 0, usual: 20, most: 30 },
      blind: { usual: 2 },
      blindFitting: { usual: 1 },
      limits: [
        { rule: 'output-overloaded', value: 0.9, dimension: 'ratio' },
        { rule: 'leakage-masks-alarm', value: 10_000, dimension: 'ohm' },
      ],
    });
    expect(lowerText('joint X').design.fragment).toBe(true);
  });

  test('one thing is programmed once', () => {
    const { found, design } = lowerWith(
      'program panel.Q1 rest = on\nprogram panel.Q1 rest = off\nprogram panel "X" = 1\nprogram panel "X" = 2',
    );
    expect(found).toEqual([
      "programmed-twice 2:1 'Q1 rest' of panel is programmed already, on line 1.",
      "programmed-twice 4:1 'X' of panel is programmed already, on line 3.",
    ]);
    expect(partOf(design, 'panel.Q1', 'output').rest.word).toBe('on');
  });

  test('what is spare is its terminals', () => {
    const { design, found } = lowerWith('spare W1.GN, W1.YE.hall, K1.12, K1.A1-A2, panel.D1, S1, siren.IN');
    expect(found).toEqual([]);
    expect(design.spare.map((terminal) => design.terminals[terminal]?.name)).toEqual([
      'W1.GN.hall',
      'W1.GN.hall2',
      'W1.YE.hall',
      'K1.12',
      'K1.A1',
      'K1.A2',
      'panel.D1',
      'S1.11',
      'S1.12',
      'siren.P',
      'siren.M',
    ]);
    expect(lowerWith('spare hall').found).toEqual(['spare-nothing 1:7 hall has no terminal that could be spare.']);
  });

  test('readings', () => {
    const { design, found } = lowerWith(`case a { wait 1 s }
measured 2026-10-02 by "AB" with "meter 7" at 12 degC {
  rest: volts panel.Z1 to panel.G = 1.6 V
  a: amps in F1 = 12 mA
  a: ohms K1.A1 to K1.A2 = 398 ohm
}`);
    expect(found).toEqual([]);
    expect(design.readings).toMatchObject([
      {
        case: 'rest',
        quantity: 'volts',
        value: 1.6,
        date: '2026-10-02',
        by: 'AB',
        with: 'meter 7',
        celsius: { usual: 12 },
      },
      { case: 'a', quantity: 'amps', value: 0.012, component: partOf(design, 'F1', 'fuse').id },
      { case: 'a', quantity: 'ohms', value: 398, a: partOf(design, 'K1', 'relay').coil.a },
    ]);
  });

  test('acceptances', () => {
    const { design, found } = lowerWith(`accept silent-fault welded on K1.11-14 because "one" "two" until 2028-01-31
accept line-unprotected on W1.GN because "x"
accept output-overloaded on Panel because "all of them"
accept output-overloaded on hall because "x"`);
    expect(design.acceptances).toMatchObject([
      {
        rule: 'silent-fault',
        fault: 'welded',
        targets: [partOf(design, 'K1.11-14', 'contact').id],
        because: 'one two',
        until: '2028-01-31',
      },
      { rule: 'line-unprotected', targetName: 'W1.GN', targets: [partOf(design, 'W1.GN', 'core').id] },
      { rule: 'output-overloaded', targets: [partOf(design, 'panel', 'unit').id] },
    ]);
    expect(found).toEqual(['component-needed 4:29 hall cannot be accepted for: name a component, a member or a type.']);
  });
});
