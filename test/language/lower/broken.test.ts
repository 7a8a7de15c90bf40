/** Files that are half typed, cut off or wrong: lowering gives what it can of them and never throws. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse } from '@couplet/engine';
import { lower } from '@couplet/language';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { example } from './examples.ts';
import { findingsOf, joinsOf, lowerText, parseBroken } from './site.ts';

const fixtures = join(import.meta.dirname, '..', 'fixtures');
const TEXTS = {
  mill: Object.values(example('tidewater-mill')).join('\n'),
  forms: readFileSync(join(fixtures, 'every-form.couplet'), 'utf8'),
  assemblies: readFileSync(join(fixtures, 'assemblies.couplet'), 'utf8'),
};

function lowerBroken(text: string) {
  return lower(parseBroken({ 'site.couplet': text }), 'memory:///site.couplet');
}

describe.each(Object.entries(TEXTS))('%s', (_, text) => {
  test('cut off anywhere', () => {
    fc.assert(
      fc.property(fc.nat(text.length), (end) => {
        expect(lowerBroken(text.slice(0, end)).design.components.length).toBeGreaterThanOrEqual(0);
      }),
      { numRuns: 60, seed: 3 },
    );
  });

  test('with words left out or moved', () => {
    const words = text.split(/(?<=\s)/);
    fc.assert(
      fc.property(fc.nat(words.length - 1), fc.nat(words.length - 1), fc.boolean(), (at, to, move) => {
        const changed = [...words];
        const [word = ''] = changed.splice(at, 1);
        if (move) changed.splice(to, 0, word);
        const { design } = lowerBroken(changed.join(''));
        for (const { a, b } of design.joins) expect(Math.max(a, b)).toBeLessThan(design.terminals.length);
      }),
      { numRuns: 80, seed: 5 },
    );
  });
});

test('what is complete in a half-typed file is lowered', () => {
  const { design } = lowerBroken(`${TEXTS.mill}\nwire K1.11 --\nrelay K2 : \nload P2 = \ncase x { turn`);
  expect(joinsOf(design)).toContain('level.V12 K1.A1');
  expect(design.cases.map((each) => each.name)).toContain('high-water');
  expect(analyse(design).cases[1]?.verdicts.every((verdict) => verdict.holds === true)).toBe(true);
});

test('a circle of files, a missing one and an empty one', () => {
  const lowered = lowerText({
    'a.couplet': 'use "b.couplet"\nuse "gone.couplet"\nuse "empty.couplet"\njoint X\nwire X -- Y',
    'b.couplet': 'use "a.couplet"\njoint Y',
    'empty.couplet': '',
  });
  expect(findingsOf(lowered)).toEqual([]);
  expect(joinsOf(lowered.design)).toEqual(['X Y']);
});

test('a circle of files under names', () => {
  const lowered = lowerText({
    'a.couplet': 'use "b.couplet" as b\njoint X',
    'b.couplet': 'use "a.couplet" as a\njoint Y',
  });
  expect(lowered.design.components.map((part) => part.name)).toEqual(['X', 'b.Y']);
});

test('of two things with one name the first counts, and a file counts once', () => {
  const lowered = lowerText({
    'a.couplet':
      'use "b.couplet"\nuse "c.couplet" as c\nuse "c.couplet" as d\njoint X\ncase rest {}\ntype T : unit\ncase one {}',
    'b.couplet': 'case rest {}\nresistor R1, X = 1k0\ntype T : relay\ncase one {}',
    'c.couplet': 'joint X',
  });
  expect(lowered.design.components.map((part) => part.name)).toEqual(['X', 'R1', 'c.X']);
});
