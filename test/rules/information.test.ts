/** Findings that only inform, and findings that only a hand-made analysis can bring about. */
import { type Analysis, analyse, type Problem } from '@couplet/engine';
import { type RuleName, run } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { changed, check, designOf, HEALTHY, TODAY } from './support.ts';

const messages = (text: string, rule: RuleName) =>
  check(text)
    .findings.filter((finding) => finding.rule === rule)
    .map((finding) => finding.message);

describe('what is left open', () => {
  it('is listed once a unit, a relay and a cable', () => {
    expect(messages(HEALTHY, 'terminal-unused')).toHaveLength(2);
    expect(messages(HEALTHY, 'terminal-unused')[1]).toContain('panel.AUX, panel.Z1, panel.Z2 and panel.Z3 of panel');
    expect(messages(HEALTHY, 'pole-unused').some((message) => message.includes('K1.12 of K1'))).toBe(true);
    const wider = changed(['cores: GN, YE', 'cores: GN, YE, RD, BK']);
    expect(messages(wider, 'core-unused')).toEqual([expect.stringContaining('W1.RD and W1.BK in W1')]);
  });

  it('is silent once it is marked spare', () => {
    const marked = `${changed(['cores: GN, YE', 'cores: GN, YE, RD, BK'])}spare W1.RD, W1.BK, K1.12, ctl.GND, ctl.Q3, ctl.C, ctl.NC, ctl.NO, panel.AUX, panel.Z1, panel.Z2, panel.Z3\n`;
    for (const rule of ['terminal-unused', 'core-unused', 'pole-unused'] as const)
      expect(messages(marked, rule)).toEqual([]);
  });

  it('of a core is told by its end where only one end is open', () => {
    const half = changed(['cores: GN, YE', 'cores: GN, YE, RD'], 'wire panel.AUX -- W1.RD.hut');
    expect(messages(half, 'core-unused')).toEqual([expect.stringContaining('W1.RD.pit in W1')]);
  });
});

it('names core colours that mislead', () => {
  const beacon = (plus: string, minus: string) =>
    changed(
      ['place pit', 'place shed { ambient: 0 degC .. 40 degC }\nplace pit'],
      'cable W2 { cores: RD, BK  size: 0.5 mm2  length: 5 m  from: hut  to: shed  route: indoor }',
      'load P2 = 100 mA @ 12 V in shed { style: resistive  works: 9 V .. 15 V  inrush: 100% @ 1 ms }',
      `wire panel.AUX -- W2.${plus} -- P2 -- W2.${minus} -- panel.ZC`,
    );
  expect(messages(beacon('RD', 'BK'), 'core-colour-reversed')).toEqual([]);
  expect(messages(beacon('BK', 'RD'), 'core-colour-reversed')).toEqual([
    expect.stringContaining('W2.BK is on the plus side of P2 and W2.RD on its minus side'),
  ]);
});

describe('what the mathematics could not accept', () => {
  const design = designOf(HEALTHY);
  const real = analyse(design);
  const relay = design.components.find((component) => component.name === 'K1')!.id;
  const finds = (sort: Problem['sort'], rule: RuleName) => {
    const problem: Problem = { sort, components: [relay], caseName: 'rest', moment: 'at rest', detail: 'facts.' };
    const problems = [problem, { ...problem, caseName: 'high-water' }];
    const analysis: Analysis = { ...real, casesOf: (part) => real.casesOf(part), problems };
    return run(design, analysis, { today: TODAY }).findings.filter((finding) => finding.rule === rule);
  };

  it.each([
    ['contradictory-sources', 'error', 'contradictory-sources'],
    ['no-solution', 'error', 'power-not-deliverable'],
    ['relay-oscillates', 'error', 'relay-oscillates'],
    ['memory', 'warning', 'memory-undeclared'],
    ['bound-reached', 'error', 'solution-unsound'],
    ['residual', 'error', 'solution-unsound'],
  ] as const)('%s is one finding, however many cases have it', (sort, severity, rule) => {
    const found = finds(sort, rule);
    expect(found).toMatchObject([{ severity, subject: relay, caseName: 'rest' }]);
    expect(found[0]!.message).toContain('(case rest, at rest)');
  });

  it('says once what the analysis met and did not follow', () => {
    const found = finds('not-computed', 'not-computed-yet').filter((finding) => finding.message.includes('facts'));
    expect(found).toMatchObject([{ severity: 'information', subject: relay }]);
    expect(found[0]!.message).toBe('Not computed yet: facts (case rest, at rest).');
  });
});
