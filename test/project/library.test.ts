/** The generic types at work: each one alone on a site, and some of them wired, with figures worked out by hand. */
import { BUNDLED_PATHS, bundledText, bundledUri } from '@couplet/language';
import { type CheckOptions, checkSites, figureTable, mergeFindings, type ProjectFinding } from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const OPTIONS: CheckOptions = { today: '2026-10-02' };

async function check(files: Readonly<Record<string, string>>) {
  const reader = new MemoryReader(files);
  const sites = [];
  for await (const site of checkSites({ reader, folder: FOLDER }, Object.keys(files).map(uri), OPTIONS)) {
    sites.push(site);
  }
  return { sites, findings: mergeFindings(sites), reads: reader.reads };
}

const said = (findings: readonly ProjectFinding[]) =>
  findings.map(({ code, place, message }) => `${place.uri} ${place.start.line + 1} ${code}: ${message}`);

/** Every type with its kind, as the bundled files have them. */
const TYPES = BUNDLED_PATHS.flatMap((path) =>
  [...(bundledText(bundledUri(path) as string) as string).matchAll(/^type (\S+) : (\w+)/gm)].map(
    ([, name = '', kind = '']) => ({ path, name, kind }),
  ),
);

/** What a use of the kind must say besides its type. */
const ASKED: Readonly<Record<string, string>> = {
  load: ' = 100 mA @ 12 V',
  supply: ' = 1 A',
  battery: ' = 7 Ah',
};

test('there are types of every sort that sites are made of', () => {
  const count = (kind: string) => TYPES.filter((type) => type.kind === kind).length;
  expect(['relay', 'unit', 'switch', 'load', 'supply', 'battery', 'cable'].filter((kind) => count(kind) < 4)).toEqual(
    [],
  );
  expect(new Set(TYPES.map(({ name }) => name)).size).toBe(TYPES.length);
});

describe('each type alone on a site', () => {
  test.each(TYPES)('$name', async ({ path, name, kind }) => {
    const body = kind === 'cable' ? ' { length: 20 m  from: here-it-is  to: there }' : '';
    const text = `site "Alone"
use "${path}"
place here-it-is
place there
${kind} X1 : ${name}${ASKED[kind] ?? ''}${kind === 'cable' ? '' : ' in here-it-is'}${body}
spare X1
`;
    const { findings, sites } = await check({ 'site.couplet': text });
    // A rule that the program does not have yet is no fault of the type; what lowering leaves out is asked for below.
    // An emergency release without a lock cannot be judged, whatever type it has.
    const lonely = ({ message }: ProjectFinding) => message.includes('(release-can-be-defeated)');
    expect(said(findings.filter((each) => each.code !== 'not-computed-yet' && !lonely(each)))).toEqual([]);
    const made = sites[0]?.design.components.find((component) => component.name === 'X1');
    expect(made).toBeDefined();
    expect(sites[0]?.design.uncomputed).toEqual([]);
  });
});

const WIRED = `site "Wired" { ambient: 10 degC .. 30 degC  blind: 2 }
use "library/relays.couplet"
use "library/supplies.couplet"
use "library/outputs-and-inputs.couplet"
use "library/zones.couplet"
use "library/cables.couplet"
place cabinet
place office
supply G1 : SupplyFloating24 = 2 A in cabinet
unit plc : OutputsSourcing05 in cabinet { L.volts: 23.5 V .. 24 V .. 24.5 V  Q1.drop: 0.5 V }
unit panel : Zones4k7 in office
relay K1 : RelayPower24 in cabinet { contacts: changeover  suppressor: diode }
resistor RE = 4k7 +-1%
cable W1 : Cable4x022 { length: 30 m  from: cabinet  to: office  route: indoor }
spare plc.Q2, W1.YE, W1.BU
wire G1.plus -- plc.LP
wire plc.M -- G1.minus
wire plc.Q1 -- K1.A1-A2 -- plc.M
program plc.Q1 rest = on
wire panel.Z1 -- W1.RD -- K1.11-14 -- RE -- W1.BK -- panel.ZC
case alarm { turn plc.Q1 off  expect panel.Z1 alarm within 1 s }
`;

test('a coupling of generic parts: figures worked out by hand', async () => {
  const { findings, sites } = await check({ 'site.couplet': WIRED });
  expect(said(findings.filter(({ severity }) => severity === 'error'))).toEqual([]);
  const rows = [...figureTable(sites[0]?.analysis as NonNullable<(typeof sites)[0]>['analysis'])][0]?.moments[0]?.rows;
  const figure = (name: string, quantity: string) =>
    rows?.find((row) => row.name === name)?.figures.find((each) => each.quantity === quantity)?.figure;
  // The rail's 23.5 V less 0.5 V of the output; its 24.5 V less nothing.
  expect(figure('K1', 'volts')).toMatchObject({ least: expect.closeTo(23, 3), most: expect.closeTo(24.5, 3) });
  // 4,700 ohm, 0.1 ohm of the contact, and twice 30 m of a core that is printed with 88 to 95 ohm/km at 20 degC.
  expect(figure('panel.Z1', 'ohms')).toMatchObject({ usual: expect.closeTo(4700.1 + 0.06 * 88.4, 0) });
});

test('what is wrong with a part of a library type is told at the part', async () => {
  const text = WIRED.replace('RelayPower24', 'RelayPower48');
  const { findings } = await check({ 'site.couplet': text });
  const line = text.split('\n').findIndex((each) => each.startsWith('relay K1'));
  const grave = findings.filter(({ code }) => code === 'coil-may-not-operate');
  expect(grave.map(({ place }) => [place.uri, place.start.line])).toEqual([[uri('site.couplet'), line]]);
  expect(findings.filter(({ place }) => place.uri.startsWith('builtin:'))).toEqual([]);
});

test('bundled files are not looked for on the disk, and a wrong name is told with the nearest', async () => {
  const { findings, reads } = await check({
    'a/site.couplet': 'site "A"\nuse "library/relays.couplet"\nuse "library/relay.couplet"\n',
  });
  expect(said(findings)).toEqual([
    `${uri('a/site.couplet')} 3 use-missing: There is no file 'library/relay.couplet' (looked for from this file's folder). ` +
      "Is 'library/relays.couplet' of the library meant?",
  ]);
  expect(reads.filter((each) => each.endsWith('relays.couplet'))).toEqual([]);
});

test('a folder of one’s own with that name is reached by ./', async () => {
  const { findings } = await check({
    'site.couplet': 'site "A"\nuse "./library/relays.couplet"\nrelay K1 : Mine\nspare K1\n',
    'library/relays.couplet': 'type Mine : relay { coil: 12 V, 400R }\n',
  });
  expect(said(findings)).toEqual([]);
});
