/** Single faults of an arrester in a loop, by hand: it fails open, or as it should, to earth with all of its line. */
import { faultTable } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { lowerText } from '../../language/lower/site.ts';
import { ohmsOf, rowNamed, zoneNamed } from './support.ts';

interface Choices {
  readonly earthed: 'yes' | 'no';
  /** What the arrester's earth terminal is wired to. */
  readonly to: 'earth' | 'panel.ZC';
}

/**
 * A loop with an arrester of 4R7 where the cable comes in, its line side (1) at the cable. Cores: 50 m of 80 Ω/km,
 * 4 Ω each; contact 0.1 Ω; end resistor 2k2.
 */
function zone({ earthed, to }: Choices) {
  const { design } = lowerText(`site "Mast" { ambient: 20 degC }
place hut
place mast
type Panel : unit {
  common ZC { earthed: ${earthed} }
  zone Z1 { feed: 5 V via 4k7  return: ZC  bands { short: below 1k  normal: 1k .. 3k  alarm: above 3k } }
}
unit panel : Panel in hut
switch S1 in mast { contacts: break  contact-rating: 0.1 A @ 30 V  minimum-load: 10 uA @ 10 mV }
resistor RE = 2k2 +-1%
arrester F1 in hut { lines: 1  ohms: 4R7  clamps: 18 V }
cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 80 ohm/km  length: 50 m  from: hut  to: mast  route: outdoor }
wire F1.E -- ${to}
wire panel.Z1 -- F1.2-1 -- W1.GN -- S1.11-12 -- RE -- W1.YE -- panel.ZC
case opened { turn S1 open  expect panel.Z1 alarm }
`);
  return zoneNamed(faultTable(design), 'panel.Z1');
}

const SITES: readonly Choices[] = [
  { earthed: 'yes', to: 'earth' },
  { earthed: 'yes', to: 'panel.ZC' },
  { earthed: 'no', to: 'panel.ZC' },
];

describe.each(SITES)('$earthed: earthed return, the arrester lies to $to', (site) => {
  test('healthy: 4.7 + 4 + 0.1 + 2200 + 4 = 2212.8 Ω', () => {
    expect(zone(site).healthy.rest.ohms?.usual).toBeCloseTo(2212.8, 9);
  });

  test('missing: the loop is open, which is alarm', () => {
    const row = rowNamed(zone(site), 'F1 missing');
    expect(row.class).toBe('announced');
    expect(row.rest.ohms?.usual).toBe(Number.POSITIVE_INFINITY);
  });

  test('earthed: the panel sees its own side alone, 4.7 Ω, whatever the contact does', () => {
    const row = rowNamed(zone(site), 'F1 earthed');
    expect(ohmsOf(row)).toContain('4.7');
    expect(row.class).toBe('announced');
    expect(row.rest.usual).toBe('short');
  });
});

test('with the return not earthed, a line that lies to earth is one earth fault, which changes nothing', () => {
  const row = rowNamed(zone({ earthed: 'no', to: 'earth' }), 'F1 earthed');
  expect(row.class).toBe('quiet');
  expect(row.rest.ohms?.usual).toBeCloseTo(2212.8, 9);
});

test('an arrester to earth hides no earth fault of the cores: at the far end of GN 4.7 + 4 Ω, of YE 2212.8 Ω less 4 Ω', () => {
  const table = zone({ earthed: 'yes', to: 'earth' });
  const names = table.rows.filter(({ fault }) => /earthed/.test(fault.name)).map(({ fault }) => fault.name);
  const ohms = new Map(names.map((name) => [name, rowNamed(table, name).rest.ohms?.usual]));
  expect(ohms.get('S1.12 earthed')).toBeCloseTo(4.7 + 4 + 0.1, 9);
  expect([...ohms.values()].map((value) => value?.toFixed(1)).sort()).toContain((2212.8 - 4).toFixed(1));
});
