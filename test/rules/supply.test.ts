/** Batteries, chargers and fuses: what is just enough and just too little, what is missing, and what is said. */
import { describe, expect, it } from 'vitest';
import { cabinet, FUSED_APART, farLamp, fusedBeacon } from './mistakes-supply.ts';
import { brief, changed, check, type Edit, verdicts } from './support.ts';

/** 3.75 Ah are needed; 97.2 mA charge it again; 1.75 A is the most that it bears. */
const autonomy = (facts: string) => `autonomy B1 { carries: rest for 24 h  ${facts} }`;
const small = (ah: string) => cabinet({ battery: `12 V, ${ah} in hut`, charger: 'limit: 1.5 A  charge-limit: 500 mA' });
const charged = (limit: string, most = '1.5 A') => cabinet({ charger: `limit: ${most}  charge-limit: ${limit}` });
const supplied = (limit: string) => cabinet({ charger: `limit: ${limit}  charge-limit: 1 A` });

const EDGES: readonly (readonly [what: string, edits: readonly Edit[], finds: readonly string[]])[] = [
  ['the cabinet as it is', cabinet(), []],
  ['a battery that holds just what is needed', small('3.751 Ah'), []],
  ['a battery that holds just less', small('3.749 Ah'), ['error battery-too-small B1']],
  ['an ageing that is just borne', cabinet({ autonomy: autonomy('ageing: 233%  recharge: 72 h') }), []],
  [
    'an ageing that is just too much',
    cabinet({ autonomy: autonomy('ageing: 234%  recharge: 72 h') }),
    ['error battery-too-small B1'],
  ],
  [
    'a site that asks for a fifth in hand',
    [...small('4.5 Ah'), ['site "Weir" {', 'site "Weir" { limits { battery-too-small: 80% } ']],
    ['error battery-too-small B1'],
  ],
  ['a charger that gives just enough', charged('97.3 mA'), []],
  ['a charger that gives just too little', charged('97.2 mA'), ['error charger-too-small G1']],
  ['a charger that is just weak enough', charged('1.75 A', '3 A'), []],
  ['a charger that is just too strong', charged('1.751 A', '3 A'), ['error charger-too-strong G1']],
  // 100 mA and 97.2 mA are nine tenths of 219.1 mA.
  ['a supply with just a tenth in hand', supplied('219.2 mA'), []],
  ['a supply with just less', supplied('219 mA'), ['warning supply-overloaded G1']],
  ['a supply that gives just what is asked', supplied('197.3 mA'), ['warning supply-overloaded G1']],
  // That its battery is not charged in time follows from it.
  ['a supply that gives just less', supplied('197.1 mA'), ['error supply-overloaded G1']],
  ['a limit of four times the fuse', fusedBeacon('1 A', '4 A'), []],
  ['a limit of just less than four times', fusedBeacon('1 A', '3.99 A'), ['warning fuse-will-not-clear F1']],
  ['a limit of 2.1 times the fuse', fusedBeacon('1 A', '2.1 A'), ['warning fuse-will-not-clear F1']],
  ['a limit of just less than 2.1 times', fusedBeacon('1 A', '2.09 A'), ['error fuse-will-not-clear F1']],
  // 11.4 V over 2 × 13.3 Ω at 40 °C: 397.3 mA, four times 99.3 mA and 2.1 times 189.2 mA.
  ['a line that just clears its fuse', farLamp('99 mA'), []],
  ['a line that just does not, at once', farLamp('99.6 mA'), ['warning fuse-will-not-clear F3']],
  ['a line that just clears it at all', farLamp('189 mA'), ['warning fuse-will-not-clear F3']],
  ['a line that just does not clear it', farLamp('189.4 mA'), ['error fuse-will-not-clear F3']],
  ['a panel and its sounder on a fuse each', FUSED_APART, []],
];

describe('just enough and just too little', () => {
  it.each(EDGES)('%s', (_, edits, finds) => {
    expect(verdicts(changed(...edits))).toEqual(finds);
  });
});

/** What is not evaluated, for the rules of this test. */
function gaps(...edits: readonly Edit[]): string[] {
  const { findings } = check(changed(...edits));
  return findings
    .filter(
      ({ rule, message }) => rule === 'not-evaluated' && /battery-too|charger-too|fuse-will|supply-over/.test(message),
    )
    .map(({ message }) => message);
}

describe('what is missing', () => {
  it('is named, never passed over', () => {
    expect(gaps(...cabinet())).toEqual([]);
    expect(gaps(...cabinet({ autonomy: '' }))).toEqual(['Not evaluated: needs `autonomy` of B1 (battery-too-small).']);
    expect(gaps(...cabinet({ battery: '12 V in hut' }))).toEqual([
      'Not evaluated: needs `rating` of B1 (battery-too-small, charger-too-small, charger-too-strong, supply-overloaded).',
    ]);
    expect(
      gaps(
        ...cabinet(),
        ['site "Weir" { ambient: 0 degC .. 40 degC  blind: 3 }', 'site "Weir" { blind: 3 }'],
        ['place hut { ambient: 5 degC .. 35 degC }', 'place hut'],
      ),
    ).toEqual([
      'Not evaluated: needs `ambient` of B1 (battery-too-small, charger-too-small, charger-too-strong, supply-overloaded).',
    ]);
    expect(gaps(...cabinet({ charger: '' }))).toContain(
      'Not evaluated: needs `limit` of G1 (charger-too-small, charger-too-strong, supply-overloaded).',
    );
    expect(gaps(...cabinet({ charger: 'limit: 500 mA', autonomy: '' }))).toContain(
      'Not evaluated: needs `charge-limit` of G1 (supply-overloaded).',
    );
  });

  it('a battery that nothing charges, in a frost that no table reaches, and a fuse without a supply', () => {
    expect(
      gaps(
        'battery B1 = 12 V, 7 Ah in hut',
        'load P9 = 100 mA @ 12 V in hut { style: constant-current  works: 9 V .. 15 V }',
        'wire B1.plus -- P9 -- B1.minus',
        autonomy('recharge: 24 h'),
      ),
    ).toEqual(['Not evaluated: B1: nothing on this site says that it charges it (`charges`) (charger-too-small).']);
    expect(gaps(...cabinet(), ['place hut { ambient: 5 degC', 'place hut { ambient: -20 degC'])).toEqual([
      'Not evaluated: B1: capacity of B1 below -10 °C is not known: its place is at -20 °C (battery-too-small).',
    ]);
    expect(
      gaps('fuse F9 = 1 A in pit', ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- P1 -- F9 -- ctl.Q2']),
    ).toEqual([
      'Not evaluated: F9: no supply reaches it by copper and contacts alone, so that what a short behind it draws is not known (fuse-will-not-clear).',
    ]);
    expect(gaps(...farLamp('99 mA', 'core-ohms: 95 ohm/km'))).toContainEqual(
      expect.stringMatching(/^Not evaluated: needs `length` of W3 \(.*fuse-will-not-clear.*\)\.$/),
    );
  });
});

/** The first finding of a rule in a changed site. */
function found(rule: string, ...edits: readonly Edit[]) {
  const { design, findings } = check(changed(...edits));
  const finding = findings.find((each) => each.rule === rule);
  if (finding === undefined) return expect.fail(findings.map((each) => brief(design, each)).join('\n'));
  return finding;
}

describe('what is said', () => {
  it('of a battery: by what it was counted, and what would do', () => {
    // 250 mA for 24 h is 6 Ah, at 0.25 A of 0.35 A not hasty; 1.25 × 6 / 0.8 = 9.375 Ah.
    const finding = found('battery-too-small', ...cabinet({ modem: '250 mA' }));
    expect(finding.message).toMatch(
      /^B1 holds 7\.00 Ah and needs 9\.38 Ah \(B1 ambient 5 °C\): rest for 24 h at up to 250 mA \(6\.00 Ah\), × 125 % for ageing, \/ 80 % for the cold\. Worn and cold it may carry rest for 17\.9 h only\. It takes at least 9\.38 Ah/,
    );
    expect(finding.assumptions).toContain('capacity by temperature as of lead-acid batteries (IEEE 485, from memory)');
    expect(finding.figures.map(({ label }) => label)).toEqual(['capacity that B1 needs', 'drawn in rest']);
    expect(finding.related.map(({ message }) => message)).toEqual(['rest draws up to 250 mA']);
  });

  it('of a charger', () => {
    // 7 Ah × 0.8 / 0.8 at 50 mA: 140 h.
    expect(found('charger-too-small', ...charged('50 mA')).message).toMatch(
      /^G1 leaves B1 50\.0 mA at rest, and 97\.2 mA are needed to restore 80 % of it in 72 h: it takes 140 h, .* Take a charger of at least 47\.2 mA more/,
    );
    expect(found('charger-too-strong', ...cabinet({ charger: 'limit: 5 A' })).message).toMatch(
      /^G1 may push 5\.00 A into B1, more than the 1\.75 A that it bears \(0\.25 A for each Ah\).* at least 20\.0 Ah\. Assumed: G1 taken to charge with all that its loads leave/,
    );
    expect(found('supply-overloaded', ...supplied('197.1 mA')).related.at(-1)?.message).toMatch(
      /^Follows from it: G1 leaves B1 97\.1 mA/,
    );
  });

  it('of a fuse', () => {
    expect(found('fuse-will-not-clear', ...fusedBeacon('1 A', '1.6 A')).message).toMatch(
      /^A short at P1 draws as little as 1\.60 A, 160 % of F1, 1\.00 A: it need not open at all below 210 %, and ctl\.V12 holds its limit, .* It takes a fuse of at most 400 mA, or a supply that gives at least 4\.00 A\./,
    );
    const far = found('fuse-will-not-clear', ...farLamp('150 mA')).message;
    expect(far).toMatch(
      /^A short at P3 over W3 draws as little as 397 mA \(.*W3 ambient 40 °C.*\), 265 % of F3, 150 mA: it may take more than seconds below 400 %/,
    );
    // 11.4 V / 0.6 A at 40 °C: 19 Ω / 1.0786 = 17.6 Ω at 20 °C.
    expect(far).toContain('or cores of at most 17.6 Ω there and back');
  });

  it('of checks on the battery alone: at the end of discharge a load gets what is left', () => {
    const low: Edit = ['works: 9 V .. 16 V', 'works: 11 V .. 16 V'];
    const { design, findings } = check(changed(...cabinet(), low));
    const [finding] = findings.filter(({ severity }) => severity === 'error');
    expect(brief(design, finding!)).toBe('error load-undervoltage P9');
    expect(finding!.caseName).toBe('rest on B1');
    expect(finding!.message).toContain('B1 10.5 V');
  });
});

/** Everything that a site is told of its supply, severities included. */
function told(...edits: readonly Edit[]): string {
  const { findings } = check(changed(...edits));
  return findings.map(({ message, rule, severity }) => `${severity} ${rule}: ${message}`).join('\n');
}

describe('nonsense', () => {
  const battery = (facts: string) => cabinet({ battery: `12 V, 7 Ah in hut { ohms: 50 mohm  ${facts} }` });
  const judged = /error battery-too-small|Not evaluated: .*battery-too-small/;

  it.each([
    ['no capacity', cabinet({ battery: '12 V, 0 Ah in hut' }), /error battery-too-small: B1 holds 0 Ah/],
    ['less than none', cabinet({ battery: '12 V, -7 Ah in hut' }), /error battery-too-small: B1 holds -7\.00 Ah/],
    ['a capacity of any size', cabinet({ battery: '12 V, 7 Ah +-200% in hut' }), judged],
    ['a rating over no time', battery('rated-time: 0 s'), /^(?!.*battery-too-small)/],
    ['a time of none', cabinet({ autonomy: 'autonomy B1 { carries: rest for 0 s }' }), /carried for no time at all/],
    ['a time before', cabinet({ autonomy: 'autonomy B1 { carries: rest for -5 h }' }), /carried for no time at all/],
    ['an ageing that gives', cabinet({ autonomy: autonomy('ageing: 50%') }), /asks less of an old battery/],
    ['no ageing', cabinet({ autonomy: autonomy('ageing: 0%') }), /asks less of an old battery/],
    [
      'to be charged at once',
      cabinet({ autonomy: autonomy('recharge: 0 s') }),
      /error charger-too-small: No current restores 80 % of B1 in 0 s\./,
    ],
    [
      'a charger of less than nothing',
      cabinet({ charger: 'limit: 1.5 A  charge-limit: -3 A' }),
      /error charger-too-small/,
    ],
    ['a battery that charges itself', battery('charges: B1'), /./],
    ['an end of discharge above full', battery('end-volts: 20 V'), /error load-overvoltage/],
  ])('%s is told, or answered right', (_, edits, expected) => {
    const all = told(...edits);
    expect(all).not.toMatch(/NaN|undefined/);
    expect(all).toMatch(expected);
  });
});
