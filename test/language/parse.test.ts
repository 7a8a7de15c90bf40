import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isQuantityError, parseQuantity, UNIT_SPELLINGS } from '@couplet/engine';
import {
  type Component,
  type CoupletFile,
  createCoupletCoreServices,
  type Property,
  type Wire,
} from '@couplet/language';
import { describe, expect, test } from 'vitest';

const { Couplet } = createCoupletCoreServices();
const fixtures = join(import.meta.dirname, 'fixtures');

function parse(text: string): { file: CoupletFile; errors: string[] } {
  const result = Couplet.parser.LangiumParser.parse<CoupletFile>(text);
  const errors = [...result.lexerErrors, ...result.parserErrors].map((error) => error.message);
  return { file: result.value, errors };
}

/** Names and images of the tokens of a text. */
function tokens(text: string): string[] {
  return Couplet.parser.Lexer.tokenize(text).tokens.map((token) =>
    token.tokenType.name === token.image ? token.image : `${token.tokenType.name} ${token.image}`,
  );
}

describe('files', () => {
  const files = readdirSync(fixtures, { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.couplet'),
  );

  test('there are fixtures', () => expect(files.length).toBeGreaterThanOrEqual(6));

  test.each(files)('%s parses without an error', (name) => {
    const { file, errors } = parse(readFileSync(join(fixtures, name), 'utf8'));
    expect(errors).toEqual([]);
    expect(file.statements.length).toBeGreaterThan(0);
  });
});

describe('what a token is', () => {
  test.each<[string, string[]]>([
    ['K1.11-14', ['ID K1', '.', 'DOT_NAME 11', '-', 'DOT_NAME 14']],
    ['K1.A1-A2 -- W1', ['ID K1', '.', 'DOT_NAME A1', '-', 'DOT_NAME A2', '--', 'ID W1']],
    ['W1.RD+WH', ['ID W1', '.', 'DOT_NAME RD', '+', 'DOT_NAME WH']],
    ['W1.1+2--W1.3', ['ID W1', '.', 'DOT_NAME 1', '+', 'DOT_NAME 2', '--', 'ID W1', '.', 'DOT_NAME 3']],
    ['panel."0V"', ['ID panel', '.', 'STRING "0V"']],
    ['ctrl."C 1"-"N-C"', ['ID ctrl', '.', 'STRING "C 1"', '-', 'STRING "N-C"']],
    ['panel.in', ['ID panel', '.', 'DOT_NAME in']],
    ['4 size', ['NUMBER 4', 'ID size']],
    ['4 s', ['NUMBER 4 s']],
    ['4 s: 3', ['NUMBER 4', 'KEY s', ':', 'NUMBER 3']],
    ['9 V..15 V', ['NUMBER 9 V', '..', 'NUMBER 15 V']],
    ['9..15', ['NUMBER 9', '..', 'NUMBER 15']],
    ['Z1..Z8', ['ID Z1', '..', 'ID Z8']],
    ['24 V ac', ['NUMBER 24 V ac']],
    ['95 ohm/km', ['NUMBER 95 ohm/km']],
    ['0.5 s/0.5 s', ['NUMBER 0.5 s', '/', 'NUMBER 0.5 s']],
    ['0.22mm2', ['NUMBER 0.22mm2']],
    ['0,22', ['NUMBER 0,22']],
    ['1, 2', ['NUMBER 1', ',', 'NUMBER 2']],
    ['2R2K', ['NUMBER 2R2K']],
    ['-5 degC .. 40 °C', ['SIGNED -5 degC', '..', 'NUMBER 40 °C']],
    ['2k2 +-1%', ['NUMBER 2k2', 'TOLERANCE +-1%']],
    ['2k2 ± 1 %', ['NUMBER 2k2', 'TOLERANCE ± 1 %']],
    ['10 uF -15% +20%', ['NUMBER 10 uF', 'SIGNED -15%', 'SIGNED +20%']],
    ['2028-01-31', ['DATE 2028-01-31']],
    ['in: in', ['KEY in', ':', 'ID in']],
    ['Q1.at-power-up: off', ['OWNER Q1', '.', 'DOT_KEY at-power-up', ':', 'ID off']],
    ['11-14.carries: 230 V ac', ['OWNER 11-14', '.', 'DOT_KEY carries', ':', 'NUMBER 230 V ac']],
    ['12.5 V  limit: 3', ['NUMBER 12.5 V', 'KEY limit', ':', 'NUMBER 3']],
    ['alarm+masked: 1k', ['KEY alarm+masked', ':', 'NUMBER 1k']],
    ['type X : unit', ['type', 'KEY X', ':', 'unit']],
    ['in-rush inrush', ['ID in-rush', 'ID inrush']],
    ['A – B', ['ID A', '-- –', 'ID B']],
  ])('%s', (text, expected) => expect(tokens(text)).toEqual(expected));
});

test.each(UNIT_SPELLINGS)('a number with the unit %s is one token and a value', (spelling) => {
  for (const text of [`12 ${spelling}`, `12${spelling}`]) {
    expect(tokens(text)).toEqual([`NUMBER ${text}`]);
    expect(isQuantityError(parseQuantity(text))).toBe(false);
  }
});

describe('values', () => {
  test('a missing value does not swallow the next line', () => {
    const { file } = parse('load P1 {\n  inrush:\n}\nwire A -- B\nwire C -- D');
    expect(file.statements.map((each) => each.$type)).toEqual(['Component', 'Wire', 'Wire']);
  });

  test('words of the syntax may be values', () => {
    const { file, errors } = parse('load P1 { role: input, wire  works: case }');
    expect(errors).toEqual([]);
    const [component] = file.statements as Component[];
    const properties = component?.body?.items as Property[];
    expect(properties.map((property) => property.values.length)).toEqual([2, 1]);
  });
});

test('a chain keeps its elements in order', () => {
  const { file } = parse('wire level.V12 -- K1.A1-A2 --\n  level.Q1');
  const [wire] = file.statements as Wire[];
  expect(wire?.elements.map((element) => element.head.$refText)).toEqual(['level', 'K1', 'level']);
});
