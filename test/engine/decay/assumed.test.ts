/** What is assumed where nothing is given, and the clause that says so. */
import { assumedInductance, assumedTimeConstant, builtInSuppression } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { expectNear } from './support.ts';

describe('what is not given is assumed and said', () => {
  test('inductance from watts', () => {
    expect(assumedTimeConstant(0.2)).toBe(1.5e-3);
    expectNear(assumedTimeConstant(5), 10e-3, 1e-12);
    expectNear(assumedTimeConstant(80), 0.1, 1e-12);
    const found = assumedInductance('K1', 12, 720)!;
    expectNear(found.usual, 1.08, 1e-12);
    expectNear(found.least, 0.54, 1e-12);
    expectNear(found.most, 2.16, 1e-12);
    expect(found.assumption).toBe(
      'inductance of K1 not given, taken as 1.08 H (540 mH .. 2.16 H): L/R 1.5 ms (IEC 60947-5-1 DC-13, from memory; spread common practice, no source)',
    );
    expect(assumedInductance('K1', 0, 720)).toBeUndefined();
    expect(assumedInductance('K1', 12, Number.NaN)).toBeUndefined();
  });

  test('built-in suppression', () => {
    const volts = { least: 24, usual: 24, most: 24, origin: 1 };
    expect(builtInSuppression({ sort: 'none', origin: 1 }, 'K1')).toEqual([]);
    expect(builtInSuppression({ sort: 'diode', origin: 1 }, 'K1')).toMatchObject([
      { sort: 'diode', drop: { usual: 0.7 } },
    ]);
    expect(builtInSuppression({ sort: 'zener', volts, origin: 1 }, 'K1')).toMatchObject([
      { sort: 'zener', volts: { usual: 24 }, drop: { least: 0.6, most: 1 } },
    ]);
    expect(builtInSuppression({ sort: 'zener', origin: 1 }, 'K1')).toEqual({ lacks: 'the volts of its zener' });
    expect(builtInSuppression({ sort: 'varistor', volts, origin: 1 }, 'K1')).toMatchObject([
      { sort: 'varistor', volts: { usual: 24, assumption: 'varistor of K1 taken to hold its volts at any current' } },
    ]);
    expect(builtInSuppression({ sort: 'rc', origin: 1 }, 'K1')).toMatchObject([
      { sort: 'rc', ohms: { usual: 100 }, farads: { least: 47e-9, usual: 100e-9, most: 470e-9 } },
    ]);
  });
});
