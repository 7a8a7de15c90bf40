/** What can be written at the cursor, told from half-typed text. */
import { expect, test } from 'vitest';
import { findSpot } from '../../packages/server/src/completion/spot.ts';

/** The spot at `<|>`, its details flattened into one line. */
function spot(text: string): string {
  const offset = text.indexOf('<|>');
  const { spot, start } = findSpot(text.replace('<|>', ''), offset);
  const prefix = text.slice(start, offset);
  const said = Object.entries(spot)
    .filter(([key]) => key !== 'number' && key !== 'unit')
    .map(([, value]) =>
      value instanceof Set ? [...value].join('+') : Array.isArray(value) ? value.join('.') : JSON.stringify(value),
    );
  return `${said.join(' ').replaceAll('"', '')}${prefix === '' ? '' : ` <${prefix}>`}`;
}

test.each([
  // Statements.
  ['<|>', 'statement'],
  ['re<|>', 'statement <re>'],
  ['site "Mill"\n\nre<|>\nwire K1.A1 -- K2.A1', 'statement <re>'],
  ['use "types/<|>', 'file <types/>'],
  ['use "a.couplet" <|>', 'words as'],
  ['// a note about re<|>', 'nothing'],
  ['relay K1 "Held i<|>', 'nothing'],
  // Components.
  ['relay K1 : <|>', 'type relay'],
  ['relay K1 : Sig<|>', 'type relay <Sig>'],
  ['relay <|>', 'nothing'],
  ['relay K1 : Signal in <|>', 'place'],
  ['relay K1 <|>', 'words in'],
  ['resistor RE = <|>', 'rating resistor RE false'],
  ['resistor RE, RF = 2k<|>', 'unit {at:rating,subject:resistor,names:[RE,RF],joined:false} <k>'],
  ['load P1 = 6 W @ <|>', 'rating load P1 true'],
  ['load P1 = 6<|>', 'unit {at:rating,subject:load,names:[P1],joined:false}'],
  ['type Panel : <|>', 'kind'],
  // Bodies.
  ['relay K1 { <|>', 'item relay '],
  ['relay K1 { coil: 12 V, 720 ohm\n  op<|>', 'item relay coil <op>'],
  ['relay K1 {\n  suppressor: <|>', 'value relay suppressor  false'],
  ['relay K1 {\n  suppressor: di<|>\n}\nwire a -- b', 'value relay suppressor  false <di>'],
  ['relay K1 { coil: 12 V, <|>', 'value relay coil  false'],
  ['load P1 = 6 W { works: 10 V .. <|>', 'value load works  true'],
  ['load P1 = 6 W { inrush: 150% @ 10 <|>', 'item load inrush'],
  ['load P1 = 6 W { inrush: 150% @ 10<|>', 'unit {at:value,subject:load,property:inrush,owner:[],unit:P1,joined:true}'],
  ['type Panel : unit {\n  <|>', 'item unit '],
  ['type Panel : unit {\n  rail AUX { volts: 12 V  <|>', 'item rail volts'],
  ['type Panel : unit {\n  rail AUX { volts: 12 V }\n  supply IN { <|>', 'item feed '],
  ['type Panel : unit {\n  zone Z1 { bands { <|>', 'item scheme '],
  ['unit panel : Panel {\n  Q1.rated: <|>', 'value unit rated Q1 false'],
  ['site "Mill" { limits { <|>', 'item limits '],
  ['place pit { <|>', 'item place '],
  ['supply G1 = 12 V { <|>', 'item supply '],
  // Wires.
  ['wire <|>', 'reference wire '],
  ['wire lev<|>', 'reference wire  <lev>'],
  ['wire level.<|>', 'reference wire level'],
  ['wire level.V1<|>', 'reference wire level <V1>'],
  ['wire panel.Z4 -- W1.GN -- K1.11<|>', 'reference wire K1 <11>'],
  ['wire W1.GN.<|>', 'reference wire W1.GN'],
  ['wire level.V12 -- <|>', 'reference wire '],
  ['wire level.V12 <|>', 'nothing'],
  ['bond a.G -- b.G <|>', 'words because'],
  ['spare W1.RD, <|>', 'reference spare '],
  // Cases.
  ['case high-water {\n  <|>', 'words turn.expect.wait'],
  ['case high-water {\n  turn <|>', 'reference turn '],
  ['case high-water {\n  turn level.<|>', 'reference turn level'],
  ['case high-water {\n  turn level.Q1 <|>', 'state turn level.Q1'],
  ['case high-water {\n  turn level.Q1 off\n  expect panel.Z4 al<|>', 'state expect panel.Z4 <al>'],
  ['case high-water {\n  expect panel.Z4 alarm <|>', 'words within.throughout.expect.turn.wait'],
  ['case high-water {\n  expect volts <|>', 'reference between '],
  ['case high-water {\n  expect volts panel.Z4 <|>', 'words to'],
  ['case high-water {\n  expect volts panel.Z4 to panel.<|>', 'reference between panel'],
  ['case high-water after <|>', 'case'],
  // Settings, acceptances, the rest.
  ['program <|>', 'reference program '],
  ['program panel.Z4 <|>', 'setting panel.Z4 '],
  ['program panel.Z4 scheme = <|>', 'setting panel.Z4 scheme'],
  ['accept <|>', 'rule'],
  ['accept leakage-m<|>', 'rule <leakage-m>'],
  ['accept line-unprotected <|>', 'words on'],
  ['accept line-unprotected on <|>', 'reference accept '],
  ['accept line-unprotected on W1 <|>', 'words because'],
  ['accept line-unprotected on W1 because "x" <|>', 'words until'],
  ['confirm both = panel.Z1, <|>', 'reference zone '],
  ['autonomy <|>', 'reference battery '],
  ['measured 2026-10-02 {\n  <|>', 'case'],
  ['measured 2026-10-02 {\n  rest: <|>', 'words volts.ohms.amps'],
  // Assemblies.
  ['type Door : assembly {\n  <|>', 'statement'],
  ['type Door : assembly {\n  switch S1 { contacts: break }\n  wire <|>', 'reference wire '],
  ['type Door : assembly {\n  switch S1 { contacts: <|>', 'value switch contacts  false'],
  ['type Door : assembly {\n  given Z : <|>', 'kind'],
])('%s', (text, wanted) => {
  expect(spot(text)).toBe(wanted);
});

test('a value knows the component or type that it stands in', () => {
  const inside = (text: string) => {
    const found = findSpot(text, text.length).spot;
    return found.at === 'value' ? found.unit : found.at;
  };
  expect(inside('type Panel : unit {\n  zone Z1 { return: ')).toBe('Panel');
  expect(inside('type Panel : unit {\n  supply IN { plus: ')).toBe('Panel');
  expect(inside('type Door : assembly {\n  supply G1 { earthed: ')).toBe('G1');
});

test('only the statement at the cursor is read: broken ones above it change nothing', () => {
  const before = 'relay K0 { coil: 12 V, "720\nwire -- } ) §\n'.repeat(100);
  expect(spot(`${before}resistor RE = <|>`)).toBe('rating resistor RE false');
});

test('no prefix of a file makes it fail', () => {
  const file = `site "Mill" { blind: 3 }
type Panel : unit { rail AUX { volts: 10.5 V .. 13 V  return: ZC }  zone Z1 .. Z8 { bands { normal: 1k1 .. 3k9 } } }
wire panel."0V" -- K1.11-14 -- W1.RD+WH -- -- }
case x after y { expect volts a.b to c.d = 1 V  turn W1.GN shorted to W1.YE }
accept silent-fault welded on K1.11-14 because "x" until 2028-01-31
`;
  for (let end = 0; end <= file.length; end += 1) findSpot(file.slice(0, end), end);
});
