/** The index of the rules, and what the generator writes into pages. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { catalogueRow, isComputed, RULE_NAMES, reasonUncomputed, UNCOMPUTED_RULES } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { blocksOf } from '../../../scripts/rule-pages/blocks.ts';
import { indexPage } from '../../../scripts/rule-pages/index-page.ts';
import { pageForTerminal, readPage, writePage } from '../../../scripts/rule-pages/page.ts';

const README = readFileSync(join(import.meta.dirname, '..', '..', '..', 'docs', 'rules', 'README.md'), 'utf8');

describe('the index', () => {
  it('has every rule of the catalogue under its group, with its line', () => {
    for (const name of RULE_NAMES) {
      const { group, summary } = catalogueRow(name);
      const part = README.split(/^## /m).find((each) => each.toLowerCase().startsWith(`${group}\n`));
      const row = part
        ?.split('\n')
        .find((line) => line.startsWith(`| [${name}](${name}.md) |`) || line.startsWith(`| ${name} |`));
      expect(row, name).toContain(summary);
      expect(row?.includes('Not computed yet'), name).toBe(!isComputed(name));
    }
  });

  it('links to the page of every rule that is computed, and to nothing else', () => {
    const linked = [...README.matchAll(/\]\(([^)]+)\.md\)/g)].map((match) => match[1]);
    expect(linked.sort()).toEqual(RULE_NAMES.filter(isComputed).sort());
  });

  it('says of every other rule what it waits for', () => {
    for (const name of UNCOMPUTED_RULES) expect(reasonUncomputed(name), name).toBeDefined();
    expect(indexPage()).not.toContain('undefined');
  });

  it('has no reason for a rule that is computed', () => {
    expect(RULE_NAMES.filter((name) => isComputed(name) && reasonUncomputed(name) !== undefined)).toEqual([]);
  });
});

describe('a page', () => {
  const OWN = `---
also: line-unprotected
---
## What it finds

Something.

## Why it matters

It does.
`;
  const blocks = { facts: 'F', thresholds: 'T', told: '> told', origin: 'O' };

  it('keeps what people wrote, gets the headings it lacks and the blocks of the generator', () => {
    const text = writePage('some-rule', OWN, blocks);
    expect(text).toBe(`---
also: line-unprotected
---
# some-rule

<!-- facts: generated -->
F
<!-- end -->

## What it finds

Something.

## Why it matters

It does.

## Condition and threshold

<!-- thresholds: generated -->
T
<!-- end -->

## Failing example

<!-- told: generated -->
> told
<!-- end -->

## Passing example

## How to cure it

## Origin

<!-- origin: generated -->
O
<!-- end -->
`);
    expect(readPage(text).sections.get('What it finds')).toBe('Something.');
    expect(readPage(text).sections.get('Origin')).toBe('');
    expect(readPage(text).also).toEqual(['line-unprotected']);
  });

  it('is the same when it is written again', () => {
    const once = writePage('some-rule', OWN, blocks);
    expect(writePage('some-rule', once, blocks)).toBe(once);
    expect(writePage('some-rule', once, { ...blocks, told: '' })).not.toContain('told');
  });

  it('has its thresholds with their origin, their standing and how a site sets them', () => {
    const { thresholds, facts, origin } = blocksOf('output-overloaded', undefined);
    expect(thresholds.split('\n')).toEqual([
      '- **100 %**: demand over the rating. From: rating of the output (physics).',
      '- **80 %**: demand over the rating, derated. From: derating of transistor outputs (common practice); a site sets it: `limits { output-overloaded: 80% }`.',
    ]);
    expect(facts).toContain('- Severity: error, or warning at the lower level');
    expect(facts).toContain('- Acceptance: `accept output-overloaded on TARGET because "…" until DATE`');
    expect(origin).toContain('derating, common practice, no source');
    expect(blocksOf('coil-unsuppressed', undefined).thresholds).toBe('There is no threshold to set.');
    expect(blocksOf('too-many-detectors', undefined).thresholds).toContain('**10**: passive contacts');
  });

  it('reads in a terminal without marks and links', () => {
    const text =
      'See [other](other.md), **now**.\n\n<!-- told: generated -->\n> **error** so\n<!-- end -->\n\n```couplet\nsite "A"\n```';
    expect(pageForTerminal(text)).toBe('See other, now.\n\n> error so\n\n    site "A"');
  });
});
