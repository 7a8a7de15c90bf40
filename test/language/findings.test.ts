/** What is told of a wrong text: the marked stretch, a code, and words that say what to do. */
import { describe, expect, test } from 'vitest';
import { Workspace } from './support.ts';

type Row = readonly [text: string, code: string, message: RegExp, suggestion?: string];

/** Exactly the marked stretches are told, each with this code. */
async function check([text, code, message]: Row): Promise<void> {
  const workspace = await Workspace.of(text);
  const findings = workspace.findings();
  const marks = workspace.marks.get('main.couplet') ?? [];
  expect(findings.map((each) => `${each.code} ${each.start}-${each.end} ${each.text}`)).toEqual(
    marks.map((mark) => `${code} ${mark.start}-${mark.end} ${mark.text}`),
  );
  for (const finding of findings) expect(finding.message).toMatch(message);
}

const table = (rows: readonly Row[]) =>
  test.each(rows.map((row) => [row[0], row] as const))('%s', (_, row) => check(row));

const UNIT = `type T : unit {
  supply IN { plus: V  minus: G }
  output Q1 { style: sink  return: G }
  contact C { from: A  to: B }
  contact D { common: C1  nc: N1  no: O1 }
  scheme s { normal: 1k .. 2k  alarm: above 2k  open+masked: below 1k }
  zone Z1 .. Z4 { scheme: s }
  mode busy { draws: 1 A }
}
unit u : T
load P1
relay K1 { contacts: changeover }
switch S1 { contacts: break }
fuse F1 = 1 A
resistor R1 = 1k
cable W1 { cores: RD, WH }
`;

describe('values', () => {
  table([
    ['load P1 { works: ⟦10⟧ }', 'unit-missing', /A unit is missing after 10: this needs a voltage, such as 12 V/],
    ['load P1 { works: ⟦10⟧ .. 15 V }', 'unit-missing', /end of the range needs a voltage/],
    ['load P1 { works: ⟦10 A .. 15 A⟧ }', 'dimension-wrong', /a voltage, such as 12 V, not a current/],
    ['load P1 { works: ⟦15 V .. 10 V⟧ }', 'spread-wrong', /from least to most/],
    ['cable W1 { length: ⟦12 lb⟧  route: indoor }', 'unit-unknown', /unknown unit 'lb'/i],
    ['cable W1 { length: ⟦12lb⟧ }', 'unit-unknown', /unknown unit 'lb'/i],
    ['cable W1 { size: ⟦0,22 mm2⟧ }', 'value-unreadable', /write 0\.22/],
    ['cable W1 { size: ⟦0.22 mm2 +-1%⟧ }', 'spread-wrong', /single value/],
    ['resistor R1 = ⟦2R2K⟧', 'value-unreadable', /tolerance letter/],
    ['resistor R1 = ⟦1e3 ohm⟧', 'value-unreadable', /exponents/i],
    ['resistor R1 = 2k2 ⟦+-1 V⟧', 'spread-wrong', /percentage or a resistance/],
    ['resistor R1 = 2k2 ⟦foo⟧', 'comma-missing', /commas/],
    ['resistor R1 = ⟦12 V⟧', 'dimension-wrong', /a resistance, such as 2k2, not a voltage/],
    ['relay K1 = ⟦12 V⟧', 'property-misplaced', /no rating/],
    ['load P1 { style: resistive, ⟦constant-power⟧ }', 'too-many-values', /takes one value/],
    ['relay K1 { coil: 12 V, ⟦24 V⟧ }', 'too-many-values', /same sort/],
    ['relay K1 { suppressor: zener ⟦24 A⟧ }', 'dimension-wrong', /a voltage/],
    ['relay K1 { suppressor: ⟦diode 24 V⟧ }', 'form-wrong', /stands alone/],
    ['relay K1 { suppressor: ⟦zenar 24 V⟧ }', 'word-wrong', /Is 'zener' meant\?/],
    ['load P1 { style: ⟦resistiv⟧ }', 'word-wrong', /Is 'resistive' meant\?/],
    ['load P1 { style: ⟦12 V⟧ }', 'form-wrong', /resistive, constant-current or constant-power/],
    ['site "x" { blind: ⟦1.5⟧ }', 'form-wrong', /whole number/],
    ['load P1 = ⟦6 W via 12 V⟧', 'form-wrong', /6 W @ 12 V/],
    ['load P1 = 6 W @ ⟦12 s⟧', 'dimension-wrong', /a voltage, such as 12 V, not a time/],
    ['value LIM = 10 V\ncable W1 { length: ⟦LIM⟧ }', 'dimension-wrong', /'LIM' is a voltage/],
    ['value LIM = ⟦10 lb⟧\nload P1 { off-below: LIM }', 'unit-unknown', /unknown unit/i],
    ['case a { wait ⟦3 V⟧ }', 'dimension-wrong', /a time/],
    ['measured 2026-10-02 { rest: volts earth to earth = ⟦3 A⟧ }', 'dimension-wrong', /a voltage/],
  ]);
});

describe('properties and members', () => {
  table([
    ['load P1 { ⟦styel⟧: resistive }', 'property-unknown', /A load has no property 'styel'\. Is 'style' meant\?/],
    ['type T : unit { output Q1 { ⟦leakage⟧: 1 mA } }', 'property-unknown', /Is 'leak' meant\?/],
    ['load P1 { style: resistive  ⟦style⟧: resistive }', 'property-repeated', /given twice/],
    ['relay K1 { ⟦output⟧ Q1 }', 'member-misplaced', /member of a unit/],
    ['unit u { zone Z1 { ⟦output⟧ Q1 } }', 'member-misplaced', /not stand inside another/],
    ['relay K1 { ⟦limits⟧ { output-overloaded: 90% } }', 'property-misplaced', /body of 'site'/],
    ['unit u { ⟦bands⟧ { normal: 1k .. 2k } }', 'property-misplaced', /body of a zone/],
    ['site "x" { limits { ⟦output-overloade⟧: 90% } }', 'rule-unknown', /Is 'output-overloaded' meant\?/],
    [`${UNIT}program u.Z1 ⟦schem⟧ = s`, 'property-unknown', /no setting 'schem'\. Is 'scheme' meant\?/],
    [
      `${UNIT}unit v : T { Q1.⟦ratd⟧: 1 A }`,
      'property-unknown',
      /An output has no property 'ratd'\. Is 'rated' meant\?/,
    ],
    [
      'type A : assembly { given Z : zone }\nassembly B : A { ⟦Y⟧: earth }',
      'property-unknown',
      /asks for Z, not for 'Y'/,
    ],
  ]);
});

describe('names', () => {
  table([
    ['resistor R1 = 1k\nload ⟦R1⟧\nplace ⟦R1⟧', 'name-taken', /already stands in line 1/],
    ['case rest {}\ncase rest {}\ncase a {}\ncase ⟦a⟧ {}', 'name-taken', /line 3/],
    ['unit u { zone Z1 .. Z8  zone ⟦Z5⟧ }', 'name-taken', /'Z5' is taken/],
    ['unit u { zone ⟦Z1 .. Y8⟧ }', 'count-wrong', /does not count up/],
    ['type T : unit { output Q1 }\nunit u : T { output ⟦Q1⟧ }', 'name-taken', /write 'Q1\.'/],
    ['type T : unit\nrelay K1 : ⟦T⟧', 'type-of-another-kind', /type of unit, not of relay/],
    ['type Tea : unit\nunit u : ⟦Tee⟧', 'name-unknown', /no type 'Tee' in this site\. Is 'Tea' meant\?/],
    ['resistor R1 = 1k\nwire earth -- ⟦R2⟧', 'name-unknown', /no component 'R2' in this site\. Is 'R1' meant\?/],
    ['resistor R1 = 1k\nwire earth -- R1.⟦3⟧', 'name-unknown', /The resistor 'R1' has no '3'\. It has 1, 2\./],
    ['wire earth -- ⟦R1⟧.1.2.3', 'name-unknown', /no component 'R1'/],
    [`${UNIT}wire u.⟦A-X⟧ -- earth`.replace('⟦A-X⟧', 'A-⟦X⟧'), 'name-unknown', /The unit 'u' has no/],
    [`${UNIT}wire K1.⟦22⟧-24 -- earth`.replace('-24', '-21'), 'name-unknown', /The relay 'K1' has no/],
    ['type T : unit { output Q1 { return: ⟦GND⟧ } common GDN { earthed: no } }', 'name-unknown', /Is 'GDN' meant/],
    ['load P1 in ⟦pitt⟧\nplace pit', 'name-unknown', /no place 'pitt' in this site\. Is 'pit' meant/],
    ['case a {}\ncase b after ⟦aa⟧ {}', 'name-unknown', /no case 'aa'/],
    ['load P1 { off-below: ⟦LIM⟧ }', 'name-unknown', /no value 'LIM'/],
    ['resistor R1 = 1k\ntype A : assembly { wire ⟦R1⟧ -- earth }', 'name-unknown', /named after 'given'/],
  ]);
});

describe('states, reasons, dates', () => {
  table([
    [`${UNIT}case a { turn u.Q1 ⟦closed⟧ }`, 'state-wrong', /An output is turned on, off or pulsing, not 'closed'/],
    [`${UNIT}case a { turn u.C ⟦on⟧ }`, 'state-wrong', /turned open or closed/],
    [`${UNIT}case a { turn u.D ⟦open⟧ }`, 'state-wrong', /turned operated or released/],
    [`${UNIT}case a { turn u ⟦bussy⟧ }`, 'state-wrong', /Is 'busy' meant/],
    [`${UNIT}case a { turn P1 ⟦on⟧ }`, 'state-wrong', /follows from what drives it/],
    [`${UNIT}case a { turn S1 ⟦operated⟧ }`, 'state-wrong', /open or closed/],
    [`${UNIT}case a { expect P1 ⟦operated⟧ }`, 'state-wrong', /expected on or off/],
    [`${UNIT}case a { expect u.Z1 ⟦alram⟧ }`, 'state-wrong', /Is 'alarm' meant/],
    [`${UNIT}case a { expect K1 >= ⟦12 W⟧ }`, 'dimension-wrong', /a voltage or a current/],
    [`${UNIT}case a { expect u.C ⟦> 3 V⟧ }`, 'state-wrong', /No figure/],
    [`${UNIT}case a { turn R1 ⟦swapped⟧ }`, 'state-wrong', /names a part: swapped with/],
    [`${UNIT}case a { turn R1 missing with ⟦K1⟧ }`, 'state-wrong', /names no other part/],
    [`${UNIT}case a { expect P1 on ⟦1.5⟧ times }`, 'count-wrong', /whole number/],
    [`${UNIT}⟦bond earth -- R1.1⟧`, 'reason-missing', /because/],
    [`${UNIT}accept back-feed on ⟦R1⟧`, 'reason-missing', /because/],
    [`${UNIT}accept ⟦silent-fault⟧ on R1 because "x"`, 'fault-missing', /welded on/],
    [`${UNIT}accept silent-fault ⟦weldd⟧ on K1 because "x"`, 'state-wrong', /Is 'welded' meant/],
    [`${UNIT}accept ⟦foo⟧ on R1 because "x"`, 'rule-unknown', /no rule 'foo'/],
    [`${UNIT}accept back-feed on R1 because "x" until ⟦2028-02-30⟧`, 'date-wrong', /There is no 2028-02-30/],
    ['measured ⟦2026-1-2⟧ {}', 'date-wrong', /2028-01-31/],
  ]);

  test('every state that language.md lists is taken', async () => {
    const text = `${UNIT}
relay K2 { latching: two-coil }
switch S2 { contacts: changeover }
supply G1 = 12 V
unit v { input DI1 { plus: P  minus: M }  rail AUX { volts: 12 V }  zone Z }
confirm both = u.Z1, u.Z2
case a {
  turn u.Q1 on  turn u.Q1 off  turn u.Q1 pulsing
  turn u.C open  turn u.C closed  turn S1 open  turn S1 closed
  turn u.D operated  turn u.D released  turn S2 operated  turn S2 released
  turn u on  turn u off  turn u busy  turn G1 off  turn v.AUX off  turn F1 blown
  turn W1.RD cut  turn W1.RD earthed  turn W1.RD shorted to W1.WH  turn R1 swapped with P1  turn K1.11-14 welded
  expect u.Q1 on  expect u.Q1 20 mA .. 30 mA  expect u.C open  expect u.D operated  expect S2 released
  expect K1 operated  expect K2 set  expect K1 >= 9 V  expect K1 < 30 mA
  expect u >= 9 V  expect G1 < 1 A  expect F1 < 1 A  expect P1 on  expect P1 off  expect P1 >= 10 V  expect P1 about 6 W
  expect u.Z1 alarm  expect u.Z1 any  expect u.Z1 2k .. 3k  expect u.Z1 open+masked  expect v.Z alarm
  expect v.DI1 on  expect v.DI1 undecided  expect both confirmed  expect both unconfirmed
  expect volts u.V to u.G >= 10.5 V  expect ohms u.A to u.B < 1 ohm
  expect u.Z1 alarm 0 times  expect u.Z1 alarm 2 times within 3 s  expect u.Z1 normal throughout
}
`;
    const workspace = await Workspace.of(text);
    expect(workspace.findings()).toEqual([]);
  });
});
