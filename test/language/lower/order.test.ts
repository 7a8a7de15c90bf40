/** Order of statements never matters: a shuffled site is the same site. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { said } from './design.ts';
import { example, SITES } from './examples.ts';
import { findingsOf, lowerText } from './site.ts';

/** The statements of a text: a statement begins at a letter that starts a line. */
function statements(text: string): string[] {
  return text
    .split(/^(?=[a-z])/m)
    .filter((part) => part.trim() !== '')
    .map((part) => (part.endsWith('\n') ? part : `${part}\n`));
}

test.each(SITES)('%s', (site) => {
  const files = example(site);
  const asWritten = said(lowerText(files).design);
  fc.assert(
    fc.property(
      fc.tuple(
        ...Object.entries(files).map(([name, text]) => {
          const parts = statements(text);
          return fc.tuple(fc.constant(name), fc.shuffledSubarray(parts, { minLength: parts.length }));
        }),
      ),
      (shuffled) => {
        const lowered = lowerText(Object.fromEntries(shuffled.map(([name, parts]) => [name, parts.join('')])));
        expect(findingsOf(lowered)).toEqual([]);
        expect(said(lowered.design)).toEqual(asWritten);
      },
    ),
    { numRuns: 25, seed: 7 },
  );
});

test('and bodies may be shuffled as well', () => {
  const items = ['  cores: GN, YE', '  size: 0.5 mm2', '  length: 10 m', '  from: a', '  to: b'];
  const site = (body: readonly string[]) => `place a\nplace b\ncable W1 {\n${body.join('\n')}\n}`;
  const asWritten = said(lowerText(site(items)).design);
  fc.assert(
    fc.property(fc.shuffledSubarray(items, { minLength: items.length }), (body) => {
      expect(said(lowerText(site(body)).design)).toEqual(asWritten);
    }),
    { numRuns: 20, seed: 7 },
  );
});
