/** Tidewater Mill, by hand and as text: no error and no warning beyond the two that it accepts. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse, type Design } from '@couplet/engine';
import { run } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { lowerText } from '../language/lower/site.ts';
import { tidewater } from '../support/tidewater.ts';
import { brief } from './support.ts';

const examples = join(import.meta.dirname, '..', '..', 'examples');
const files = Object.fromEntries(
  ['tidewater-mill/site', 'types/pit-controller', 'types/panel-eight-zones', 'types/signal-relay'].map((name) => [
    `${name}.couplet`,
    readFileSync(join(examples, `${name}.couplet`), 'utf8'),
  ]),
);

function found(design: Design) {
  const { findings, accepted } = run(design, analyse(design), { today: '2026-11-01' });
  return {
    open: findings.filter((finding) => finding.severity !== 'information').map((finding) => brief(design, finding)),
    accepted: accepted.map((finding) => brief(design, finding)).sort(),
    notEvaluated: findings.filter((finding) => finding.rule === 'not-evaluated').map((finding) => finding.message),
    accepting: accepted,
  };
}

describe('Tidewater Mill', () => {
  it('as text gives the two findings that it accepts, and lacks nothing', () => {
    const { open, accepted, notEvaluated } = found(lowerText(files).design);
    expect(open).toEqual([]);
    expect(accepted).toEqual(['warning leakage-masks-alarm panel.Z4', 'warning line-unprotected W1']);
    expect(notEvaluated).toEqual([]);
  });

  it('by hand, where nothing is accepted and no route is given, gives the leakage alone', () => {
    expect(found(tidewater().build()).open).toEqual(['warning leakage-masks-alarm panel.Z4']);
  });

  it('hides high water behind leakage of up to 8,925 Ω at usual values, a little more at the worst corner', () => {
    const { accepting } = found(lowerText(files).design);
    const leakage = accepting.find((finding) => finding.rule === 'leakage-masks-alarm')!;
    const upper = Number(/up to ([\d.]+) kΩ/.exec(leakage.message)![1]) * 1000;
    // Least ohms of the loop in high water: both resistors 1 % low, contacts and cable at their least.
    const worst = 1 / (1 / 3900 - 1 / 6855);
    expect(upper).toBeGreaterThan(8925);
    expect(Math.abs(upper / worst - 1)).toBeLessThan(2e-3);
  });

  it('returns to both findings when the acceptances have run out', () => {
    const { design } = lowerText(files);
    const later = run(design, analyse(design), { today: '2028-02-01' });
    const open = later.findings.filter((finding) => finding.severity !== 'information');
    expect(open.map((finding) => finding.rule).sort()).toEqual([
      'acceptance-stale',
      'acceptance-stale',
      'leakage-masks-alarm',
      'line-unprotected',
    ]);
  });
});
