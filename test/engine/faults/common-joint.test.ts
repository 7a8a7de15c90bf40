/** Loops whose returns meet in one joint: what happens in one is told as if it stood alone. */
import { type FaultRow, faultTable } from '@couplet/engine';
import { expect, test } from 'vitest';
import { lowerText } from '../../language/lower/site.ts';

const TYPES = `type Panel : unit {
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 .. Z4 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  scheme: double }
}
place house { ambient: 5 degC .. 35 degC }
place yard { ambient: -10 degC .. 40 degC }
unit panel : Panel in house
joint X1 in house
wire panel.ZC -- X1
`;

function loop(n: number): string {
  return `switch S${n} in yard { contacts: break }
resistor RE${n} = 2k2 +-1%
resistor RA${n} = 4k7 +-1%
cable W${n} { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: ${30 * n} m  from: house  to: yard }
wire panel.Z${n} -- W${n}.GN -- S${n}.11-12 -- RE${n} -- W${n}.YE -- X1
wire S${n}.11 -- RA${n} -- S${n}.12
case opened${n} { turn S${n} open  expect panel.Z${n} alarm within 1 s }
`;
}

function rowsOf(loops: number): ReadonlyMap<string, FaultRow> {
  const { design } = lowerText(
    `site "Joint" { blind: 99 }\n${TYPES}${Array.from({ length: loops }, (_, i) => loop(i + 1)).join('')}`,
  );
  const zone = design.components.find(({ name }) => name === 'panel.Z1')!;
  const found = faultTable(design).zones.find((each) => each.zone === zone.id)!;
  return new Map(found.rows.map((row) => [row.fault.name, row]));
}

test('three loops on one joint read as one of them alone, fault by fault', () => {
  const [alone, together] = [rowsOf(1), rowsOf(3)];
  let compared = 0;
  for (const [name, row] of together) {
    const single = alone.get(name);
    if (single === undefined) continue;
    compared += 1;
    expect([name, row.class]).toEqual([name, single.class]);
    [row.rest, ...row.cells].forEach((cell, i) => {
      const wanted = [single.rest, ...single.cells][i]!;
      expect(cell.usual).toBe(wanted.usual);
      if (wanted.ohms === undefined || wanted.ohms.usual === Number.POSITIVE_INFINITY)
        expect(cell.ohms?.usual).toBe(wanted.ohms?.usual);
      else expect(Math.abs(cell.ohms!.usual - wanted.ohms.usual)).toBeLessThan(1e-9 * Math.max(1, wanted.ohms.usual));
    });
  }
  expect(compared).toBeGreaterThan(15);
});
