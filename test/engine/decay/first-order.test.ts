/** Exponential crossings by hand, their extremes over tolerances, and the search for what turns inside a range. */
import {
  capacitorSeconds,
  capacitorVolts,
  chargeSeconds,
  extremesOf,
  firstOrderSeconds,
  firstOrderValue,
  fixed,
  ranged,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { box, decades, expectNear, NEVER, seeded } from './support.ts';

describe('first order', () => {
  test('crossing and value are each other’s inverse', () => {
    const random = seeded(12);
    for (let set = 0; set < 200; set++) {
      const [from, towards] = [random() * 20 - 10, random() * 20 - 10];
      const line = { from, towards, tau: decades(random, 1e-6, 1e3) };
      const level = from + (towards - from) * random() * 0.99;
      expectNear(firstOrderValue(line, firstOrderSeconds(line, level)), level, 1e-9);
    }
  });

  test('what is never reached, and what is reached at once', () => {
    const line = { from: 2, towards: 10, tau: 1 };
    expect(firstOrderSeconds(line, 2)).toBe(0);
    expect(firstOrderSeconds(line, 1)).toBe(NEVER);
    expect(firstOrderSeconds(line, 10)).toBe(NEVER);
    expect(firstOrderSeconds(line, 11)).toBe(NEVER);
    expect(firstOrderSeconds({ ...line, towards: 2 }, 3)).toBe(NEVER);
    expect(firstOrderSeconds({ ...line, tau: 0 }, 10)).toBe(0);
    expect(firstOrderSeconds({ ...line, tau: 0 }, 11)).toBe(NEVER);
    expect(firstOrderValue({ ...line, tau: 0 }, 1)).toBe(10);
    expect(firstOrderValue(line, 0)).toBe(2);
  });

  test('a capacitor that only feeds a constant current falls in a straight line', () => {
    const held = { farads: 2200e-6, ohms: NEVER, sourceVolts: 0, fromVolts: 13, drawnAmps: 0.05 };
    // 2200 µF × (13 V − 9 V) / 50 mA = 176 ms.
    expectNear(capacitorSeconds(held, 9), 0.176, 1e-12);
    expectNear(capacitorVolts(held, 0.176), 9, 1e-12);
    expect(capacitorSeconds(held, 14)).toBe(NEVER);
    expect(capacitorSeconds({ ...held, drawnAmps: 0 }, 9)).toBe(NEVER);
    // Behind 100 Ω of 12 V it settles 5 V lower: 12 − 0.05 × 100 = 7 V.
    const fed = { ...held, ohms: 100, sourceVolts: 12 };
    expectNear(capacitorSeconds(fed, 9), 0.22 * Math.log((13 - 7) / (9 - 7)), 1e-12);
  });

  test('the time of an RC over its tolerances', () => {
    const farads = box('C1', 'F', 100e-6, 0.2, 0.2);
    const ohms = box('R1', 'ohm', 47e3, 0.05, 0.05);
    const rising = chargeSeconds({
      farads,
      ohms,
      source: box('V1', 'V', 12, 0.1, 0.1),
      from: fixed('start', 'V', 0),
      to: box('threshold', 'V', 6, 0.05, 0.05),
    });
    expectNear(rising.usual, 4.7 * Math.log(2), 1e-12);
    expectNear(rising.most, 120e-6 * 49.35e3 * Math.log(10.8 / (10.8 - 6.3)), 1e-12);
    expectNear(rising.least, 80e-6 * 44.65e3 * Math.log(13.2 / (13.2 - 5.7)), 1e-12);
    expect(rising.mostCorner).toHaveLength(4);
    const falling = chargeSeconds({
      farads,
      ohms,
      source: fixed('0 V', 'V', 0),
      from: box('V1', 'V', 12, 0.1, 0.1),
      to: box('threshold', 'V', 6, 0.05, 0.05),
    });
    expectNear(falling.most, 120e-6 * 49.35e3 * Math.log(13.2 / 5.7), 1e-12);
    expectNear(falling.least, 80e-6 * 44.65e3 * Math.log(10.8 / 6.3), 1e-12);
  });
});

test('a figure that turns inside its range is found, and not called proven', () => {
  const x = ranged('x', 'V', { least: -1, usual: 0.9, most: 2 });
  const y = ranged('y', 'V', { least: 0, usual: 1, most: 2 });
  const found = extremesOf({
    unit: 'V',
    variables: [
      { of: x, direction: 'unknown' },
      { of: y, direction: 'rises' },
    ],
    at: ([a = 0, b = 0]) => b - (a - 0.3) ** 2,
  });
  expect(found.proven).toBe(false);
  expectNear(found.most, 2, 1e-6);
  expectNear(found.least, -(1.7 ** 2), 1e-6);
  expectNear(found.mostCorner.find((part) => part.what === 'x')!.value, 0.3, 1e-3);
});
