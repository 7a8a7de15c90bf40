/** What an editor shows around the text of the worked example, asked over the wire. */
import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import {
  type CodeAction,
  CodeActionRequest,
  CodeLensRequest,
  CodeLensResolveRequest,
  DocumentHighlightRequest,
  DocumentLinkRequest,
  FoldingRangeRequest,
  HoverRequest,
  InlayHintRequest,
  type Position,
  type Range,
  SelectionRangeRequest,
  SemanticTokensRequest,
  SignatureHelpRequest,
  WorkspaceSymbolRequest,
} from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Client, root, SOURCE } from './client.ts';

// The worked example alone: what is asked of it shall not wait for other sites.
const path = mkdtempSync(join(tmpdir(), 'couplet-features-'));
for (const part of ['types', 'tidewater-mill']) {
  cpSync(join(root, 'examples', part), join(path, part), { recursive: true });
}
const folder = pathToFileURL(path).href;
const uri = `${folder}/tidewater-mill/site.couplet`;
const TEXT = readFileSync(join(root, 'examples/tidewater-mill/site.couplet'), 'utf8');

let client: Client;
let version = 1;
let document = TextDocument.create(uri, 'couplet', version, TEXT);
const textDocument = { uri };
const whole: Range = { start: { line: 0, character: 0 }, end: { line: 1000, character: 0 } };

beforeAll(async () => {
  client = await Client.start(SOURCE, folder);
  await client.open(uri, TEXT);
}, 30_000);
afterAll(async () => {
  await client.stop();
  rmSync(path, { recursive: true, force: true });
  expect(client.errors).toEqual([]);
});

async function change(...edits: readonly (readonly [from: string, to: string])[]): Promise<void> {
  let text = TEXT;
  for (const [from, to] of edits) {
    expect(text).toContain(from);
    text = text.replace(from, to);
  }
  version += 1;
  document = TextDocument.create(uri, 'couplet', version, text);
  await client.change(uri, text, version);
}

function at(words: string, into = 0): Position {
  const offset = document.getText().indexOf(words);
  expect(offset, words).toBeGreaterThanOrEqual(0);
  return document.positionAt(offset + into);
}

async function actions(words: string, only?: string[]): Promise<CodeAction[]> {
  const position = at(words);
  const range = { start: position, end: at(words, words.length) };
  const context = { diagnostics: [], ...(only === undefined ? {} : { only }) };
  return ((await client.connection.sendRequest(CodeActionRequest.type, { textDocument, range, context })) ??
    []) as CodeAction[];
}

test('the first hover waits for the figures', async () => {
  const hover = await client.connection.sendRequest(HoverRequest.type, { textDocument, position: at('load P1', 5) });
  expect(JSON.stringify(hover?.contents)).toContain('521 mA');
});

describe('a line over the loop', () => {
  async function lines(): Promise<string[]> {
    const lenses = (await client.connection.sendRequest(CodeLensRequest.type, { textDocument })) ?? [];
    expect(lenses.map(({ command }) => command)).toEqual(lenses.map(() => undefined));
    const told = await Promise.all(
      lenses.map((lens) => client.connection.sendRequest(CodeLensResolveRequest.type, lens)),
    );
    return told.map(({ command, range }) => `${document.getText(range)}: ${command?.title}`);
  }

  test('says what the zone reads at rest and in the cases, and how many faults blind it', async () => {
    expect(await lines()).toEqual([
      'panel.Z4 -- W1.GN: panel.Z4: rest 2.227 kΩ normal · high-water 6.927 kΩ alarm · supply-lost 6.927 kΩ alarm · 3 blind faults',
    ]);
  });

  test('follows the text: without a case nothing can be lost, and that is said', async () => {
    const from = TEXT.indexOf('case high-water');
    const until = TEXT.indexOf('\n}', TEXT.lastIndexOf('case ')) + 3;
    await change([TEXT.slice(from, until), '']);
    expect(await lines()).toEqual([
      expect.stringMatching(/rest 2\.227 kΩ normal · faults not evaluated: no case changes it$/),
    ]);
    await change();
  });
});

describe('single faults as data', () => {
  interface Told {
    root: string;
    site: string;
    errors: number;
    zones: {
      zone: string;
      columns: { case: string; expected: string }[];
      faults: { fault: string; class: string; group: string; uri: string; range: Range; rest: { ohms: object } }[];
    }[];
    loads?: { part: string; fault: string; case: string }[];
  }
  const faults = async (params: object) => (await client.connection.sendRequest('couplet/faults', params)) as Told[];

  test('of one zone: its blind service faults, each with the place of its part', async () => {
    const [site, ...none] = await faults({ uri, zone: 'panel.Z4', classes: ['blind'] });
    expect(none).toEqual([]);
    expect(site).toMatchObject({ root: uri, site: 'Tidewater Mill', errors: 0 });
    expect(site?.loads).toBeUndefined();
    const [zone] = site?.zones ?? [];
    expect(zone?.columns[0]).toEqual({ case: 'high-water', expected: 'alarm' });
    const service = zone?.faults.filter(({ group }) => group === 'service') ?? [];
    expect(service.map(({ fault }) => fault)).toEqual(['level.Q1 stuck on', 'K1.11-14 welded', 'RA linked']);
    const linked = service.find(({ fault }) => fault === 'RA linked');
    expect(linked?.uri).toBe(uri);
    expect([document.getText(linked?.range), linked?.range.start]).toEqual(['RA', at('resistor RA', 9)]);
    expect(linked?.rest.ohms).toMatchObject({ usual: expect.closeTo(2227, 0) });
  });

  test('of all sites: every zone, and what fails an expectation while the zones say nothing', async () => {
    const told = await faults({});
    expect(told.map(({ site }) => site)).toEqual(['Tidewater Mill']);
    expect(told[0]?.zones.map(({ zone }) => zone)).toEqual(['panel.Z4']);
    expect(told[0]?.zones[0]?.faults.length).toBeGreaterThan(20);
    expect(told[0]?.loads).toContainEqual({ part: 'P1', fault: 'P1 missing', case: 'high-water' });
  });

  test('of a zone that is not there: nothing', async () => {
    expect(await faults({ zone: 'panel.Z9' })).toEqual([]);
  });
});

test('figures stand beside the names that parts are declared by', async () => {
  const hints = await client.connection.sendRequest(InlayHintRequest.type, { textDocument, range: whole });
  const said = hints?.map(({ label, position, tooltip }) => {
    const line = document.getText({ start: { ...position, character: 0 }, end: position });
    return `${line}| ${label} (${tooltip})`;
  });
  expect(said).toEqual([
    'relay K1| 12.3 V (Greatest usual coil volts: rest, at rest)',
    'resistor RE| 1.15 mW (Greatest usual power: rest, at rest)',
    'resistor RA| 869 µW (Greatest usual power: high-water, after level.Q1 off, level.Q2 on)',
    'load P1| 521 mA (Greatest usual current: high-water, after level.Q1 off, level.Q2 on)',
  ]);
});

test('folding, highlights, links, symbols', async () => {
  const folds = await client.connection.sendRequest(FoldingRangeRequest.type, { textDocument });
  expect(folds?.length).toBeGreaterThan(4);
  const position = at('wire level.V12 -- P1', 19);
  const highlights = await client.connection.sendRequest(DocumentHighlightRequest.type, { textDocument, position });
  expect(highlights?.map(({ range }) => document.getText(range))).toEqual(['P1', 'P1', 'P1', 'P1', 'P1']);
  const links = await client.connection.sendRequest(DocumentLinkRequest.type, { textDocument });
  expect(links?.map(({ range, target }) => [document.getText(range), target])).toContainEqual([
    '../types/pit-controller.couplet',
    `${folder}/types/pit-controller.couplet`,
  ]);
  const symbols = await client.connection.sendRequest(WorkspaceSymbolRequest.type, { query: 'PitContr' });
  expect(symbols?.map(({ name }) => name)).toEqual(['PitController']);
});

test('selections grow from the word to the file', async () => {
  const [chain] =
    (await client.connection.sendRequest(SelectionRangeRequest.type, {
      textDocument,
      positions: [at('wire level.V12 -- P1', 19)],
    })) ?? [];
  const texts: string[] = [];
  for (let each = chain; each !== undefined; each = each.parent) texts.push(document.getText(each.range));
  expect(texts[0]).toBe('P1');
  expect(texts).toContain('wire level.V12 -- P1 -- level.Q2');
  expect(texts.at(-1)).toBe(document.getText());
});

test('names are coloured by what they are', async () => {
  const { capabilities } = await client.initialized;
  const types = (capabilities.semanticTokensProvider as { legend: { tokenTypes: string[] } }).legend.tokenTypes;
  const { data } = (await client.connection.sendRequest(SemanticTokensRequest.type, { textDocument })) ?? { data: [] };
  const found = new Map<string, string>();
  let [line, character] = [0, 0];
  for (let index = 0; index < data.length; index += 5) {
    const [lines = 0, characters = 0, length = 0, type = 0] = data.slice(index);
    character = lines === 0 ? character + characters : characters;
    line += lines;
    const start = { line, character };
    found.set(document.getText({ start, end: { line, character: character + length } }), types[type] ?? '');
  }
  expect(Object.fromEntries(found)).toMatchObject({
    P1: 'variable',
    PitController: 'type',
    pit: 'namespace',
    V12: 'property',
    'high-water': 'function',
    alarm: 'enumMember',
  });
});

test('what a value may be is said while it is written', async () => {
  await change(['length: 140 m', 'length: ']);
  const position = at('length: ', 8);
  const help = await client.connection.sendRequest(SignatureHelpRequest.type, { textDocument, position });
  expect(help?.signatures[0]?.label).toMatch(/^length: .*140 m|^length: a length/);
  await change();
});

describe('fixes', () => {
  test('a proven one is offered with its figure, at its finding, and applied makes it go', async () => {
    await change(['K1.11-14 --', 'K1.11-12 --'], ['RA -- K1.14', 'RA -- K1.12']);
    const found = await actions('panel.Z4 -- W1.GN');
    expect(found.map(({ title }) => title)).toEqual([
      expect.stringMatching(/^Wire K1\.11-14 .*: ohms at panel\.Z4 2\.\d+ kΩ/),
    ]);
    const edits = found[0]?.edit?.changes?.[uri] ?? [];
    expect(TextDocument.applyEdits(document, edits)).toBe(TEXT);
    await change();
    expect(await actions('panel.Z4 -- W1.GN')).toEqual([]);
  });

  test('spelling is mended by fix all, what is fitted is not', async () => {
    await change(['wire level.V12 -- P1', 'wire level.v12 -- P1'], ['RE = 2k2', 'RE = 2k3']);
    const [preferred] = await actions('level.v12 -- P1');
    expect(preferred).toMatchObject({ title: "Write 'V12'", kind: 'quickfix', isPreferred: true });
    const [all, ...none] = await actions('level.v12 -- P1', ['source.fixAll']);
    expect(none).toEqual([]);
    const edits = all?.edit?.changes?.[uri] ?? [];
    expect(TextDocument.applyEdits(document, edits)).toBe(TEXT.replace('RE = 2k2', 'RE = 2k3'));
    await change();
  });
});

describe('cases as tests', () => {
  test('are found with their places, and pass', async () => {
    const cases = (await client.connection.sendRequest('couplet/cases')) as { id: string; name: string; uri: string }[];
    const here = cases.filter((each) => each.uri === uri);
    expect(here.map(({ name }) => name)).toContain('high-water');
    const ids = here.map(({ id }) => id);
    const outcomes = (await client.connection.sendRequest('couplet/runCases', { ids })) as { outcome: string }[];
    expect(outcomes.map(({ outcome }) => outcome)).toEqual(ids.map(() => 'passed'));
  });

  test('say at the expectation what is expected and what was computed', async () => {
    await change(['expect P1 >= 10.5 V', 'expect P1 >= 15 V']);
    const outcomes = (await client.connection.sendRequest('couplet/runCases', {})) as {
      id: string;
      outcome: string;
      failures: { expected: string; actual: string; range: Range }[];
    }[];
    const failed = outcomes.filter(({ outcome }) => outcome === 'failed');
    expect(failed.map(({ id }) => id)).toEqual([`${uri}#high-water`]);
    expect(failed[0]?.failures).toEqual([
      expect.objectContaining({ expected: 'P1 >= 15.0 V', actual: expect.stringMatching(/^\d.* V/) }),
    ]);
    const range = failed[0]?.failures[0]?.range as Range;
    expect(document.getText(range)).toBe('expect P1 >= 15 V');
    await change();
  });
});
