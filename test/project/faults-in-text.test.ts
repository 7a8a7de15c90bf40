/** Each fault of Tidewater Mill written into the text of the site, and the site computed from the beginning. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type FaultCell, type FaultTable, faultTable, type ZoneReading } from '@couplet/engine';
import { type CheckedSite, checkSites } from '@couplet/project';
import { beforeAll, describe, expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const EXAMPLES = join(import.meta.dirname, '..', '..', 'examples');
const SITE = 'tidewater-mill/site.couplet';

function textOf(path: string): string {
  return readFileSync(join(EXAMPLES, path), 'utf8');
}

async function checked(text: string): Promise<CheckedSite> {
  const types = ['pit-controller', 'panel-eight-zones', 'signal-relay'].map((name) => `types/${name}.couplet`);
  const files = { ...Object.fromEntries(types.map((path) => [path, textOf(path)])), [SITE]: text };
  const reader = new MemoryReader(files);
  for await (const site of checkSites({ reader, folder: FOLDER }, [uri(SITE)], { today: '2026-10-02' })) return site;
  throw new Error('no site was checked');
}

const LOOP = 'wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC';
const SHUNT = 'wire K1.11 -- RA -- K1.14';
const COIL = 'wire level.V12 -- K1.A1-A2 -- level.Q1';

/** What an author would write for each fault. */
const WRITTEN: Readonly<Record<string, readonly (readonly [from: string, to: string])[]>> = {
  'W1.GN cut': [[LOOP, 'wire panel.Z4 -- W1.GN.mill\nwire K1.11 -- K1.11-14 -- RE -- W1.YE -- panel.ZC']],
  'RE linked': [[LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- W1.YE -- panel.ZC']],
  'RE missing': [[LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- RE.1\nwire panel.ZC -- W1.YE.mill']],
  'RE fitted at the other end': [[LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- W1.YE -- RE -- panel.ZC']],
  'RE swapped with RA': [
    ['resistor RE = 2k2 +-1%', 'resistor RE = 4k7 +-1%'],
    ['resistor RA = 4k7 +-1%', 'resistor RA = 2k2 +-1%'],
  ],
  'RE a decade low': [['resistor RE = 2k2 +-1%', 'resistor RE = 220R +-1%']],
  'RE a decade high': [['resistor RE = 2k2 +-1%', 'resistor RE = 22k +-1%']],
  'RA missing': [[SHUNT, '']],
  'RA linked': [[SHUNT, 'wire K1.11 -- K1.14']],
  'RA a decade low': [['resistor RA = 4k7 +-1%', 'resistor RA = 470R +-1%']],
  'RA a decade high': [['resistor RA = 4k7 +-1%', 'resistor RA = 47k +-1%']],
  'level.Q1 stuck on': [['  turn level.Q1 off\n', '']],
  'level.Q1 stuck off': [['program level.Q1 rest = on\n', '']],
  'K1 coil open': [[COIL, 'wire level.V12 -- K1.A1']],
  'K1.14 earthed': [[SHUNT, `${SHUNT}\nwire K1.14 -- panel.ZC`]],
  'W1.YE earthed': [[SHUNT, `${SHUNT}\nwire W1.YE.pit -- panel.ZC`]],
};

let table: FaultTable;

beforeAll(async () => {
  table = faultTable((await checked(textOf(SITE))).design);
});

describe('the fault table equals the site with the fault written into its text', () => {
  test.each(Object.entries(WRITTEN))('%s', async (name, edits) => {
    const [zone] = table.zones;
    const row = zone!.rows.find(({ fault }) => fault.name === name)!;
    let text = textOf(SITE);
    for (const [from, to] of edits) {
      expect(text).toContain(from);
      text = text.replace(from, to);
    }
    const { analysis, design } = await checked(text);
    const id = design.components.find((part) => part.name === 'panel.Z4')!.id;
    [row.rest, ...row.cells].forEach((cell, i) => {
      const wanted = i === 0 ? 'rest' : zone!.columns[i - 1]!.name;
      const { moments } = analysis.cases.find((one) => one.name === wanted)!;
      expectSame(cell, moments[0]!.reading(id));
    });
  });
});

function expectSame(cell: FaultCell, reading: ZoneReading): void {
  expect([...cell.possible].sort()).toEqual([...reading.possible].sort());
  for (const quantity of ['ohms', 'volts'] as const) {
    const figure = reading[quantity];
    if (figure.sort !== 'value') throw new Error(`${quantity}: ${figure.sort}`);
    for (const end of ['least', 'usual', 'most'] as const) {
      const [found, wanted] = [cell[quantity]![end], figure[end]];
      if (found !== wanted) expect(Math.abs(found - wanted)).toBeLessThanOrEqual(1e-9 * Math.abs(wanted));
    }
  }
}
