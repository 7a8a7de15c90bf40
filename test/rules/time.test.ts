/** Rules in time at the edges of their thresholds, on the examples of their pages. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse } from '@couplet/engine';
import { type RuleName, run } from '@couplet/rules';
import { describe, expect, it } from 'vitest';
import { lowerText } from '../language/lower/site.ts';
import { TODAY } from './support.ts';

function example(name: RuleName): string {
  const page = readFileSync(join(import.meta.dirname, '../../docs/rules', `${name}.md`), 'utf8');
  const [, text] = /## Failing example\n\n```couplet\n([\s\S]*?)```/.exec(page) ?? [];
  if (text === undefined) throw new Error(`The page of ${name} has no failing example.`);
  return text;
}

/** Severities of a rule's findings in the failing example of its page, changed. */
function found(name: RuleName, ...edits: readonly (readonly [from: string, to: string])[]): readonly string[] {
  let text = example(name);
  for (const [from, to] of edits) {
    if (!text.includes(from)) throw new Error(`The example does not say: ${from}`);
    text = text.replaceAll(from, to);
  }
  const { design } = lowerText(text);
  const { findings } = run(design, analyse(design), { today: TODAY });
  return findings.filter(({ rule }) => rule === name).map(({ severity }) => severity);
}

describe('latching-pulse-too-short', () => {
  it('begins below twice the minimum', () => {
    expect(found('latching-pulse-too-short', ['for 30 ms', 'for 40 ms'])).toEqual([]);
    expect(found('latching-pulse-too-short', ['for 30 ms', 'for 39.9 ms'])).toEqual(['error']);
  });

  it('says what it needs', () => {
    const text = example('latching-pulse-too-short').replace('  minimum-pulse: 20 ms\n', '');
    const { design } = lowerText(text);
    const { findings } = run(design, analyse(design), { today: TODAY });
    expect(findings.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(/needs `minimum-pulse` of K1.*latching-pulse-too-short/),
    );
  });
});

describe('events-merge', () => {
  it('begins below the time that the zone needs to restore', () => {
    expect(found('events-merge', ['wait 2.3 s', 'wait 2.4 s'])).toEqual([]);
    expect(found('events-merge', ['wait 2.3 s', 'wait 2.399 s'])).toEqual(['warning']);
  });

  it('takes the share that a site sets', () => {
    expect(found('events-merge', ['blind: 9', 'blind: 9  limits { events-merge: 70% }'])).toEqual([]);
  });
});

describe('release-too-slow', () => {
  it('has its budget for the whole of the decay', () => {
    expect(found('release-too-slow')).toEqual(['warning']);
    expect(found('release-too-slow', ['inductance: 12 H', 'inductance: 4 H'])).toEqual([]);
    expect(
      found('release-too-slow', [
        '{ ambient: 0 degC .. 40 degC }',
        '{ ambient: 0 degC .. 40 degC  limits { release-too-slow: 0.2 s } }',
      ]),
    ).toEqual([]);
  });

  it('is silent about a coil that nothing suppresses', () => {
    expect(found('release-too-slow', ['suppressor: diode', 'suppressor: none'])).toEqual([]);
  });
});

describe('timer-function-wrong', () => {
  it('begins where the trigger is over before the time of an on-delay', () => {
    const within = ['within 1 s', 'within 40 s'] as const;
    expect(found('timer-function-wrong', within, ['for 1 s', 'for 29 s'])).toEqual(['error']);
    expect(found('timer-function-wrong', within, ['for 1 s', 'for 31 s'])).toEqual([]);
  });

  it('is silent where nothing is expected of the timer', () => {
    expect(found('timer-function-wrong', ['  expect P1 on within 1 s\n', ''])).toEqual([]);
  });
});

describe('signals-never-overlap', () => {
  it('begins beyond the time within which zones count together', () => {
    expect(found('signals-never-overlap', ['within 30 s', 'within 61 s'])).toEqual([]);
    expect(found('signals-never-overlap', ['within 30 s', 'within 59 s'])).toEqual(['error']);
  });

  it('is silent where a case shows that zones apart are not confirmed', () => {
    expect(found('signals-never-overlap', ['expect BOTH confirmed within 1 s', 'expect BOTH unconfirmed'])).toEqual([]);
  });
});

describe('order-decides', () => {
  it('warns where the end differs and nothing is expected of it', () => {
    expect(found('order-decides', ['  expect K1 operated\n', ''])).toEqual(['warning']);
  });

  it('is silent where the press is shorter or longer than the relay may take', () => {
    expect(found('order-decides', ['for 10 ms', 'for 3.9 ms'])).toEqual([]);
    expect(found('order-decides', ['for 10 ms', 'for 12.1 ms'])).toEqual([]);
  });
});

describe('latch-without-reset', () => {
  it('counts an output in the path that holds as well', () => {
    expect(
      found(
        'latch-without-reset',
        ['wire X1 -- K1.13-14 -- K1.A1', 'wire X1 -- S2.11'],
        ['X1 -- S2 -- S1', 'X1 -- S1'],
      ),
    ).toEqual([]);
  });
});

describe('latching-both-coils', () => {
  it('is silent where the second coil sees less than it operates at', () => {
    expect(found('latching-both-coils', ['turn ctl.Q2 on for 1 s', 'wait 2 s'])).toEqual([]);
  });
});

describe('latching-state-unproven', () => {
  it('is silent where a coil is driven at rest', () => {
    expect(found('latching-state-unproven', ['wire ctl.Q2', 'program ctl.Q2 rest = on\nwire ctl.Q2'])).toEqual([]);
  });
});
