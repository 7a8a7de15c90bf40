/** Half-written sites: the rules say what they can and never throw. */
import { analyse, type Design } from '@couplet/engine';
import { run } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { lowerText } from '../language/lower/site.ts';
import { CONSEQUENCES } from './consequences.ts';
import { MISTAKES } from './mistakes.ts';
import { changed, HEALTHY, TODAY, TYPES } from './support.ts';

function lowered(text: string, types = TYPES): Design | undefined {
  try {
    return lowerText({ 'site.couplet': text, 'types.couplet': types }).design;
  } catch {
    // A text that does not parse is the language's to test.
    return undefined;
  }
}

/** A word of the language that looks like a mistake of this program. */
const STATES_AT_POWER_UP = '(on, unchanged, undefined)';
const MISTAKE = /NaN|undefined|Infinity|\[object|\?\?/;

function sound(text: string, types = TYPES): void {
  const design = lowered(text, types);
  if (design === undefined) return;
  for (const finding of run(design, analyse(design), { today: TODAY }).findings) {
    expect(finding.message.replace(STATES_AT_POWER_UP, '')).not.toMatch(MISTAKE);
    expect(finding.message, finding.rule).toMatch(/[.)]$/);
    for (const related of finding.related) expect(related.message).not.toMatch(MISTAKE);
  }
}

const lines = HEALTHY.trimEnd().split('\n');

describe('a site with a line missing', () => {
  it.each(lines.map((line, index) => [line, index] as const))('%s', (_, index) => {
    sound(lines.filter((__, at) => at !== index).join('\n'));
  });
});

describe('a site with a property missing', () => {
  const properties = [...TYPES.matchAll(/ {2}?([a-z-]+): [^:{}\n]+?(?= {2}|\n| \})/g)].map((match) => match[0]);
  it.each([...new Set(properties)])('%s', (property) => {
    sound(HEALTHY, TYPES.replace(property, ''));
  });
});

it('every mistake with any one line of it missing', () => {
  const texts = [...CONSEQUENCES, ...Object.values(MISTAKES).flat()].map(({ edits }) => changed(...edits).split('\n'));
  for (const text of texts) {
    for (let index = 3; index < text.length; index += 7) sound(text.filter((_, at) => at !== index).join('\n'));
  }
}, 1_200_000);

it('an empty site, and a file of types alone', () => {
  sound('site "Nothing" { }');
  sound(TYPES);
});
