/** Thresholds at their edge: what is exactly there, and what is just beyond. */
import { describe, expect, it } from 'vitest';
import { changed, type Edit, verdicts } from './support.ts';

const CTL = 'unit ctl : Controller in pit';
const ctl = (facts: string): Edit => [CTL, `unit ctl : Controller in pit { ${facts} }`];
const load = (works: string): Edit => ['works: 10 V .. 15 V', `works: ${works}`];
const relay = (facts: string): Edit => ['relay K1 : Relay12 in pit', `relay K1 : Relay12 in pit { ${facts} }`];

/**
 * The beacon has 24 Ω and gets 14.1 V at most: 587.5 mA. It gets 11.4 V less 0.3 V at least: 11.1 V.
 * The coil gets 11.4 V less 0.5 V at least and operates, at 60 °C, at 1.1572 times its volts at 20 °C.
 */
const EDGES: readonly (readonly [what: string, edits: readonly Edit[], finds: readonly string[]])[] = [
  ['an output just at its rating', [ctl('Q2.rated: 587.6 mA  Q2.peak: 2 A')], ['warning output-overloaded ctl.Q2']],
  ['an output just beyond its rating', [ctl('Q2.rated: 587.4 mA  Q2.peak: 2 A')], ['error output-overloaded ctl.Q2']],
  ['an output just below 80 %', [ctl('Q2.rated: 734.4 mA  Q2.peak: 2 A')], []],
  ['an output just above 80 %', [ctl('Q2.rated: 734.3 mA  Q2.peak: 2 A')], ['warning output-overloaded ctl.Q2']],
  ['a beacon that works from just below what it gets', [load('11.09 V .. 15 V')], ['warning load-undervoltage P1']],
  ['a beacon that works from just above what it gets', [load('11.11 V .. 15 V')], ['error load-undervoltage P1']],
  ['a beacon with just 3 % in hand', [load('10.77 V .. 15 V')], []],
  ['a beacon with just less than 3 % in hand', [load('10.78 V .. 15 V')], ['warning load-undervoltage P1']],
  ['a beacon that bears just what it gets', [load('10 V .. 14.101 V')], ['warning load-overvoltage P1']],
  ['a beacon that bears just less than it gets', [load('10 V .. 14.099 V')], ['error load-overvoltage P1']],
  ['a coil that operates just below what it gets', [relay('operates: 9.41 V')], ['warning coil-may-not-operate K1']],
  ['a coil that operates just above what it gets', [relay('operates: 9.43 V')], ['error coil-may-not-operate K1']],
  ['a coil with just a tenth in hand', [relay('operates: 8.56 V')], []],
  ['a coil with just less than a tenth in hand', [relay('operates: 8.57 V')], ['warning coil-may-not-operate K1']],
  ['a coil whose range ends just above what it gets', [relay('range: 9 V .. 14.11 V')], []],
  ['a coil whose range ends just below what it gets', [relay('range: 9 V .. 14.09 V')], ['error coil-overvoltage K1']],
  ['a rail that gives just what is asked', [ctl('V12.limit: 587.6 mA')], ['warning supply-overloaded ctl.V12']],
  ['a rail that gives just less', [ctl('V12.limit: 587.4 mA')], ['error supply-overloaded ctl.V12']],
  ['a contact just at its minimum load', [relay('minimum-load: 718 uA @ 10 mV')], []],
  [
    'a contact just below its minimum load',
    [relay('minimum-load: 722 uA @ 10 mV')],
    ['warning contact-below-minimum-load K1.11-14'],
  ],
];

describe('thresholds at their edge', () => {
  it.each(EDGES)('%s', (_, edits, finds) => {
    expect(verdicts(changed(...edits))).toEqual(finds);
  });
});
