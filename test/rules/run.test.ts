/** What the run does with what the rules find: acceptances, explanations, limits, gaps, order. */
import { analyse, type Design } from '@couplet/engine';
import { run, settableThreshold, UNCOMPUTED_RULES } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { brief, changed, check, designOf, HEALTHY, verdicts } from './support.ts';

const OVERLOAD = [
  'unit ctl : Controller in pit',
  'unit ctl : Controller in pit { Q2.rated: 500 mA  Q2.peak: 2 A }',
] as const;
const INVERTED = [
  ['K1.11-14 -- RE', 'K1.11-12 -- RE'],
  ['RA -- K1.14', 'RA -- K1.12'],
] as const;

const accept = (rule: string, on: string, until = '') =>
  `accept ${rule} on ${on} because "agreed"${until === '' ? '' : ` until ${until}`}`;

describe('acceptances', () => {
  it('take a finding out, and keep it with the acceptance that tolerates it', () => {
    const result = check(changed(OVERLOAD, accept('output-overloaded', 'ctl.Q2', '2027-05-31')));
    expect(result.findings.filter((finding) => finding.severity !== 'information')).toEqual([]);
    expect(result.accepted.map((finding) => [brief(result.design, finding), finding.accepted])).toEqual([
      ['error output-overloaded ctl.Q2', 0],
    ]);
  });

  it('name the thing or what it is a part of', () => {
    expect(verdicts(changed(OVERLOAD, accept('output-overloaded', 'ctl')))).toEqual([]);
    expect(verdicts(changed(OVERLOAD, accept('output-overloaded', 'P1')))).toEqual([]);
  });

  it.each([
    ['2026-10-31', ['error output-overloaded ctl.Q2', 'warning acceptance-stale ctl.Q2']],
    ['2026-11-01', []],
    ['2026-11-02', []],
  ])('judged on 2026-11-01 and given until %s', (until, expected) => {
    const found = verdicts(changed(OVERLOAD, accept('output-overloaded', 'ctl.Q2', until)), { today: '2026-11-01' });
    expect(found).toEqual(expected);
  });

  it('are stale when they match nothing', () => {
    const { findings } = check(`${HEALTHY}${accept('output-overloaded', 'ctl.Q2')}\n`);
    const stale = findings.filter((finding) => finding.rule === 'acceptance-stale');
    expect(stale.map((finding) => finding.message)).toEqual([
      'This acceptance matches nothing: there is no output-overloaded on ctl.Q2. Remove it, or correct the name.',
    ]);
  });

  it('are not called stale where the rule is not computed, or could not judge', () => {
    expect(verdicts(`${HEALTHY}accept silent-fault welded on K1 because "agreed"\n`)).toEqual([]);
    const unrated = changed(
      [
        'unit ctl : Controller in pit',
        'unit ctl : Controller in pit { output Q9 { style: sink  return: GND  drop: 0.3 V  leak: 80 uA  withstands: 36 V  at-power-up: off } }',
      ],
      ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- P1 -- ctl.Q9'],
      ['turn ctl.Q2 on', 'turn ctl.Q9 on'],
      accept('output-overloaded', 'ctl.Q9'),
    );
    expect(verdicts(unrated)).toEqual([]);
  });

  it('are refused for what could trap a person', () => {
    const { findings } = check(`${HEALTHY}${accept('lock-held-without-supply', 'K1')}\n`);
    expect(findings.filter((finding) => finding.severity !== 'information').map((finding) => finding.message)).toEqual([
      'lock-held-without-supply cannot be accepted by anyone: this acceptance has no effect.',
    ]);
  });
});

describe('what explains what', () => {
  it('attaches what follows to its cause', () => {
    const { design, findings, explained } = check(changed(...INVERTED));
    const shown = findings.filter((finding) => finding.severity !== 'information');
    expect(shown.map((finding) => brief(design, finding))).toEqual(['error rest-inverted panel.Z4']);
    expect(explained.map(({ finding, cause }) => `${finding.rule} < ${cause.rule}`)).toEqual([
      'silent-fault < rest-inverted',
      'expectation-failed < rest-inverted',
      'expectation-failed < rest-inverted',
    ]);
    const follows = shown[0]!.related.filter((related) => related.message.startsWith('Follows from it: '));
    expect(follows.map((related) => related.origin)).toEqual(explained.map(({ finding }) => finding.origin));
  });

  it('shows it again when the cause is accepted', () => {
    expect(verdicts(changed(...INVERTED, accept('rest-inverted', 'panel.Z4')))).toEqual([
      'error expectation-failed panel.Z4',
      'error expectation-failed panel.Z4',
    ]);
  });

  it('never lets a warning hide an error', () => {
    const found = verdicts(
      changed(
        ['relay K1 : Relay12 in pit', 'relay K1 : Relay12 in pit { operates: 75% }'],
        ['expect K1 operated', 'expect K1 released'],
      ),
    );
    expect(found).toContain('warning coil-may-not-operate K1');
    expect(found).toContain('error expectation-failed K1');
  });
});

describe('limits of a site', () => {
  const limited = (text: string) =>
    changed(
      [
        'site "Weir" { ambient: 0 degC .. 40 degC  blind: 3 }',
        `site "Weir" { ambient: 0 degC .. 40 degC  blind: 3  limits { ${text} } }`,
      ],
      ['unit ctl : Controller in pit', 'unit ctl : Controller in pit { Q2.rated: 650 mA  Q2.peak: 2 A }'],
    );

  it('take the place of the default', () => {
    expect(verdicts(limited('output-overloaded: 90%'))).toEqual(['warning output-overloaded ctl.Q2']);
    expect(verdicts(limited('output-overloaded: 95%'))).toEqual([]);
  });

  it('never move what is physics', () => {
    expect(settableThreshold('output-overloaded')).toMatchObject({ key: 'warning', value: 0.8 });
    const beyond = limited('output-overloaded: 200%').replace('650 mA', '500 mA');
    expect(verdicts(beyond)).toEqual(['error output-overloaded ctl.Q2']);
  });
});

describe('a missing datum', () => {
  const lacking = changed([
    'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }',
    'load P1 = 6 W @ 12 V in pit { style: resistive  inrush: 150% @ 10 ms }',
  ]);
  const notEvaluated = (strict: boolean) =>
    check(lacking, { strict }).findings.filter((finding) => finding.rule === 'not-evaluated');

  it('is named once, with every rule that needs it', () => {
    const found = notEvaluated(false);
    const works = found.filter((finding) => finding.message.includes('`works`'));
    expect(works).toHaveLength(1);
    expect(works[0]).toMatchObject({ severity: 'information' });
    for (const rule of ['leakage-holds-load', 'load-undervoltage', 'load-overvoltage']) {
      expect(works[0]!.message).toContain(rule);
    }
  });

  it('is a warning when that is asked for', () => {
    expect(notEvaluated(true).map((finding) => finding.severity)).toEqual(notEvaluated(false).map(() => 'warning'));
  });

  it('never passes', () => {
    expect(notEvaluated(false).length).toBeGreaterThan(0);
  });
});

describe('what is not computed yet', () => {
  it('is said once a file and matter, naming the rules', () => {
    const design = designOf(HEALTHY);
    const analysis = analyse(design);
    const said = (fileOf?: (origin: number) => string) =>
      run(design, analysis, { today: '2026-11-01', fileOf }).findings.filter(
        (finding) => finding.rule === 'not-computed-yet',
      );
    const one = said();
    for (const name of UNCOMPUTED_RULES) {
      expect(one.filter((finding) => finding.message.includes(name)).length, name).toBeLessThanOrEqual(1);
    }
    // Two files: what is said of a matter that both have is said in both.
    const two = said((origin) => (origin % 2 === 0 ? 'even.couplet' : 'odd.couplet'));
    expect(two.length).toBeGreaterThanOrEqual(one.length);
  });

  it('says what the language understood and lowered to nothing', () => {
    const design: Design = {
      ...designOf(HEALTHY),
      uncomputed: [
        { what: 'autonomy', origin: 5 },
        { what: 'autonomy', origin: 9 },
      ],
    };
    const { findings } = run(design, analyse(design), { today: '2026-11-01' });
    const said = findings.filter((finding) => finding.message.startsWith('Not computed yet: autonomy'));
    expect(said.map((finding) => finding.origin)).toEqual([5]);
  });
});

describe('the order of findings', () => {
  it('is that of the text, and the same every time', () => {
    const text = changed(OVERLOAD, ...INVERTED, ['resistor RE = 2k2 +-1%', 'resistor RE = 2k23 +-1%']);
    const first = check(text).findings;
    expect(check(text).findings).toEqual(first);
    expect(first.map((finding) => finding.origin)).toEqual(
      first.map((finding) => finding.origin).sort((a, b) => a - b),
    );
  });
});
