/** How cases come out, told only of what was computed on the files as they are. */
import { couplingsOf } from '@couplet/engine';
import { Analyses } from '@couplet/project';
import type { Sites } from '@couplet/server';
import { expect, test } from 'vitest';
import { caseOutcomes } from '../../packages/server/src/features/cases.ts';
import { lowerText } from '../language/lower/site.ts';

const ROOT = 'file:///site.couplet';

/** A site of one switch and one load, of which the second case asks too much. */
function sites(isCurrent: boolean): Sites {
  const lowered = lowerText(`site "Shed" {}
supply G1 = 12 V, 2 A
switch S1 { contacts: make }
load P1 = 6 W @ 12 V { style: resistive  works: 10 V .. 15 V }
wire G1.plus -- S1.13-14 -- P1 -- G1.minus
case lit {
  turn S1 closed
  expect P1 >= 11 V
}
case bright {
  turn S1 closed
  expect P1 >= 15 V
}
`);
  const { design } = lowered;
  const site = {
    root: ROOT,
    title: 'Shed',
    files: [ROOT],
    findings: [],
    design,
    analyses: new Analyses(design, couplingsOf(design)),
    place: (origin: number) => lowered.place(origin),
  };
  return { all: () => [site], isCurrent: () => isCurrent } as unknown as Sites;
}

test('of a site that is computed each case passes or fails', () => {
  const outcomes = caseOutcomes(sites(true), {});
  expect(outcomes.map(({ id, outcome }) => [id, outcome])).toEqual([
    [`${ROOT}#lit`, 'passed'],
    [`${ROOT}#bright`, 'failed'],
  ]);
  expect(caseOutcomes(sites(true), { ids: [`${ROOT}#lit`] })).toHaveLength(1);
});

test('of a site that is still being computed nothing is said but that', () => {
  const outcomes = caseOutcomes(sites(false), {});
  expect(outcomes.map(({ outcome }) => outcome)).toEqual(['skipped', 'skipped']);
  expect(outcomes[0]!.failures[0]!.message).toBe('The site Shed is still being computed: run lit again.');
});
