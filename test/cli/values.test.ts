/** `couplet values`: preferred values near a value, and pairs that make it. */
import { expect, test } from 'vitest';
import { couplet } from './command.ts';

/** The rows under a heading, cells parted. */
function rows(out: string, heading: string): string[][] {
  const lines = out.split('\n');
  const from = lines.indexOf(heading) + 1;
  expect(from, `no heading '${heading}' in\n${out}`).toBeGreaterThan(0);
  const to = lines.indexOf('', from);
  return lines.slice(from, to).map((line) => line.trim().split(/ {2,}/));
}

test('the nearest E24 value to 2.60 kΩ is 2k7, nearest by ratio (IEC 60063, E24 list)', async () => {
  const { exit, out } = await couplet(['values', '2k6', '--series', 'E24', '--tolerance', '5%']);
  expect(exit).toBe(0);
  const near = rows(out, 'one resistor');
  expect(near[0]).toEqual(['2k7', '2.700 kΩ', '+3.8 %', '2.565 kΩ .. 2.835 kΩ']);
  expect(near[1]?.[0]).toBe('2k4');
});

test('the nearest E96 value to 9.20 kΩ is 9k31, and the series holds 9.20 in E192 only (IEC 60063)', async () => {
  expect(rows((await couplet(['values', '9k2', '--series', 'E96'])).out, 'one resistor')[0]?.[0]).toBe('9k31');
  const finest = rows((await couplet(['values', '9k2', '--series', 'E192'])).out, 'one resistor')[0];
  expect(finest?.slice(0, 3)).toEqual(['9k2', '9.200 kΩ', 'exact']);
});

test('pairs make what they say they make', async () => {
  const { out } = await couplet(['values', '2k35', '--series', 'E12']);
  const pairs = rows(out, 'two resistors');
  expect(pairs.length).toBeGreaterThan(3);
  for (const [parts, made] of pairs) {
    const [a, sign, b] = (parts as string).split(' ') as [string, string, string];
    const [x, y] = [ohms(a), ohms(b)];
    const together = sign === '+' ? x + y : (x * y) / (x + y);
    expect(Number.parseFloat(made as string)).toBeCloseTo(together / 1000, 3);
  }
  expect(pairs[0]?.[0]).toBe('4k7 || 4k7');
});

/** `4k7` in ohms. */
function ohms(code: string): number {
  const [whole = '0', decimals = ''] = code.split(/[Rk]/);
  return Number(`${whole}.${decimals}`) * (code.includes('k') ? 1000 : 1);
}

test('the tolerance chooses the series where none is named', async () => {
  expect((await couplet(['values', '470R'])).out).toContain('from E24 and E96, resistors of +-1%');
  expect((await couplet(['values', '470R', '--tolerance', '10%'])).out).toContain('from E12, resistors of +-10%');
  expect((await couplet(['values', '470R', '--tolerance', '0.5'])).out).toContain(
    'from E24 and E192, resistors of +-0.5%',
  );
});

test('a value may be written without quotes, and as a plain number of ohms', async () => {
  const quoted = await couplet(['values', '2.35 kohm']);
  expect(quoted.out).toContain('2.350 kΩ');
  expect((await couplet(['values', '2.35', 'kohm'])).out).toBe(quoted.out);
  expect((await couplet(['values', '2350'])).out).toBe(quoted.out);
});

test.each([
  [['values'], 'needs a resistance'],
  [['values', '12 V'], 'needs a resistance, such as 2k2; this is a voltage'],
  [['values', '2,35k'], 'write 2.35'],
  [['values', '0R'], 'more than 0 ohm'],
  [['values', 'plenty'], 'is not a value'],
  [['values', '1k', '--series', 'E7'], '--series is one of E3, E6, E12, E24, E48, E96, E192'],
  [['values', '1k', '--tolerance', '200%'], 'is no tolerance'],
  [['values', '1k', '--tolerance'], '--tolerance needs a value'],
])('couplet %j cannot be followed: one line, status 2', async (args, words) => {
  const { err, exit, out } = await couplet(args);
  expect(exit).toBe(2);
  expect(out).toBe('');
  expect(err).toContain(words);
  expect(err.trimEnd().split('\n')).toHaveLength(1);
});
