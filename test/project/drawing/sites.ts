/** Sites for tests of drawings: the examples, and texts. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { type CheckedSite, checkSites } from '@couplet/project';
import { FOLDER, MemoryReader, uri } from '../memory.ts';

const EXAMPLES = join(import.meta.dirname, '../../../examples');

const paths = readdirSync(EXAMPLES, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith('.couplet'))
  .map((entry) => relative(EXAMPLES, join(entry.parentPath, entry.name)))
  .sort();

const files = Object.fromEntries(paths.map((path) => [path, readFileSync(join(EXAMPLES, path), 'utf8')]));

/** Every example and every mistake that is a site of its own, and two that nobody would build. */
export const SITES = [...paths.filter((path) => !path.startsWith('types/')), 'many kinds', 'shorted all over'];

const kept = new Map<string, Promise<CheckedSite>>();

/** Checked once a file of tests: what is drawn of a site changes nothing in it. */
export function exampleSite(name: string): Promise<CheckedSite> {
  const known = kept.get(name) ?? checkedExample(name);
  kept.set(name, known);
  return known;
}

function checkedExample(name: string): Promise<CheckedSite> {
  if (name === 'many kinds') return siteOf(MANY_KINDS);
  return name === 'shorted all over' ? siteOf(SHORTED) : siteIn(files, name);
}

export function siteOf(text: string): Promise<CheckedSite> {
  return siteIn({ 'site.couplet': text }, 'site.couplet');
}

async function siteIn(texts: Readonly<Record<string, string>>, path: string): Promise<CheckedSite> {
  const workspace = { reader: new MemoryReader(texts), folder: FOLDER };
  for await (const site of checkSites(workspace, [uri(path)], { today: '2026-12-01' })) return site;
  throw new Error(`there is no site in ${path}`);
}

/** Nearly every kind of part in one site, wired as nobody should in places. */
export const MANY_KINDS = `
site "Quarry <crusher> & store" { ambient: 0 degC .. 35 degC }

type CrusherController : unit {
  supply IN { plus: VP  minus: VN  works: 20 V .. 30 V  draws: 60 mA }
  common GND { earthed: no }
  rail VB { volts: 24 V  limit: 1 A  return: VN  fed-by: IN }
  output Q1 { style: source  rail: VB  return: VN  rated: 300 mA  drop: 1 V }
}
type Panel8 : unit {
  rail AUX { volts: 12 V .. 13.8 V  limit: 1 A  return: C }
  common C { earthed: no }
  output O1 .. O2 { style: sink  return: C  rated: 300 mA  drop: 0.5 V }
  zone Z1 .. Z8 { feed: 12 V via 2k2  return: C  responds: 300 ms
    bands { short: below 1k  normal: 1k .. 3k5  alarm: 3k5 .. 9k  open: above 9k } }
}
place house "Crusher house" { ambient: 0 degC .. 40 degC }
place office "Weighbridge office" { ambient: 10 degC .. 30 degC }
place yard "Yard"

battery B1 = 24 V, 7 Ah in house
supply G1 in house { volts: 27 V  limit: 2 A  charges: B1  earthed: minus }
fuse F1 = 1 A in house
unit ctl : CrusherController in house
unit panel : Panel8 in office
relay K1 in house "Interposing" {
  coil: 24 V, 1k1 +-10%  operates: 70%  releases: 10%  contacts: changeover, make  suppressor: diode
}
relay K2 in office "Latch" {
  coil: 12 V, 360 ohm  operates: 70%  releases: 10%  latching: two-coil  contacts: changeover  rest: reset
}
relay T1 in house { coil: 24 V, 2k  function: off-delay  time: 10 s  contacts: late-changeover }
diode D1 = 1 A in house
capacitor C1 = 220 uF in house
arrester E1 in office { ohms: 1.5 ohm  lines: 1 }
resistor R1, R2 = 2k2 +-1%
resistor R3 = 4k7 +-1%
load P1 = 200 mA @ 24 V in yard "Horn on the mast" { style: constant-current  works: 18 V .. 30 V }
load P2 in yard "Lamp with no data"
switch S1 in yard "Key switch" { contacts: make }
cable W1 { cores: RD, BK, GN, YE  size: 0.5 mm2  length: 90 m  from: house  to: office  route: outdoor }
cable W2 { cores: 1, 2, 3, 4  size: 0.75 mm2  length: 40 m  from: house  to: yard  route: outdoor }
joint X1, X2 in house

wire G1.plus -- X1 -- F1 -- ctl.VP
wire X1 -- B1.plus
wire ctl.VN -- X2 -- G1.minus
wire X2 -- B1.minus
wire ctl.Q1 -- K1.A1-A2 -- X2
wire ctl.Q1 -- T1.A1-A2 -- X2
wire ctl.VP -- T1.15-18 -- W2.1 -- S1.13-14 -- P1 -- W2.2 -- X2
wire W2.1.yard -- P2 -- W2.2.yard
wire K1.A2 -- D1 -- K1.A1
wire ctl.VP -- C1 -- X2
wire panel.Z1 -- E1 -- W1.RD -- K1.11-12 -- R1 -- W1.BK -- panel.C
wire panel.Z2 -- W1.GN -- K1.23-24 -- R2 -- W1.BK.house
wire K1.23 -- R3 -- K1.24
wire panel.AUX -- K2.A1-A2 -- panel.O1
wire panel.AUX -- K2.B1-B2 -- panel.O2
wire panel.Z3 -- K2.11-14 -- panel.C
bond X2 -- earth because "one point"

case stop { turn ctl.Q1 on  expect panel.Z1 open }
`;

/** Parts across themselves, cores in a ring, wires there and back. */
const SHORTED = `
site "Mess"
place a
place b
supply G1 = 12 V in a
relay K1 in a { coil: 12 V, 400 ohm  contacts: changeover }
resistor R1 = 1k
resistor R2 = 1k
joint X1, X2, X3
cable W1 { cores: 1, 2  from: a  to: b  length: 3 m  size: 1 mm2 }
wire K1.A1 -- K1.A2
wire K1.11 -- K1.14
wire R1.1 -- R1.2
wire X1 -- X2
wire X2 -- X1
wire X1 -- R2.1
wire X1 -- R2.2
wire X1 -- X3
wire W1.1.a -- W1.2.a
wire W1.1.b -- W1.2.b
wire W1.1.a -- X3
wire G1.plus -- G1.minus
wire G1.plus -- K1.A1
wire G1.plus -- earth
wire G1.minus -- earth
`;
