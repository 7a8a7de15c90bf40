/** Definition, references, rename and outline, across files, terminals and cores included. */
import { beforeEach, expect, test } from 'vitest';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { marked } from './client.ts';
import { Desk, FOLDER, TYPES } from './desk.ts';

const SITE = `site "Mill"
use "types.couplet"
unit panel : Panel
relay K1 : SmallRelay "High water"
cable W1 { cores: GN, YE  size: 0.22 mm2  length: 140 m }
resistor RE = 2k2
wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC
case high-water {
  expect panel.Z4 alarm
}
`;

let desk: Desk;
beforeEach(async () => {
  desk = await Desk.with({ 'types.couplet': TYPES, 'site.couplet': SITE });
});

/** Where the first `before` of the site is, the cursor right behind it. */
function cursor(before: string) {
  return desk.at('site.couplet', marked(SITE.replace(before, `${before}<|>`)).position);
}

async function definition(before: string): Promise<string[]> {
  const provider = desk.services.couplet.lsp.DefinitionProvider;
  const links = (await provider?.getDefinition(desk.document('site.couplet'), cursor(before))) ?? [];
  return desk.said(
    links.map(({ targetUri, targetSelectionRange }) => ({ uri: targetUri, range: targetSelectionRange })),
  );
}

async function references(before: string): Promise<string[]> {
  const provider = desk.services.couplet.lsp.ReferencesProvider;
  const params = { ...cursor(before), context: { includeDeclaration: true } };
  return desk.said((await provider?.findReferences(desk.document('site.couplet'), params)) ?? []).sort();
}

async function renamed(before: string, newName: string): Promise<Record<string, string>> {
  const provider = desk.services.couplet.lsp.RenameProvider;
  const edit = await provider?.rename(desk.document('site.couplet'), { ...cursor(before), newName });
  return Object.fromEntries(
    Object.entries(edit?.changes ?? {}).map(([uri, edits]) => [
      uri.slice(FOLDER.length),
      TextDocument.applyEdits(desk.document(uri.slice(FOLDER.length)).textDocument, edits),
    ]),
  );
}

test('a component leads to its declaration', async () => {
  expect(await definition('-- K')).toEqual(['site.couplet:4 K1']);
});

test('a type leads into its file', async () => {
  expect(await definition('panel : Pan')).toEqual(['types.couplet:1 Panel']);
});

test('a member leads into the type', async () => {
  expect(await definition('-- panel.Z')).toEqual(['types.couplet:3 ZC']);
});

test('a core leads to the cable', async () => {
  expect(await definition('W1.Y')).toEqual(['site.couplet:5 YE']);
});

test('references of a component are its declaration and its uses', async () => {
  expect(await references('relay K')).toEqual(['site.couplet:4 K1', 'site.couplet:7 K1']);
});

test('references of a zone in a type are found in the site', async () => {
  expect(await references('-- panel.Z')).toEqual([
    'site.couplet:7 ZC',
    'types.couplet:2 ZC',
    'types.couplet:3 ZC',
    'types.couplet:5 ZC',
  ]);
});

test('a renamed component is renamed wherever it stands', async () => {
  const { 'site.couplet': text } = await renamed('relay K', 'K7');
  expect(text).toBe(SITE.replaceAll('K1', 'K7'));
});

test('a renamed core is renamed in the cable and in the chain', async () => {
  const { 'site.couplet': text } = await renamed('W1.G', 'WH');
  expect(text).toBe(SITE.replaceAll('GN', 'WH'));
});

test('a renamed member is renamed in both files', async () => {
  const files = await renamed('-- panel.Z', 'COM');
  expect(files['site.couplet']).toBe(SITE.replaceAll('ZC', 'COM'));
  expect(files['types.couplet']).toBe(TYPES.replaceAll('ZC', 'COM'));
});

test('a terminal that the kind itself has cannot be renamed, and the editor says why', async () => {
  const provider = desk.services.couplet.lsp.RenameProvider;
  const asked = async () => provider?.prepareRename(desk.document('site.couplet'), cursor('K1.1'));
  await expect(asked()).rejects.toThrow("'11' is a name that the kind itself has: it is the same on every part of it.");
  expect(await renamed('K1.1', 'C')).toEqual({});
});

test.each([
  ['taken by something else', 'W1', /taken/],
  ['a word of the language', 'wire', /word of the language/],
  ['not a name', 'K 1', /begins with a letter/],
])('a new name that is %s is refused', async (_, newName, message) => {
  await expect(renamed('relay K', newName)).rejects.toThrow(message);
});

test('a member may get a name as printed on the equipment, quoted after dots', async () => {
  const { 'site.couplet': text, 'types.couplet': types } = await renamed('-- panel.Z', '0 V');
  expect(text).toContain('-- panel."0 V"');
  expect(types).toContain('common "0 V" {');
  expect(types).toContain('return: "0 V"');
});

test('the outline lists what a file declares, with what it is', async () => {
  const provider = desk.services.couplet.lsp.DocumentSymbolProvider;
  const uri = `${FOLDER}site.couplet`;
  const symbols = (await provider?.getSymbols(desk.document('site.couplet'), { textDocument: { uri } })) ?? [];
  expect(symbols.map(({ name }) => name)).toEqual(['Mill', 'panel', 'K1', 'W1', 'RE', 'high-water']);
  expect(symbols.find(({ name }) => name === 'K1')).toMatchObject({ detail: 'relay, High water' });
});
