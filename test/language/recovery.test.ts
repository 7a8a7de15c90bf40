/** A half-typed file: at most one syntax finding a statement, at the right place, and everything else understood. */
import { expect, test } from 'vitest';
import { Workspace } from './support.ts';

const AFTER = '\nresistor R1 = 1k\nload P9\nwire earth -- R1 -- P9.plus\n';

test.each<[string, RegExp]>([
  ['⟦unit⟧', /A name is missing after 'unit'/],
  ['wire earth ⟦--⟧', /A name is missing after '--'/],
  ['wire earth -- R1⟦.⟧', /A name is missing after '\.'/],
  ['wire earth ⟦R1⟧', /'--' is missing between 'earth' and 'R1'/],
  ['wire earth ⟦-⟧ R1', /joined by '--'/],
  ['load P1 {\n  ⟦style⟧\n  works: 10 V .. 12 V\n}', /':' is missing after 'style'/],
  ['load P1 {\n  style⟦:⟧\n  works: 10 V .. 12 V\n}', /A value is missing after ':'/],
  ['load P1 { works: 10 V ⟦..⟧ }', /A value is missing after '\.\.'/],
  ['load P1 { works: 10 V ⟦..⟧', /A value is missing after '\.\.'/],
  ['load P1 {\n  works: 10 V .. ⟦12 V⟧', /'}' is missing after '12 V'/],
  ['relay K1 { coil: 12 V ⟦720 ohm⟧  rise: 3 degC }', /parted by commas/],
  ['case a {\n  turn ⟦P9⟧\n  expect P9 on within\n  wait\n}', /A state is missing after 'P9'/],
  ['case a {\n  expect P9 on\n  ⟦exp⟧\n}', /turn, expect, wait or '}' is expected, not 'exp'/i],
  ['load P1 ⟦"Beacon⟧', /does not end on its line/],
  ['load P1 "x"⟦;⟧', /No ';' is needed/],
  ['⟦foo⟧ bar', /begins no statement/],
  ['⟦resistr⟧ R2 = 1k', /Is 'resistor' meant\?/],
  ['⟦}⟧', /closes nothing/],
  ['type T : ⟦foo⟧ {\n  output Q1\n}', /A kind such as unit/],
  ['use ⟦types⟧/x.couplet', /A text in quotes is expected/],
  ['measured 2026-10-02 {\n  ⟦rest⟧ volts earth to earth = 3 V\n}', /':' is missing after 'rest'/],
  ['accept silent-fault welded ⟦R1⟧ because "x"', /'on' is expected after 'welded'/],
  ['program P9 ⟦=⟧ 3', /The setting/],
  ['load P1 ⟦in⟧', /A name is missing after 'in'/],
  ['load P1 ⟦=⟧', /A value is missing after '='/],
  ['load P1 ⟦:⟧', /A name is missing after ':'/],
  ['place pit ⟦ambient⟧: 3 degC', /'{' is missing before 'ambient'/],
  ['unit u { ⟦Q1⟧.rated 1 A }', /':' is missing after 'Q1.rated'/],
  ['⟦autonomy⟧', /A name is missing/],
  ['spare ⟦,⟧ ,', /A name is expected after 'spare'/],
])('%s', async (text, message) => {
  const workspace = await Workspace.of(text + AFTER);
  const findings = workspace.findings();
  const [mark] = workspace.marks.get('main.couplet') ?? [];
  expect(findings.map(({ code, start, end }) => ({ code, start, end }))).toEqual([
    { code: 'syntax-error', start: mark?.start, end: mark?.end },
  ]);
  expect(findings[0]?.message).toMatch(message);
  // The statements behind it are all there, and linked.
  const types = workspace.file().statements.map((each) => each.$type);
  expect(types.slice(-3)).toEqual(['Component', 'Component', 'Wire']);
  const wire = workspace.document().references.slice(-4);
  expect(wire.map((each) => each.error)).toEqual([undefined, undefined, undefined, undefined]);
});

test('a brace that is missing before the next member', async () => {
  const workspace = await Workspace.of(`type T : unit {
  output Q1 { style: sink
  output Q2 { style: sink }
}
unit u : T
wire u.Q1 -- u.Q2
`);
  expect(workspace.findings().map((each) => each.code)).toEqual(['syntax-error']);
});

test('two broken statements give two findings, and a wrong name between them a third', async () => {
  const workspace = await Workspace.of(
    'wire earth --\nwire earth -- R7\nload P1 { style resistive style resistive }\n',
  );
  expect(workspace.findings().map((each) => each.code)).toEqual(['syntax-error', 'name-unknown', 'syntax-error']);
});

test.each([
  '',
  ' \n\n',
  '// only a note',
  '"',
  '{',
  '\u0000',
  'unit u { zone Z1 .. Z99999999 }',
  '}}}}{{{{',
  'é — ± 5',
])('whatever is typed, there is a tree: %j', async (text) => {
  const workspace = await Workspace.of(text);
  expect(workspace.file().$type).toBe('CoupletFile');
  expect(workspace.findings().length).toBeLessThanOrEqual(text.trim().length + 1);
});

test('every prefix of the example is a tree with few findings, and none on its first line', async () => {
  const text = `site "Tidewater Mill" { blind: 3 }
type T : unit { output Q1 { style: sink  rated: 200 mA } }
unit level : T
load P1 = 6 W @ 12 V "Beacon" { style: resistive  works: 10 V .. 15 V }
wire level.Q1 -- P1.minus
case high-water "Float switch lifts" {
  turn level.Q1 on for 3 s
  expect P1 >= 10.5 V
}
`;
  const first = text.indexOf('\n');
  for (let length = first + 1; length < text.length; length += 3) {
    const workspace = await Workspace.of(text.slice(0, length));
    const findings = workspace.findings();
    expect(findings.filter((each) => each.start <= first)).toEqual([]);
    expect(findings.filter((each) => each.code === 'syntax-error').length).toBeLessThanOrEqual(1);
  }
});
