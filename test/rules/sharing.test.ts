/** Contacts that share nothing although it looks as if they did, and tamper contacts that are told. */
import { describe, expect, it } from 'vitest';
import { fedTwice, lampOnReturn } from './mistakes-sharing.ts';
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

describe('back-feed', () => {
  it('is not behind a diode, nor into an output without a body diode', () => {
    expect(rulesOf([...fedTwice('Q3.body-diode: yes', 'ctl.Q3 -- D3'), 'diode D3 = 1 A'])).not.toContain('back-feed');
    expect(rulesOf(fedTwice('Q3.body-diode: no'))).not.toContain('back-feed');
  });

  it('is what is more than the output leaks', () => {
    // 11.3 V less 0.7 V of the body diode over the cold coil of K1, at least 584.3 ohm: 18.1 mA.
    expect(rulesOf(fedTwice('Q3.body-diode: yes  Q3.leak: 18 mA'))).toContain('back-feed');
    expect(rulesOf(fedTwice('Q3.body-diode: yes  Q3.leak: 18.3 mA'))).not.toContain('back-feed');
  });

  it('needs to know whether there is a body diode', () => {
    const { findings } = check(changed(...fedTwice('Q3.rated: 500 mA')));
    expect(findings.map((finding) => finding.message)).toContain(
      'Not evaluated: needs `body-diode` of ctl.Q3 (back-feed).',
    );
  });
});

describe('several-alarms-misread', () => {
  const contacts = (count: number, shunt: (n: number) => string): readonly Edit[] => {
    const numbers = Array.from({ length: count }, (_, n) => n + 1);
    const chain = numbers.map((n) => `S${n}.11-12`).join(' -- ');
    return [
      ['blind: 3', 'blind: 99'],
      [LOOP, `wire panel.Z4 -- W1.GN -- K1.11-14 -- ${chain} -- RE -- W1.YE -- panel.ZC`],
      [SHUNT, numbers.map(shunt).join('\n')],
      `switch ${numbers.map((n) => `S${n}`).join(', ')} in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 10 uA @ 10 mV }`,
      ['resistor RA = 4k7', `resistor ${numbers.map((n) => `RB${n}`).join(', ')} = 3k3 +-1%\nresistor RA = 4k7`],
    ];
  };
  const own = (n: number) => `wire S${n}.11 -- RB${n} -- S${n}.12`;

  it('is not one resistor across all contacts', () => {
    const edits = contacts(2, (n) => (n === 1 ? 'wire K1.11 -- RA -- S2.12' : 'spare RB1.1, RB1.2, RB2.1, RB2.2'));
    expect(rulesOf(edits)).not.toContain('several-alarms-misread');
  });

  it('is the smallest number of alarms that leaves the band: 2.2 k and 3.3 k each, up to 10 k', () => {
    const found = (count: number) =>
      check(changed(...contacts(count, own))).findings.find((finding) => finding.rule === 'several-alarms-misread');
    // Two make 8.8 kOhm, three 12.1 kOhm.
    expect(found(2)).toBeUndefined();
    expect(found(3)?.message).toContain(
      'S1, S2 and S3 each alarm on panel.Z4, but with 3 of them at once it may read open',
    );
  });

  it('says of more than six that not every combination was tried', () => {
    const { findings } = check(changed(...contacts(7, own)));
    expect(findings.map((finding) => finding.message)).toContainEqual(
      expect.stringMatching(
        /7 contacts can alarm in one loop: only pairs of them and all at once were tried \(several-/,
      ),
    );
    expect(findings.map((finding) => finding.rule)).toContain('several-alarms-misread');
  });
});

describe('shared-return-shift', () => {
  const severity = (edits: readonly Edit[]) =>
    check(changed(['blind: 3', 'blind: 9'], ...edits)).findings.find(
      (finding) => finding.rule === 'shared-return-shift',
    )?.severity;

  it('warns from a twentieth on', () => {
    expect(severity(lampOnReturn('0.05 W'))).toBeUndefined();
    expect(severity(lampOnReturn('0.07 W'))).toBe('warning');
  });

  it('counts what draws the same at any volts', () => {
    const steady = lampOnReturn('0.15 W').map((edit) =>
      typeof edit === 'string' ? edit.replace('resistive', 'constant-current') : edit,
    );
    expect(severity(steady)).toBe('warning');
  });

  it('is not what returns over a core of its own, nor what shares the terminal of the zone only', () => {
    const apart: readonly Edit[] = lampOnReturn('1.5 W').map((edit) => {
      if (typeof edit !== 'string') return [edit[0], edit[1].replace('YE, RD', 'YE, RD, BK')] as const;
      return edit.replace('W1.YE.pit', 'W1.BK -- panel.ZC');
    });
    expect(severity(apart)).toBeUndefined();
  });
});
