/** The order of resistor values: what the zones' bands ask for, then the site's own, then the series. */
import type { Zone } from '@couplet/engine';
import { expect, test } from 'vitest';
import { resistorValues } from '../../packages/server/src/completion/resistor-values.ts';
import { type Demand, suits } from '../../packages/server/src/figures/asked-ohms.ts';

const zone = { name: 'panel.Z4' } as Zone;

/** A zone of 5 V behind 4k7 that reads the resistor in series with `more` ohms, and wants it between two ohms. */
function demand(className: string, least: number, most: number, more = 0): Demand {
  const across = (ohms: number) => (ohms === Number.POSITIVE_INFINITY ? 5 : (5 * ohms) / (ohms + 4700));
  return {
    zone,
    caseName: className === 'normal' ? 'rest' : 'event',
    className,
    from: across(least),
    to: across(most),
    volts: (ohms) => across(ohms + more),
  };
}

const texts = (demands: readonly Demand[], onSite: readonly number[] = []) =>
  resistorValues(demands, onSite).map(({ text }) => text);

test('the value nearest to the middle of the band comes first', () => {
  // Middle of 1k1 .. 3k9 in volts: (0.948 + 2.267) / 2 = 1.608 V, which is 2,229 ohms.
  expect(texts([demand('normal', 1100, 3900)]).slice(0, 3)).toEqual(['2k2', '2k4', '2k0']);
});

test('every value that leads lies inside every band asked for', () => {
  const demands = [demand('normal', 1100, 3900), demand('alarm', 3900, 10_000, 4700)];
  const leading = resistorValues(demands, []).slice(0, 5);
  for (const { ohms } of leading) expect(suits(ohms, demands)).toBeGreaterThan(0);
  expect(leading[0]?.readings).toEqual([
    expect.stringMatching(/^panel\.Z4 in rest: 1\.\d\d V, normal$/),
    expect.stringMatching(/^panel\.Z4 in event: 2\.\d\d V, alarm$/),
  ]);
});

test('values of the site follow, the most used first, then E12, E24 and E96 rising', () => {
  const list = texts([], [4700, 2200, 4700, 123]);
  expect(list.slice(0, 3)).toEqual(['4k7', '123R', '2k2']);
  expect(list.slice(3, 6)).toEqual(['100R', '120R', '150R']);
  const e24 = list.indexOf('110R');
  expect(e24).toBeGreaterThan(list.indexOf('820k'));
  expect(list.indexOf('102R')).toBeGreaterThan(e24);
});

test('each value is listed once', () => {
  const list = texts([demand('normal', 1100, 3900)], [2200, 4700]);
  expect(new Set(list).size).toBe(list.length);
});

test('where no value can serve every band, the site and the series are all that is offered', () => {
  const impossible = [demand('normal', 1100, 1200), demand('alarm', 3900, 10_000)];
  expect(texts(impossible, [4700])[0]).toBe('4k7');
});
