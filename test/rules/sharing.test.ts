/** Contacts that share nothing although it looks as if they did, and tamper contacts that are told. */
import { describe, expect, it } from 'vitest';
import { CABLE, LAMP, LOOP, SHUNT } from './phrases.ts';
import { changed, check, type Edit } from './support.ts';

function rulesOf(edits: readonly Edit[]): readonly string[] {
  return check(changed(...edits)).findings.map((finding) => finding.rule);
}

describe('contact-shared is not', () => {
  const BACKED_UP: readonly Edit[] = [
    'supply G1 = 12 V, 1 A in pit { earthed: no }',
    'bond G1.minus -- ctl.GND because "one 0 V for both"',
  ];

  it.each<[string, readonly Edit[]]>([
    [
      'two zones that share their return',
      [
        [CABLE, CABLE.replace('GN, YE', 'GN, YE, BK')],
        'resistor R3 = 2k2 +-1%',
        'wire panel.Z3 -- W1.BK -- R3 -- W1.YE.pit',
      ],
    ],
    [
      'a pole behind two supplies that diodes keep apart',
      [
        ...BACKED_UP,
        [LAMP, 'wire ctl.V12 -- D1 -- ctl.C-NC -- P1 -- ctl.Q2\nwire G1.plus -- D2 -- ctl.C'],
        'diode D1, D2 = 1 A',
      ],
    ],
    [
      'two poles of one switch',
      [
        [LAMP, 'wire ctl.V12 -- S1.13-14 -- P1 -- ctl.Q2'],
        'switch S1 in pit { contacts: make, make  contact-rating: 2 A @ 30 V  minimum-load: 10 uA @ 10 mV }',
        ...BACKED_UP,
        'load P2 = 100 mA @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 100% @ 1 ms }',
        'wire G1.plus -- S1.23-24 -- P2 -- G1.minus',
      ],
    ],
  ])('%s', (_, edits) => {
    expect(rulesOf(edits)).not.toContain('contact-shared');
  });
});

describe('tamper-inside-shunt is not', () => {
  const IN_SERIES: Edit = [LOOP, 'wire panel.Z4 -- W1.GN -- K1.11-14 -- S1.11-12 -- RE -- W1.YE -- panel.ZC'];
  const contact = (what: string) =>
    `switch S1 in pit "${what}" { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }`;

  it.each<[string, readonly Edit[]]>([
    ['a tamper contact outside the resistor', [IN_SERIES, contact('Tamper of the cover')]],
    [
      'two alarm contacts under one resistor',
      [IN_SERIES, [SHUNT, 'wire K1.11 -- RA -- S1.12'], contact('Second float')],
    ],
    [
      'a tamper by its name that a case expects to alarm',
      [
        IN_SERIES,
        [SHUNT, 'wire K1.11 -- RA -- S1.12'],
        contact('Tamper'),
        'case cover {\n  turn S1 open\n  expect panel.Z4 alarm within 1 s\n}',
      ],
    ],
  ])('%s', (_, edits) => {
    expect(rulesOf(edits)).not.toContain('tamper-inside-shunt');
  });

  it('anything that a reading at rest which is not normal hides', () => {
    const found = rulesOf([
      IN_SERIES,
      [SHUNT, 'wire K1.11 -- RA -- S1.12'],
      contact('Tamper'),
      ['RE = 2k2', 'RE = 22k'],
    ]);
    expect(found).toContain('rest-inverted');
    expect(found).not.toContain('tamper-inside-shunt');
  });
});
