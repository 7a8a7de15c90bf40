/** Blind faults: how many are tolerated, which are accepted by name, and what is merely told. */
import { describe, expect, it } from 'vitest';
import { blind, LOOP } from './phrases.ts';
import { brief, changed, check, type Edit, verdicts } from './support.ts';

const accept = (fault: string, target: string, until = '2028-01-31') =>
  `accept silent-fault ${fault} on ${target} because "tested yearly" until ${until}`;

const messages = (...edits: readonly Edit[]) =>
  check(changed(...edits)).findings.filter((finding) => finding.rule === 'silent-fault');

describe('blind service faults', () => {
  it('are named with the case that is lost, and with what is tolerated', () => {
    const [found] = messages(blind(2)).filter((finding) => finding.severity === 'error');
    expect(found?.message).toContain('3 single faults leave panel.Z4 normal');
    for (const name of ['ctl.Q1 stuck on', 'K1.11-14 welded', 'RA linked'])
      expect(found?.message).toContain(`${name} (case high-water)`);
    expect(found?.message).toContain('The site tolerates 2 (`blind: 2`)');
  });

  it('are tolerated nowhere unless the site says so', () => {
    const [found] = messages(['  blind: 3', '']).filter((finding) => finding.severity === 'error');
    expect(found?.message).toContain('The site tolerates none.');
  });

  it.each<[string, readonly Edit[], readonly string[]]>([
    ['as many as are tolerated', [blind(3)], []],
    ['more than are tolerated', [blind(2)], ['error silent-fault panel.Z4']],
    ['one of them accepted on its contact', [blind(2), accept('welded', 'K1.11-14')], []],
    ['one of them accepted on its relay', [blind(2), accept('welded', 'K1')], []],
    ['one of them accepted, within what is tolerated', [blind(3), accept('linked', 'RA')], []],
    [
      'another word accepted',
      [blind(2), accept('missing', 'RA')],
      ['error silent-fault panel.Z4', 'warning acceptance-stale RA'],
    ],
    [
      'an acceptance that ran out',
      [blind(2), accept('welded', 'K1.11-14', '2026-10-31')],
      ['error silent-fault panel.Z4', 'warning acceptance-stale K1.11-14'],
    ],
  ])('%s', (_, edits, finds) => {
    expect(verdicts(changed(...edits))).toEqual(finds);
  });

  it('that are accepted stand among what is accepted, each with its word', () => {
    const { design, accepted } = check(changed(blind(1), accept('welded', 'K1'), accept('stuck-on', 'ctl.Q1')));
    expect(accepted.map((finding) => brief(design, finding)).sort()).toEqual([
      'error silent-fault stuck-on ctl.Q1',
      'error silent-fault welded K1.11-14',
    ]);
  });
});

describe('earth faults behind a resistor in the hot leg', () => {
  // The end resistor stands at the panel: a core behind it that lies to the earthed return leaves it alone in the loop.
  const HOT: readonly Edit[] = [blind(0), [LOOP, 'wire panel.Z4 -- RE -- W1.GN -- K1.11-14 -- W1.YE -- panel.ZC']];
  // The finding hangs below that of the end resistor, which is its cause.
  const named = (...edits: readonly Edit[]) =>
    check(changed(...edits)).explained.find(
      ({ finding: { rule, severity } }) => rule === 'silent-fault' && severity === 'error',
    )?.finding.message;

  it('are blind, and accepted by their word on the core that they are at', () => {
    expect(named(...HOT)).toContain('W1.GN earthed');
    const edits = [...HOT, accept('earthed', 'W1.GN')];
    expect(named(...edits)).not.toContain('W1.GN earthed');
    const { design, accepted } = check(changed(...edits));
    expect(accepted.map((finding) => brief(design, finding))).toContain('error silent-fault earthed W1.GN');
  });

  it('are not accepted by another word, nor on another core', () => {
    expect(named(...HOT, accept('cut', 'W1.GN'))).toContain('W1.GN earthed');
    expect(named(...HOT, accept('earthed', 'W1.YE'))).toContain('W1.GN earthed');
  });
});

describe('blind fitting errors', () => {
  it.each<[string, readonly Edit[], readonly string[]]>([
    ['as many as are tolerated', [['blind: 3', 'blind: 3  blind-fitting: 1']], []],
    ['more than are tolerated', [['blind: 3', 'blind: 3  blind-fitting: 0']], ['warning silent-fault panel.Z4']],
    ['one of them accepted', [['blind: 3', 'blind: 3  blind-fitting: 0'], accept('a-decade-low', 'RA')], []],
  ])('%s', (_, edits, finds) => {
    expect(verdicts(changed(...edits))).toEqual(finds);
  });
});

describe('what is merely told', () => {
  const [told] = messages();

  it('is what is misread, with what is reported instead', () => {
    expect(told?.severity).toBe('information');
    expect(told?.message).toContain('RA missing (case high-water reads open)');
  });

  it('is a fitting error that commissioning passes, with what it makes blind', () => {
    expect(told?.message).toContain('With RE fitted at the other end, panel.Z4 reads as predicted in every case');
    expect(told?.message).toContain('W1.GN shorted to W1.YE');
  });
});

it('says what it needs where a datum is missing, and passes nothing', () => {
  const { findings } = check(changed(blind(0), ['resistor RE = 2k2 +-1%', 'resistor RE']));
  const needs = findings.filter(
    (finding) => finding.rule === 'not-evaluated' && finding.message.includes('silent-fault'),
  );
  expect(needs.map((finding) => finding.message)).toEqual([expect.stringMatching(/needs `.*` of RE .*silent-fault/)]);
});

it('says nothing of a zone that no case changes: another rule does', () => {
  const found = messages(
    ['cores: GN, YE', 'cores: GN, YE, RD, BK'],
    'resistor RX = 2k2 +-1%\nwire panel.Z1 -- W1.RD -- RX -- W1.BK -- panel.ZC',
    blind(9),
  );
  expect(found.map((finding) => finding.message).filter((message) => message.includes('panel.Z1'))).toEqual([]);
});

it('counts a fault that blinds two zones once', () => {
  const both: readonly Edit[] = [
    [LOOP, `${LOOP}\nwire panel.Z3 -- W2.GN -- K2.11-14 -- R3 -- W2.YE -- panel.ZC\nwire K2.11 -- R4 -- K2.14`],
    'relay K2 : Relay12 in pit\nresistor R3 = 2k2 +-1%\nresistor R4 = 4k7 +-1%\nspare K2.12',
    'cable W2 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: 140 m  from: hut  to: pit  route: indoor }',
    'wire K1.A1 -- K2.A1-A2 -- K1.A2',
    [
      '  expect panel.Z4 alarm within 1 s\n  expect P1',
      '  expect panel.Z4 alarm within 1 s\n  expect panel.Z3 alarm within 1 s\n  expect P1',
    ],
    [
      'case supply-lost {\n  turn ctl off\n',
      'case supply-lost {\n  turn ctl off\n  expect panel.Z3 alarm within 1 s\n',
    ],
  ];
  // Q1 blinds both zones; each has a contact and a resistor besides.
  expect(verdicts(changed(...both, blind(5)))).toEqual([]);
  expect(verdicts(changed(...both, blind(4)))).toEqual(['error silent-fault panel.Z4', 'error silent-fault panel.Z3']);
});
