/** The generic types that come with the language: sound, laid out, with an origin for every figure, found from everywhere. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  BUNDLED_PATHS,
  bundledText,
  bundledUri,
  format,
  isComponent,
  isRenamable,
  isTypeDeclaration,
  usedUri,
} from '@couplet/language';
import { describe, expect, test } from 'vitest';
import { Workspace } from './support.ts';

const FOLDER = join(import.meta.dirname, '../../packages/language/library');
const REFERENCES = join(import.meta.dirname, '../reference');

const textOf = (path: string) => bundledText(bundledUri(path) as string) as string;

test('every file beside the built-in names is bundled as it stands', () => {
  const files = readdirSync(FOLDER).filter((name) => name !== 'builtin.couplet');
  expect(BUNDLED_PATHS).toEqual(files.sort().map((name) => `library/${name}`));
  for (const path of BUNDLED_PATHS) expect(textOf(path)).toBe(readFileSync(join(FOLDER, '..', path), 'utf8'));
});

describe.each(BUNDLED_PATHS)('%s', (path) => {
  test('has nothing to be told of, and holds types alone', async () => {
    const workspace = await Workspace.of({ [path]: textOf(path) });
    expect(workspace.findings(path)).toEqual([]);
    expect(workspace.file(path).statements.map((statement) => statement.$type)).toEqual(
      workspace.file(path).statements.map(() => 'TypeDeclaration'),
    );
    for (const type of workspace.file(path).statements.filter(isTypeDeclaration)) {
      expect(type.description, `${type.name} is described`).toHaveLength(1);
    }
  });

  test('is laid out', () => {
    expect(format(textOf(path)).text).toBe(textOf(path));
  });

  test('says where each figure comes from', () => {
    expect(figuresWithoutOrigin(textOf(path))).toEqual([]);
  });

  test('names no maker', () => {
    const words = new Set(
      textOf(path)
        .toLowerCase()
        .match(/[a-z]+/g),
    );
    expect(MAKERS.filter((maker) => words.has(maker))).toEqual([]);
  });
});

/** What the library is to hold, by file: names of types, with what varies between them. */
const CLASSES: Readonly<Record<string, readonly string[]>> = {
  'relays.couplet': ['RelaySignal', 'RelayPower', 'RelayPlugIn'].flatMap((name) =>
    [5, 12, 24, 48].map((volts) => `${name}${volts}`),
  ),
  'outputs-and-inputs.couplet': [
    'OutputsSourcing05',
    'OutputsSourcing2',
    'OutputsSinking01',
    'OutputsSinking05',
    'OutputsContact',
    'InputsType1',
    'InputsType2',
    'InputsType3',
  ],
  'zones.couplet': ['Zones1k', 'Zones2k2', 'Zones4k7', 'Zones5k6'],
  'contacts.couplet': ['DoorContact', 'TamperContact', 'PushButton', 'ResetButton', 'BreakGlass', 'EmergencyRelease'],
  'detectors.couplet': ['Detector12', 'DetectorTrouble12', 'Detector24', 'DetectorTrouble24'],
  'loads.couplet': ['Sounder', 'Beacon', 'LockFailSafe', 'LockFailSecure'].flatMap((name) =>
    [12, 24].map((volts) => `${name}${volts}`),
  ),
  'supplies.couplet': [
    ...[6, 12, 24].map((volts) => `BatteryLeadAcid${volts}`),
    ...[4, 8].map((cells) => `BatteryLiFePO4x${cells}`),
    'SupplyFloating12',
    'SupplyEarthed24',
    'Charger12',
  ],
  'cables.couplet': [
    ...[2, 4, 6, 8, 12].map((cores) => `Cable${cores}x022`),
    ...['050', '075', '100', '150'].flatMap((size) => [`Cable2x${size}`, `Cable4x${size}`]),
    'Cable2x250',
  ],
};

test.each(Object.entries(CLASSES))('library/%s holds every class', (file, names) => {
  const held = [...textOf(`library/${file}`).matchAll(/^type (\w+) :/gm)].map(([, name]) => name);
  expect(held).toEqual(expect.arrayContaining([...names]));
});

test('every panel of the library has schemes of one, two and three resistors', () => {
  const panels = textOf('library/zones.couplet')
    .split(/^(?=type )/m)
    .slice(1);
  expect(panels.length).toBeGreaterThanOrEqual(4);
  for (const panel of panels) {
    expect([...panel.matchAll(/^ {2}scheme (\w+)/gm)].map(([, name]) => name)).toEqual(['one', 'two', 'three']);
  }
});

test('a figure without an origin would be found', () => {
  const text =
    'type T : relay "x" {\n  coil: 12 V\n  rise: 20 degC  // assumed\n  // operates: confirmed\n  operates: 70%\n}\n';
  expect(figuresWithoutOrigin(text)).toEqual(['coil: 12 V']);
});

test('the names that are looked for are those of the published values', () => {
  expect(MAKERS.length).toBeGreaterThan(20);
});

const ORIGIN = /\b(confirmed|partly confirmed|from memory|assumed|by definition)\b/;

/**
 * Lines with a figure that neither end with a note of its origin nor stand in a member under such a note. Schemes of
 * zones are told about at the head of their file.
 */
function figuresWithoutOrigin(text: string): string[] {
  const missing: string[] = [];
  let note = false;
  let depth = 0;
  let noteDepth = 0;
  let scheme = 0;
  for (const line of text.split('\n')) {
    const [, code = '', comment = ''] = /^(.*?)(?:\/\/(.*))?$/.exec(line) ?? [];
    const bare = code.replace(/"[^"]*"/g, '').trim();
    if (bare === '' && ORIGIN.test(comment)) {
      note = true;
      noteDepth = depth;
    }
    const opens = bare.split('{').length - bare.split('}').length;
    if (/^scheme\b/.test(bare)) scheme = depth + 1;
    const inScheme = scheme > 0;
    const figure = /:[^:]*\d/.test(
      bare.replace(/^(type|supply|rail|common|contact|output|input|zone|mode)\b[^{]*/, ''),
    );
    if (figure && !inScheme && !note && !ORIGIN.test(comment)) missing.push(bare);
    depth += opens;
    if (scheme > 0 && depth < scheme) scheme = 0;
    // A note covers what follows it in the same body, up to its end.
    if (note && depth < noteDepth) note = false;
  }
  return missing;
}

/** Words of any text that are also part of such an address. */
const ORDINARY = new Set(['battery', 'iec', 'relay', 'the', 'www']);

/** Names in the addresses of published values: those of makers among them. */
const MAKERS = [
  ...new Set(
    readdirSync(REFERENCES)
      .filter((name) => name.endsWith('.json'))
      .flatMap((name) => [...readFileSync(join(REFERENCES, name), 'utf8').matchAll(/https?:\/\/([a-z0-9.-]+)/gi)])
      .flatMap((match) => (match[1] as string).toLowerCase().split(/[.-]/)),
  ),
].filter((name) => /^[a-z]{3,}$/.test(name) && !ORDINARY.has(name));

describe('use', () => {
  const SITE = `use "library/relays.couplet"
unit u { output Q1 { style: sink  return: G }  common G { earthed: no } }
relay K1 : ⟦RelaySignal12⟧
relay K2 : ⟦RelaySignal13⟧
`;

  test('finds a bundled file from any folder, and the nearest name in it', async () => {
    const workspace = await Workspace.of({ 'a/b/main.couplet': SITE });
    expect(workspace.findings('a/b/main.couplet').map(({ text, message }) => `${text}: ${message}`)).toEqual([
      "RelaySignal13: There is no type 'RelaySignal13' in this site. Is 'RelaySignal12' meant?",
    ]);
    expect(workspace.definitionAt('a/b/main.couplet')).toMatch(/^library\/relays\.couplet:\d+:RelaySignal12$/);
  });

  test('bundled files are no sites of their own, and nothing in them is renamed', async () => {
    const workspace = await Workspace.of({ 'main.couplet': SITE });
    expect(workspace.services.references.SiteScopes.roots()).toEqual(['file:///main.couplet']);
    const [relay] = workspace
      .file()
      .statements.filter(isComponent)
      .filter(({ kind }) => kind === 'relay');
    expect(isRenamable(relay?.type?.ref as never)).toBe(false);
  });

  test('a folder of one’s own with that name is reached by ./', () => {
    expect(usedUri('file:///site/main.couplet', 'library/relays.couplet')).toBe('builtin:/library/relays.couplet');
    expect(usedUri('file:///site/main.couplet', './library/relays.couplet')).toBe(
      'file:///site/library/relays.couplet',
    );
    expect(usedUri('file:///site/main.couplet', 'library/own.couplet')).toBe('file:///site/library/own.couplet');
  });
});
