/** Coils weighed at one temperature, and ratings that say nothing of direct current. */
import { describe, expect, it } from 'vitest';
import { COIL, CTL, RELAY } from './phrases.ts';
import { changed, check, type Edit, verdicts } from './support.ts';

describe('a relay held in through a resistor', () => {
  const saving = (holds: string): readonly Edit[] => [
    ['blind: 3', 'blind: 99'],
    [RELAY, `relay K1 : Relay12 in pit { holds: ${holds} }`],
    [COIL, 'wire ctl.V12 -- R9 -- K1.A1-A2 -- ctl.Q1\nwire R9.1 -- S9.11-12 -- R9.2'],
    'resistor R9 = 68R +-5%',
    'switch S9 in pit { contacts: break  contact-rating: 1 A @ 30 V  minimum-load: 1 mA @ 100 mV }',
    'case saving {\n  turn S9 open\n  expect panel.Z4 normal\n}',
  ];

  // 10.9 V over 71.4 ohm and the coil's 648 ohm. At 60 degC, 749.9 ohm and 9.952 V, which is 8.600 V at 20 degC; at
  // -5 degC, 584.3 ohm and 9.713 V, which is 10.77 V at 20 degC. The hot coil decides, with the volts it then gets.
  it.each([
    ['8.61 V', 'error relay-may-drop-out K1'],
    ['8.59 V', 'warning relay-may-drop-out K1'],
    ['7.83 V', 'warning relay-may-drop-out K1'],
  ])('that holds at %s: %s', (holds, finding) => {
    expect(verdicts(changed(...saving(holds)))).toContain(finding);
  });

  it('has a tenth in hand where it holds at 7.81 V', () => {
    expect(verdicts(changed(...saving('7.81 V'))).filter((each) => each.includes('drop-out'))).toEqual([]);
  });
});

describe('a supply that is asked for more than it gives', () => {
  const told = (limit: string) =>
    check(changed([CTL, `unit ctl : Controller in pit { V12.limit: ${limit} }`])).findings.find(
      (finding) => finding.rule === 'supply-overloaded',
    )?.message;

  it('names its loads without amperes while it limits: they draw less than they ask for', () => {
    expect(told('500 mA')).toContain('588 mA is asked of ctl.V12');
    expect(told('500 mA')).toContain('118 % of the 500 mA it gives, for P1. It limits');
  });

  it('names what each draws where it does not limit', () => {
    expect(told('640 mA')).toContain('91.8 % of the 640 mA it gives: P1 588 mA. ');
  });
});

describe('a contact rated at alternating volts', () => {
  const rated = (rating: string) =>
    check(changed([RELAY, `relay K1 : Relay12 in pit { contact-rating: ${rating} }`])).findings.filter(
      (finding) => finding.rule === 'not-evaluated' && finding.message.includes('contact-overloaded'),
    );

  it('is not one without a rating: it is told that direct current is another matter', () => {
    expect(rated('3 A @ 250 V ac').map((finding) => finding.message)).toEqual([
      'Not evaluated: K1.11-14: its rating at alternating volts says nothing of direct current: it needs one at direct volts (contact-overloaded).',
    ]);
  });

  it('is judged by its other rating where it has both', () => {
    expect(rated('3 A @ 250 V ac, 2 A @ 30 V')).toEqual([]);
  });
});
