/** What holds for every text: the layout is final, says the same, loses nothing, and one change is one line of it. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { plainSigns } from '@couplet/engine';
import { format } from '@couplet/language';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { said } from '../lower/design.ts';
import { example, SITES } from '../lower/examples.ts';
import { lowerText } from '../lower/site.ts';
import { errorsOf, mangled, piecesOf } from './mangle.ts';
import { siteText } from './sites.ts';

const ROOT = join(import.meta.dirname, '..', '..', '..');

function couplets(folder: string): string[] {
  return readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.couplet'))
    .map((name) => join(folder, name));
}

const FILES = [
  ...couplets('examples'),
  ...couplets('test/language/fixtures'),
  'packages/language/library/builtin.couplet',
];
const read = (path: string) => readFileSync(join(ROOT, path), 'utf8');

/** Tokens and notes as they are compared: plain signs, no quotes, no blanks in values. */
function saidIn(text: string): string {
  return piecesOf(text)
    .map(({ text: piece, type }) => (type === 'NOTE' || piece.startsWith('//') ? piece.trimEnd() : plain(piece)))
    .join('\n');
}

function plain(text: string): string {
  return plainSigns(text)
    .replace('+/-', '+-')
    .replace(/^[-\u2014]$/, '--')
    .replace('\u2265', '>=')
    .replace('\u2264', '<=')
    .replaceAll('"', '')
    .replace(/\s/g, '');
}

/** The design and the codes of what lowering finds. */
function meaning(files: string | Record<string, string>) {
  const { design, findings } = lowerText(files);
  return { ...said(design), findings: findings.map((each) => each.code).sort() };
}

function formattedFiles(files: Record<string, string>): Record<string, string> {
  return Object.fromEntries(Object.entries(files).map(([name, text]) => [name, format(text).text]));
}

describe('files of the project', () => {
  test('there are some', () => expect(FILES.length).toBeGreaterThan(20));

  test.each(FILES)('%s', (path) => {
    const text = read(path);
    const { text: once, unread } = format(text);
    expect(unread).toEqual([]);
    expect(format(once).text).toBe(once);
    expect(saidIn(once)).toBe(saidIn(text));
    expect(errorsOf(once)).toBe(0);
  });

  test.each(FILES.filter((path) => path.startsWith('examples')))('%s is laid out: couplet format examples', (path) => {
    expect(format(read(path)).text).toBe(read(path));
  });

  test.each(SITES)('the site %s has the same design', (site) => {
    const files = example(site);
    expect(meaning(formattedFiles(files))).toEqual(meaning(files));
  });
});

describe('the same tokens in another layout', () => {
  test.each(['examples/tidewater-mill/site.couplet', 'test/language/fixtures/every-form.couplet'])('%s', (path) => {
    fc.assert(
      fc.property(mangled(read(path)), (text) => {
        expect(errorsOf(text)).toBe(0);
        const once = format(text).text;
        expect(format(once).text).toBe(once);
        expect(saidIn(once)).toBe(saidIn(text));
      }),
      { numRuns: 25 },
    );
  });

  test('have the same design', () => {
    const files = example('glasshouse');
    const expected = meaning(files);
    const [root] = Object.keys(files) as [string];
    fc.assert(
      fc.property(mangled(files[root] as string), (text) => {
        expect(meaning({ ...files, [root]: format(text).text })).toEqual(expected);
      }),
      { numRuns: 10 },
    );
  });
});

describe('drawn sites', () => {
  test('have the same design, and the layout is final', () => {
    let struck = 0;
    fc.assert(
      fc.property(
        siteText.chain((text) => fc.tuple(fc.constant(text), mangled(text))),
        ([text, other]) => {
          const expected = meaning(text);
          for (const each of [text, other]) {
            const once = format(each).text;
            expect(format(once).text).toBe(once);
            expect(meaning(once)).toEqual(expected);
          }
          struck += text.split(' in ').length - format(text).text.split(' in ').length;
        },
      ),
      { numRuns: 40 },
    );
    expect(struck).toBeGreaterThan(0);
  });

  test('lines are at most 120 columns long where a break is allowed', () => {
    fc.assert(
      fc.property(siteText, (text) => {
        const long = format(text)
          .text.split('\n')
          .filter((line) => line.length > 120);
        for (const line of long) expect(line).toMatch(/^ *because "/);
      }),
      { numRuns: 60 },
    );
  });
});

/** Changes that a person makes to one line. */
const CHANGES: readonly (readonly [string, (line: string, before: string) => string[] | undefined])[] = [
  ['a value', (line) => (/\b\d+ (mA|m|ms)\b/.test(line) ? [line.replace(/\b\d+ (mA|m|ms)\b/, '77 $1')] : undefined)],
  ['a name in a chain', (line) => (/^wire .*-- RE\b/.test(line) ? [line.replace('RE', 'R7')] : undefined)],
  ['a part added to a chain', (line) => (/^wire .{0,60}$/.test(line) ? [line.replace(' --', ' -- R9 --')] : undefined)],
  ['a property added', (line) => (/^ {2}[a-z-]+: \d/.test(line) ? [line, '  role: escape-lock'] : undefined)],
  ['a property taken away', (line) => (/^ {2}[a-z-]+: \d/.test(line) ? [] : undefined)],
  [
    'a property added to a row',
    (line) =>
      /^ {2}(zone|rail|output|contact) .{0,80} }$/.test(line) ? [line.replace(' }', ' role: x }')] : undefined,
  ],
  ['a step added', (line) => (/^ {2}(turn|expect) /.test(line) ? [line, '  wait   5s'] : undefined)],
  ['a step taken away', (line) => (/^ {2}(turn|expect) /.test(line) ? [] : undefined)],
  ['a statement added', (line) => (/^(wire|resistor) /.test(line) ? [line, 'resistor  R8=1k'] : undefined)],
  [
    'a statement taken away',
    (line, before) => (/^(wire|resistor) [^{]*$/.test(line) && before !== '' ? [] : undefined),
  ],
  ['a note added', (line) => (/[^{]$/.test(line) && !line.includes('//') ? [`${line} // seen`] : undefined)],
  ['a core added to a list', (line) => (/^( {2}cores: |spare )/.test(line) ? [`${line}, W1.XX`] : undefined)],
];

test.each(CHANGES)('one change is one line: %s', (_, change) => {
  let made = 0;
  for (const path of FILES.filter((each) => !each.includes('mistakes'))) {
    const lines = format(read(path)).text.split('\n');
    for (const [i, line] of lines.entries()) {
      const other = change(line, lines[i - 1] ?? '');
      if (other === undefined) continue;
      const text = [...lines.slice(0, i), ...other, ...lines.slice(i + 1)].join('\n');
      if (errorsOf(text) > 0) continue;
      made++;
      const { gone, added } = difference(lines, format(text).text.split('\n'));
      expect(gone.length, `${path}:${i + 1} ${gone} → ${added}`).toBeLessThanOrEqual(1);
      expect(added.length, `${path}:${i + 1} ${gone} → ${added}`).toBeLessThanOrEqual(1);
    }
  }
  expect(made).toBeGreaterThan(3);
});

/** Lines between the common beginning and the common end. */
function difference(one: readonly string[], other: readonly string[]) {
  let head = 0;
  while (head < Math.min(one.length, other.length) && one[head] === other[head]) head++;
  let tail = 0;
  while (tail < Math.min(one.length, other.length) - head && one.at(-1 - tail) === other.at(-1 - tail)) tail++;
  return { gone: one.slice(head, one.length - tail), added: other.slice(head, other.length - tail) };
}

const BITS = [
  '',
  '"',
  '{',
  '}',
  ':',
  '--',
  '\n',
  '  \n\n ',
  ';',
  '#',
  '//x\n',
  'wire ',
  '\nunit ',
  'é',
  '±',
  '\r\n',
  '4',
  '.',
  ',',
];

test.each(FILES.slice(0, 6))('a broken text loses nothing: %s', (path) => {
  const whole = read(path);
  const cut = fc.tuple(
    fc.nat(whole.length),
    fc.nat(3),
    fc.constantFrom(...BITS, '\nsupply X', '\u0000', '\ufeff', '“'),
  );
  fc.assert(
    fc.property(fc.array(cut, { minLength: 1, maxLength: 4 }), (cuts) => {
      const text = cuts.reduce(
        (before, [at, length, bit]) => before.slice(0, at) + bit + before.slice(at + length),
        whole,
      );
      const { text: once, unread } = format(text);
      expect(plain(once).replaceAll(/[\u2014]|--/g, '-')).toBe(plain(text).replaceAll(/[\u2014]|--/g, '-'));
      expect(format(once).text).toBe(once);
      expect(errorsOf(text) > 0).toBe(unread.length > 0);
    }),
    { numRuns: 60 },
  );
});
