/**
 * A site of many uses of an assembly, and the same site written out without the assembly: what a use calls `B007.S1` the
 * twin calls `B007_S1`. Deterministic.
 */
import type { Design } from '@couplet/engine';

const PANEL = `type PanelEightZones : unit {
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  limit: 750 mA  return: ZC }
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  scheme: double }
}
`;

/** The parts of a door, each line a statement. `N` stands before its names, `Z`, `RUN` and `HERE` for what it is given. */
const PARTS = `switch N.S1 "Open when the door is open" { contacts: break  minimum-load: 10 uA @ 10 mV }
switch N.S2 "Open when the cover is off" { contacts: break  minimum-load: 10 uA @ 10 mV }
resistor N.RA = 4k7 +-1%
resistor N.RE = 2k3 +-1%
cable N.W1 { cores: GN, YE  size: SIZE  length: RUN  from: Z  to: HERE  route: indoor }
`;

const WIRES = `wire Z -- N.W1.GN -- N.S2.11-12 -- N.S1.11-12 -- N.RE -- N.W1.YE -- RETURN
wire N.S1.11 -- N.RA -- N.S1.12
`;

const CASES = `case N.opened { turn N.S1 open  expect Z alarm within 1 s }
case N.tamper { turn N.S2 open  expect Z open within 1 s }
`;

/** In the assembly names are its own, and what it is given has names as well. */
const INSIDE = (PARTS + WIRES + CASES)
  .replaceAll('N.', '')
  .replaceAll('RUN', 'run')
  .replaceAll('HERE', 'here')
  .replaceAll('SIZE', '0.22 mm2')
  .replaceAll('RETURN', 'Z.return')
  .replaceAll(/^/gm, '  ')
  .trimEnd();

const ASSEMBLY = `type DoorLoop : assembly "Door contact and tamper, both resistors at the contact" {
  given Z : zone
  given run : length
${INSIDE}
}
`;

export interface Twins {
  readonly assemblies: string;
  readonly written: string;
}

export function twins(uses: number): Twins {
  const panels = Math.ceil(uses / 8);
  const head = `site "Doors" { blind: ${uses * 8}  blind-fitting: ${uses * 8} }

`;
  const units = Array.from({ length: panels }, (_, n) => `unit p${n} : PanelEightZones in office\n`).join('');
  const rows: string[] = [];
  const blocks: string[] = [];
  for (let n = 0; n < uses; n++) {
    const name = `B${String(n + 1).padStart(3, '0')}`;
    const panel = `p${Math.floor(n / 8)}`;
    const zone = `${panel}.Z${(n % 8) + 1}`;
    const run = `${20 + (n % 97)} m`;
    // Every fifth use takes a thicker cable than the assembly has.
    const isThick = n % 5 === 4;
    const over = isThick ? '  W1.size: 0.5 mm2' : '';
    rows.push(`assembly ${name} : DoorLoop "Door ${n + 1}" { Z: ${zone}  run: ${run}${over} }\n`);
    const block = (PARTS + WIRES + CASES)
      .replaceAll('N.', `${name}_`)
      .replaceAll('RETURN', `${panel}.ZC`)
      .replaceAll('RUN', run)
      .replaceAll('HERE', name)
      .replaceAll('SIZE', isThick ? '0.5 mm2' : '0.22 mm2')
      .replaceAll(/(?<![.\w])Z(?![.\w])/g, zone);
    blocks.push(`place ${name} "Door ${n + 1}"\n${block}`);
  }
  const sites = `place office { wet: no }\n${units}\n`;
  return {
    assemblies: `${head}${PANEL}\n${ASSEMBLY}\n${sites}${rows.join('')}`,
    written: `${head}${PANEL}\n${sites}${blocks.join('\n')}`,
  };
}

/** A design without the places in texts that it leads back to; names within uses as the twin has them. */
export function withoutOrigins(design: Design): unknown {
  const text = JSON.stringify(design, (key, value) => (key === 'origin' ? undefined : value));
  return JSON.parse(asWritten(text));
}

/** Names within uses, in any text, as the twin has them. */
export function asWritten(text: string): string {
  return text.replaceAll(/\b(B\d{3})\.(?=[A-Za-z])/g, '$1_');
}
