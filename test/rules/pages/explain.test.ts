/** `couplet explain RULE` prints the rule's page. */
import { expect, it } from 'vitest';
import { couplet } from '../../cli/command.ts';

it('a rule that is computed: its page, examples and all', async () => {
  const { exit, out } = await couplet(['explain', 'output-overloaded']);
  expect(exit).toBe(0);
  expect(out).toContain('output-overloaded\n\nAn output must carry more than its rating');
  expect(out).toContain('\nWhy it matters\n');
  expect(out).toContain('- 80 %: demand over the rating, derated.');
  expect(out).toContain('    wire ctl.V12 -- P1 -- ctl.Q1');
  expect(out).toContain('> error at line 9, column 17: ctl.Q1 must carry 1.25 A');
  expect(out).not.toMatch(/<!--|```|\]\(/);
});

it('several rules, one after the other', async () => {
  const { out } = await couplet(['explain', 'rest-inverted', 'back-feed']);
  expect(out.indexOf('rest-inverted')).toBeLessThan(out.indexOf('back-feed'));
});
