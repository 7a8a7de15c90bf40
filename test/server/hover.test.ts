/** Hover without figures: what words, properties, names and values mean. */
import { beforeEach, expect, test } from 'vitest';
import { marked } from './client.ts';
import { Desk, TYPES } from './desk.ts';

let desk: Desk;
beforeEach(async () => {
  desk = await Desk.with({ 'types.couplet': TYPES });
});

async function hover(textWithCursor: string): Promise<string | undefined> {
  const { text, position } = marked(textWithCursor);
  await desk.write({ 'site.couplet': `use "types.couplet"\n${text}` });
  const below = { line: position.line + 1, character: position.character };
  const provider = desk.services.couplet.lsp.HoverProvider;
  const found = await provider?.getHoverContent(desk.document('site.couplet'), desk.at('site.couplet', below));
  return found === undefined ? undefined : (found.contents as { value: string }).value;
}

test('a resistor value: colour bands and series', async () => {
  const text = await hover('resistor RE = 2k<|>2 +-1%\n');
  expect(text).toContain('2.20 kΩ');
  expect(text).toContain('± 1%');
  expect(text).toContain('red, red, black, brown, brown');
  expect(text).toContain('series E3');
});

test('a value that is not made: what lies beside it', async () => {
  expect(await hover('resistor RE = 2k<|>5\n')).toContain('beside it 2k4 and 2k7');
});

test('a property: its sentence and its default with its origin', async () => {
  const text = await hover('relay K1 { ri<|>se: 20 degC }\n');
  expect(text).toContain('**rise**');
  expect(text).toContain('30 degC');
  expect(text).toContain('common practice');
});

test('a component where nothing is computed: kind, type, description', async () => {
  expect(await hover('relay K1 : SmallRelay "High water"\nwire K<|>1.A1 -- K1.A2\n')).toBe(
    '**K1** relay of type SmallRelay · High water',
  );
});

test('a type', async () => {
  expect(await hover('relay K1 : Small<|>Relay\n')).toBe('**SmallRelay** type of relay');
});

test('a rule in an acceptance', async () => {
  expect(await hover('relay K1 : SmallRelay\naccept coil-may-not<|>-operate on K1 because "x"\n')).toContain(
    '**coil-may-not-operate**',
  );
});

test('a word of the language', async () => {
  expect(await hover('wi<|>re a -- b\n')).toContain('Joins terminals');
});

test('nothing in an empty file or in a note', async () => {
  expect(await hover('<|>')).toBeUndefined();
  expect(await hover('// wi<|>re\n')).toBeUndefined();
});
