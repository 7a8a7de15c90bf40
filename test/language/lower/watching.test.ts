/** Confirmations, and outputs that follow what zones, inputs and confirmations say. */
import { analyse, type Component } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { findingsOf, lowerText, partOf } from './site.ts';

const PARTS = `site "S" { ambient: 20 degC }
place hall
type Panel : unit {
  common G { earthed: yes }
  rail AUX { volts: 12 V  return: G }
  zone Z1 .. Z3 { feed: 5 V via 4k7  return: G  responds: 400 ms  restores: 400 ms  scheme: double }
  scheme double { normal: below 4k  alarm: 4k .. 10k  open: above 10k }
  input D1 { feed: 5 V via 4k7  return: G  on: below 2 V  off: above 3 V }
  output Q1 { style: sink  return: G  drop: 0 V }
  output Q2 { style: sink  return: G  drop: 0 V }
}
unit panel : Panel in hall
`;

function lowerWith(statements: string) {
  const lowered = lowerText({ 'site.couplet': `${statements}\nuse "parts.couplet"`, 'parts.couplet': PARTS });
  return { ...lowered, found: findingsOf(lowered) };
}

const names = (all: readonly Component[], ids: readonly number[]) => ids.map((id) => all[id]?.name);

describe('a confirmation', () => {
  test('is a component that counts zones within a time', () => {
    const { design, found } = lowerWith('confirm BOTH = panel.Z1, panel.Z2 within 30 s "Both beams"\n');
    expect(found).toEqual([]);
    const both = partOf(design, 'BOTH', 'confirm');
    if (both.kind !== 'confirm') throw new Error('BOTH is a confirmation');
    expect(names(design.components, both.zones)).toEqual(['panel.Z1', 'panel.Z2']);
    expect(both.within?.usual).toBe(30);
    expect(both.description).toBe('Both beams');
    expect(both.partnerInTrouble).toMatchObject({
      word: 'does-not-count',
      assumption: expect.stringContaining('partner'),
    });
    expect(design.uncomputed).toEqual([]);
  });

  test('says whether a partner in trouble leaves the other one alone', () => {
    const { design } = lowerWith('confirm X = panel.Z1, panel.Z2 { partner-in-trouble: counts-alone }');
    const part = partOf(design, 'X', 'confirm');
    expect(part).toMatchObject({ kind: 'confirm', partnerInTrouble: { word: 'counts-alone' } });
    expect(part).not.toHaveProperty('partnerInTrouble.assumption');
    expect(part.kind === 'confirm' && part.within).toBe(undefined);
  });

  test('may be expected, whichever of the two is written first', () => {
    const { design, found } = lowerWith(
      'case a { expect X confirmed }\nconfirm X = panel.Z1, panel.Z2\ncase b { expect X unconfirmed throughout }',
    );
    expect(found).toEqual([]);
    const subjects = design.cases.flatMap(({ steps }) => steps.flatMap((step) => (step.sort === 'expect' ? step : [])));
    const { id } = partOf(design, 'X', 'confirm');
    expect(subjects.map(({ subject }) => subject)).toEqual([
      { sort: 'component', component: id },
      { sort: 'component', component: id },
    ]);
  });

  test('counts zones and nothing else, and at least two', () => {
    expect(lowerWith('confirm X = panel.Z1, panel.Q1').found).toEqual([
      'zone-needed 1:23 A confirmation counts zones; panel.Q1 is none.',
    ]);
    expect(lowerWith('confirm X = panel.Z1').found).toEqual([
      'zones-missing 1:1 X confirms nothing: it needs two zones that count only together.',
    ]);
    expect(lowerWith('confirm X = panel.Z1, panel.Z1').found).toHaveLength(1);
  });

  test('in an assembly is one for each use', () => {
    const { design, found } = lowerWith(`
type Pair : assembly { given A : zone  given B : zone  confirm BOTH = A, B within 10 s  case x { expect BOTH unconfirmed } }
assembly P1 : Pair { A: panel.Z1  B: panel.Z2 }
assembly P2 : Pair { A: panel.Z2  B: panel.Z3 }`);
    expect(found).toEqual([]);
    const zones = (name: string) => {
      const part = partOf(design, name, 'confirm');
      return part.kind === 'confirm' ? names(design.components, part.zones) : [];
    };
    expect([zones('P1.BOTH'), zones('P2.BOTH')]).toEqual([
      ['panel.Z1', 'panel.Z2'],
      ['panel.Z2', 'panel.Z3'],
    ]);
  });
});

describe('an output that follows', () => {
  const followed = (statements: string) => {
    const { design, found } = lowerWith(statements);
    expect(found).toEqual([]);
    const output = partOf(design, 'panel.Q1', 'output');
    const follows = output.kind === 'output' ? (output.follows ?? []) : [];
    return follows.map(({ component, word }) => `${design.components[component]?.name} ${word}`);
  };

  test('is on while any of what is named holds', () => {
    const text = 'program panel.Q1 follows = X confirmed, panel.Z3 alarm, panel.D1 on\nconfirm X = panel.Z1, panel.Z2';
    expect(followed(text)).toEqual(['X confirmed', 'panel.Z3 alarm', 'panel.D1 on']);
  });

  test('keeps what it follows among the settings of its unit', () => {
    const { design } = lowerWith('program panel.Q1 follows = panel.Z3 alarm');
    const unit = partOf(design, 'panel', 'unit');
    expect(unit.kind === 'unit' && unit.settings.map(({ name, text }) => [name, text])).toEqual([
      ['Q1 follows', 'panel.Z3 alarm'],
    ]);
  });

  test('may say so where it is declared', () => {
    expect(
      followed('unit other : Panel in hall { Q2.follows: panel.Z1 open }\nprogram panel.Q1 follows = other.Z1 open'),
    ).toEqual(['other.Z1 open']);
  });

  test('follows zones, inputs and confirmations in states that they have', () => {
    expect(lowerWith('program panel.Q1 follows = panel.Z1 ajar').found).toEqual([
      "state-wrong 1:37 panel.Z1 is never 'ajar': write normal, alarm or open.",
    ]);
    expect(lowerWith('program panel.Q1 follows = panel.Q2 on').found).toEqual([
      'follow-wrong 1:28 An output follows zones, inputs and confirmations; panel.Q2 is none of them.',
    ]);
  });
});

test('what follows a confirmation is computed, from the text to the verdict', () => {
  const { design } = lowerWith(`
switch S1 in hall { contacts: break }
switch S2 in hall { contacts: break }
resistor R1 = 2k2
resistor R2 = 2k2
resistor A1 = 4k7
resistor A2 = 4k7
load P1 = 100 mA @ 12 V in hall { style: resistive  works: 9 V .. 15 V }
wire panel.Z1 -- S1 -- R1 -- panel.G
wire panel.Z2 -- S2 -- R2 -- panel.G
wire S1.11 -- A1 -- S1.12
wire S2.11 -- A2 -- S2.12
wire panel.AUX -- P1 -- panel.Q1
confirm BOTH = panel.Z1, panel.Z2 within 30 s
program panel.Q1 follows = BOTH confirmed
case both {
  turn S1 open for 5 s
  expect P1 on 1 times
  wait 10 s
  turn S2 open for 5 s
  expect BOTH confirmed within 1 s
  expect P1 on within 1 s
}
case one {
  turn S1 open
  wait 60 s
  expect P1 off throughout
}`);
  const { cases, problems } = analyse(design);
  expect(problems).toEqual([]);
  expect(cases.map(({ name, verdicts }) => [name, ...verdicts.map(({ holds }) => holds)])).toEqual([
    ['rest'],
    ['both', true, true, true],
    ['one', true],
  ]);
});
