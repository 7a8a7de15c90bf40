/** Locks on escape routes that open as they should, and what is said where it cannot be judged. */
import { describe, expect, it } from 'vitest';
import { BOTH_POLES, door, OPENED_BY_RELAY } from './mistakes-locks.ts';
import { changed, check, type Edit, verdicts } from './support.ts';

const said = (...edits: readonly Edit[]) => check(changed(...edits)).findings;

describe('a lock that its release and its supplies let go', () => {
  it('is fed through both poles of the release', () => {
    expect(verdicts(changed(...door(BOTH_POLES)))).toEqual([]);
  });

  it('falls with each supply that opening depends on', () => {
    const heldIn = OPENED_BY_RELAY.map((edit) => (typeof edit === 'string' ? edit.replace('K7.14', 'K7.12') : edit));
    const lock = door(
      'G7.plus -- S7.11-12 -- K7.11-14 -- L7 -- S7.21-22 -- G7.minus',
      ...heldIn,
      'program ctl.Q3 rest = on',
    );
    expect(verdicts(changed(...lock))).toEqual([]);
  });

  it('may get what is below the volts at which it lets go, and not what is just above', () => {
    const past = (ohms: string) => door(BOTH_POLES, `resistor R7 = ${ohms}`, 'wire S7.11 -- R7 -- S7.12');
    // With the other pole welded 12.5 V stand across R7 and the 40 ohm of the lock, which lets go below 1 V: at 460 ohm.
    expect(verdicts(changed(...past('462R')))).not.toContain('error release-can-be-defeated S7');
    expect(verdicts(changed(...past('458R')))).toContain('error release-can-be-defeated S7');
  });
});

it('neither rule may be accepted', () => {
  const found = verdicts(
    changed(
      ...door('G7.plus -- S7.11-12 -- L7 -- G7.minus', 'spare S7.21, S7.22'),
      'accept release-can-be-defeated on S7 because "so it was" until 2028-01-31',
    ),
  );
  expect(found).toContain('error release-can-be-defeated S7');
  expect(found).toContain('warning acceptance-stale S7');
});

describe('what cannot be judged', () => {
  it('is a lock that does not say what it works at', () => {
    const lacking = door(BOTH_POLES).map((edit) =>
      typeof edit === 'string' ? edit.replace('works: 10 V .. 15 V  inrush', 'inrush') : edit,
    );
    const needs = said(...lacking).filter((finding) => finding.rule === 'not-evaluated');
    expect(needs.map((finding) => finding.message)).toContainEqual(
      expect.stringMatching(/needs `works` of L7 \(.*lock-held-without-supply, .*release-can-be-defeated\)/),
    );
  });

  it('is a release that no lock hangs on', () => {
    const lacking = door(BOTH_POLES).map((edit) =>
      typeof edit === 'string' ? edit.replace('  role: escape-lock', '') : edit,
    );
    const needs = said(...lacking).filter((finding) => finding.rule === 'not-evaluated');
    expect(needs.map((finding) => finding.message)).toContainEqual(
      expect.stringContaining('no load with `role: escape-lock`'),
    );
  });
});
