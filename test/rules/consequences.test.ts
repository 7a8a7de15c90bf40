/** One mistake, one finding: what follows from it is attached, and every edge of the graph has an example. */
import { isComputed, RULES } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { CONSEQUENCES } from './consequences.ts';
import { MISTAKES } from './mistakes.ts';
import { brief, changed, check, type Edit } from './support.ts';

describe('a mistake with consequences', () => {
  it.each(CONSEQUENCES.map((each) => [each.what, each] as const))('shows one finding: %s', (_, { edits, shows }) => {
    const { design, findings, explained } = check(changed(...edits));
    const shown = findings.filter((finding) => finding.severity !== 'information');
    expect(shown.map((finding) => brief(design, finding))).toEqual(shows);
    expect(explained.length).toBeGreaterThan(0);
    for (const { cause } of explained)
      expect(shown.map(({ rule, subject }) => [rule, subject])).toContainEqual([cause.rule, cause.subject]);
  });
});

it('has an example for every edge between rules that are computed, and uses no other', () => {
  const seen = new Set<string>();
  const look = (edits: readonly Edit[]) => {
    for (const { finding, by } of check(changed(...edits)).explained) {
      for (const cause of by) seen.add(`${cause.rule} > ${finding.rule}`);
    }
  };
  for (const { edits } of CONSEQUENCES) look(edits);
  for (const mistakes of Object.values(MISTAKES)) for (const { edits } of mistakes) look(edits);
  const declared = RULES.flatMap((rule) => rule.explains.filter(isComputed).map((name) => `${rule.name} > ${name}`));
  expect([...seen].sort()).toEqual(declared.sort());
}, 600_000);
