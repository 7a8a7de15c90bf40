/** What each word of a single fault does to each kind of part that a case turns to it. */
import { describe, expect, test } from 'vitest';
import { crossed, effectOf, isFault, piecesOf } from '../../../packages/engine/src/analysis/turned-faults.ts';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';

function site(): SiteBuilder {
  const s = new SiteBuilder().place('hut').place('quay');
  s.supply('G1', { volts: datum(12) })
    .fuse('F1', 0.1)
    .diode('D1', 0.7)
    .resistor('RE', 2200)
    .resistor('R2', 100);
  s.cable('W1', ['RD', 'BK'], 2, 'hut', 'quay').switch('S1', 'make', {}).relay('K1', { poles: 2 }).relay('K2', {});
  s.load('P1', 'resistive', { sort: 'ohms', ohms: datum(24) });
  s.load('P2', 'resistive', { sort: 'ohms', ohms: datum(24) }, { polarised: choice('yes') } as never);
  s.load('P3', 'resistive', { sort: 'ohms', ohms: datum(24) }, { suppressor: { sort: 'diode', origin: -1 } } as never);
  s.load('P4', 'resistive', { sort: 'ohms', ohms: datum(24) }, { suppressor: { sort: 'rc', origin: -1 } } as never);
  s.unit('u').output('u.Q1', 'sink').zone('Z1', 'Z1.C').input('X1', 'XP', 'XN', {});
  s.contact('u.K', 'u.KA', 'u.KB');
  s.wire('G1.plus', 'F1', 'K1.11')
    .wire('K1.14', 'P1', 'G1.minus')
    .wire('K1.21', 'P2', 'G1.minus')
    .wire('K1.22', 'D1', 'G1.minus');
  s.wire('K2.11', 'P3', 'G1.minus').wire('K2.12', 'P4', 'G1.minus').wire('K2.14', 'R2', 'G1.minus');
  s.wire('Z1', 'W1.RD', 'RE', 'W1.BK', 'Z1.C').wire('S1.13', 'G1.plus').wire('S1.14', 'u.KA').wire('u.KB', 'G1.minus');
  return s;
}

const s = site();
const design = s.build();

/** What is altered and forced, by name; 'nothing' where the word means nothing for the part. */
function done(word: string, part: string, other?: string, of = design): unknown {
  const found = effectOf(word, of.components[s.id(part)]!, of, other === undefined ? undefined : s.id(other));
  if (found === undefined) return 'nothing';
  const named = (map: ReadonlyMap<number, string> | undefined) =>
    Object.fromEntries(
      [...(map ?? [])].map(([id, what]) => [
        of.components[id]!.name,
        what.startsWith('=') ? `=${of.components[Number(what.slice(1))]!.name}` : what,
      ]),
    );
  const joins = (found.joins ?? []).map(({ a, b, ohms }) => [of.terminals[a]!.name, of.terminals[b]!.name, ohms]);
  return { ...named(found.altered), ...named(found.forced), ...(joins.length === 0 ? {} : { joins }) };
}

test('only the words of faults are faults', () => {
  for (const word of ['cut', 'welded', 'swapped', 'blown', 'earthed', 'shorted']) expect(isFault(word)).toBe(true);
  for (const word of ['on', 'off', 'open', '']) {
    expect(isFault(word)).toBe(false);
    expect(done(word, 'RE')).toBe('nothing');
  }
});

test('a cable stands for its cores, a switch for its contacts, all else for itself', () => {
  const of = (name: string) => piecesOf(design.components[s.id(name)]!).map((id) => design.components[id]!.name);
  expect(of('W1')).toEqual(['W1.RD', 'W1.BK']);
  expect(of('S1')).toEqual(['S1.13-14']);
  expect([of('RE'), of('K1')]).toEqual([['RE'], ['K1']]);
});

describe('parts taken away, bridged, of another value', () => {
  test.each([
    ['cut', 'W1', { 'W1.RD': 'removed', 'W1.BK': 'removed' }],
    ['cut', 'W1.RD', { 'W1.RD': 'removed' }],
    ['missing', 'RE', { RE: 'removed' }],
    ['linked', 'RE', { RE: 'bridged' }],
    ['linked', 'S1', { 'S1.13-14': 'bridged' }],
    ['coil-open', 'K1', { K1: 'removed' }],
    ['coil-shorted', 'K1', { K1: 'bridged' }],
    ['a-decade-low', 'RE', { RE: 'x0.1' }],
    ['a-decade-high', 'RE', { RE: 'x10' }],
    ['stuck-on', 'u.Q1', { 'u.Q1': 'on' }],
    ['stuck-off', 'u.Q1', { 'u.Q1': 'off' }],
    ['lost', 'G1', { G1: 'off' }],
    ['blown', 'F1', { F1: 'blown' }],
    ['cut', 'Z1', 'nothing'],
    ['cut', 'X1', 'nothing'],
    ['cut', 'G1', 'nothing'],
    ['linked', 'u.Q1', 'nothing'],
    ['missing', 'u', 'nothing'],
    ['cut', 'u.K', 'nothing'],
  ])('%s %s: %j', (word, part, wanted) => {
    expect(done(word, part)).toEqual(wanted);
  });
});

describe('contacts', () => {
  test('a welded one is bridged, and its tongue cannot reach the other side', () => {
    expect(done('welded', 'K1.11-14')).toEqual({ 'K1.11-14': 'bridged', 'K1.11-12': 'removed' });
    expect(done('welded', 'S1')).toEqual({ 'S1.13-14': 'bridged' });
    expect(done('welded', 'u.K')).toEqual({ 'u.K.contact': 'bridged' });
  });

  test('of a relay the wired one of each pole is meant, if there is one of each', () => {
    expect(done('welded', 'K1')).toEqual({
      'K1.11-14': 'bridged',
      'K1.11-12': 'removed',
      'K1.21-22': 'bridged',
      'K1.21-24': 'removed',
    });
    expect(done('never-closes', 'K1')).toEqual({ 'K1.11-14': 'removed', 'K1.21-22': 'removed' });
    // Both sides of the pole of K2 are wired, and the word does not say which it means.
    expect(done('welded', 'K2')).toBe('nothing');
    expect(done('never-closes', 'K2')).toBe('nothing');
    expect(done('never-closes', 'K2.11-12')).toEqual({ 'K2.11-12': 'removed' });
    expect(done('welded', 'RE')).toBe('nothing');
    expect(done('welded', 'K1', undefined, { ...design, joins: [] })).toBe('nothing');
  });
});

describe('parts the wrong way round or in the wrong place', () => {
  test('a diode and a coil are turned; a load only where its direction matters', () => {
    expect(done('reversed', 'D1')).toEqual({ D1: 'reversed' });
    expect(done('reversed', 'K1')).toEqual({ K1: 'reversed' });
    expect(done('reversed', 'P1')).toEqual({});
    expect(done('reversed', 'P2')).toEqual({ P2: 'removed' });
    expect(done('reversed', 'P3')).toEqual({ P3: 'reversed' });
    expect(done('reversed', 'P4')).toEqual({});
    expect(done('reversed', 'RE')).toBe('nothing');
  });

  test('two of a kind change places', () => {
    expect(done('swapped', 'RE', 'R2')).toEqual({ RE: '=R2', R2: '=RE' });
    expect(done('swapped', 'RE')).toBe('nothing');
    expect(done('swapped', 'RE', 'RE')).toBe('nothing');
    expect(done('swapped', 'RE', 'D1')).toBe('nothing');
    expect(done('swapped', 'K1.11-14', 'K2.11-14')).toBe('nothing');
    expect(done('swapped', 'K1', 'K2')).toBe('nothing');
  });

  test('two cores are crossed at one end', () => {
    const [one, other] = [design.components[s.id('W1.RD')]!, design.components[s.id('W1.BK')]!];
    if (one.kind !== 'core' || other.kind !== 'core') return expect.fail('cores');
    const { joins } = crossed(one, other);
    expect(joins).toEqual([
      { a: one.a, b: other.b, ohms: 0, like: one.id },
      { a: other.a, b: one.b, ohms: 0, like: other.id },
    ]);
    expect(done('swapped', 'W1.RD', 'W1.BK')).toMatchObject({ 'W1.RD': 'removed', 'W1.BK': 'removed' });
  });

  test('a resistor beside a core stands at its other end', () => {
    expect(done('at-other-end', 'RE')).toEqual({ RE: '=W1.BK', 'W1.BK': '=RE' });
    expect(done('at-other-end', 'R2')).toBe('nothing');
    expect(done('at-other-end', 'D1')).toBe('nothing');
  });
});

describe('wires that touch', () => {
  test('earth, where the site has one', () => {
    expect(done('earthed', 'RE')).toBe('nothing');
    const earthed = { ...design, earth: s.terminal('G1.minus') };
    expect(done('earthed', 'RE', undefined, earthed)).toEqual({ joins: [['RE.1', 'G1.minus', 0]] });
    expect(done('earthed', 'W1', undefined, earthed)).toBe('nothing');
  });

  test('the pole of its own circuit that is said to be earthed, before earth that only an arrester lies to', () => {
    const said = (name: string) => ({
      ...design,
      earth: s.terminal('G1.plus'),
      components: design.components.map((part) =>
        part.name === name ? { ...part, earthed: { word: 'minus', origin: part.origin } as const } : part,
      ),
    });
    expect(done('earthed', 'D1', undefined, said('G1'))).toEqual({ joins: [['D1.A', 'G1.minus', 0]] });
    // The loop of the zone has no earthed pole: earth itself is left.
    expect(done('earthed', 'RE', undefined, said('G1'))).toEqual({ joins: [['RE.1', 'G1.plus', 0]] });
  });

  test('another part, which the word names', () => {
    expect(done('shorted', 'RE', 'R2')).toEqual({ joins: [['RE.1', 'R2.1', 0]] });
    expect(done('shorted', 'RE')).toBe('nothing');
    expect(done('shorted', 'RE', 'W1')).toBe('nothing');
    expect(done('shorted', 'W1', 'RE')).toBe('nothing');
  });
});
