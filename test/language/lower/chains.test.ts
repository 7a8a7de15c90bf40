/** Terminals and chains: what is joined, what is passed through, and every way in which a chain can be wrong. */
import { describe, expect, test } from 'vitest';
import { findingsOf, joinsOf, lowerText, partOf, placeOf } from './site.ts';

const PARTS = `place pit "Pit"
place mill "Mill"
unit level in pit {
  rail V12 { volts: 12 V  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 200 mA }
}
unit panel in mill {
  common "0V" { earthed: yes }
  zone Z1 .. Z4 { feed: 5 V via 4k7  return: "0V" }
}
unit ctrl in pit {
  supply IN { plus: P  minus: M }
  common T2
  contact ALARM { from: A1  to: A2 }
  contact LOCK { common: C  nc: NC  no: NO }
}
relay K1 in pit { contacts: changeover, make  suppressor: diode }
resistor RE = 2k2
resistor RA = 4k7
diode D1
capacitor C1 = 10 uF
fuse F1 = 1 A in pit
load P1 = 1 A in pit
switch S1 in pit { contacts: break }
switch S2 in pit { contacts: changeover }
supply G1 = 12 V in pit
battery G2 = 12 V, 7 Ah in pit
joint X1 in pit
joint X2 in pit { terminals: 3 }
arrester E1 in pit
arrester E2 in pit { lines: 2 }
cable W1 { cores: GN, YE, RD, WH  size: 0.5 mm2  length: 10 m  from: mill  to: pit }
`;
function lowerWith(statements: string) {
  const lowered = lowerText({ 'site.couplet': `${statements}\nuse "parts.couplet"`, 'parts.couplet': PARTS });
  return { lowered, findings: findingsOf(lowered), joins: joinsOf(lowered.design) };
}

describe('what a chain joins', () => {
  test.each<[string, string, string[]]>([
    ['two terminals', 'wire level.V12 -- K1.A1', ['level.V12 K1.A1']],
    ['a terminal in the middle', 'wire level.V12 -- K1.A1 -- X1', ['K1.A1 X1', 'level.V12 K1.A1']],
    ['a resistor', 'wire K1.11 -- RE -- K1.14', ['K1.11 RE.1', 'RE.2 K1.14']],
    ['a fuse', 'wire G1.plus -- F1 -- X1', ['F1.2 X1', 'G1.plus F1.1']],
    ['a capacitor', 'wire X1 -- C1 -- level.GND', ['C1.minus level.GND', 'X1 C1.plus']],
    ['a load', 'wire level.V12 -- P1 -- level.Q1', ['P1.minus level.Q1', 'level.V12 P1.plus']],
    ['a diode across a coil', 'wire K1.A2 -- D1 -- K1.A1', ['D1.K K1.A1', 'K1.A2 D1.A']],
    ['a coil', 'wire level.V12 -- K1.A1-A2 -- level.Q1', ['K1.A2 level.Q1', 'level.V12 K1.A1']],
    ['a contact', 'wire X1 -- K1.11-14 -- X2.1', ['K1.14 X2.1', 'X1 K1.11']],
    ['a contact the other way round', 'wire X1 -- K1.14-11 -- X2.1', ['K1.11 X2.1', 'X1 K1.14']],
    ['the contact of a second pole', 'wire X1 -- K1.23-24 -- X2.1', ['K1.24 X2.1', 'X1 K1.23']],
    ['a switch by its name', 'wire X1 -- S1 -- X2.1', ['S1.12 X2.1', 'X1 S1.11']],
    ['a switch by its pole', 'wire X1 -- S1.11-12 -- X2.1', ['S1.12 X2.1', 'X1 S1.11']],
    ['a single pole by its letters', 'wire X1 -- S2.COM-NO -- X2.1', ['S2.14 X2.1', 'X1 S2.11']],
    ['a contact of a unit by its member', 'wire X1 -- ctrl.ALARM -- X2.1', ['X1 ctrl.A1', 'ctrl.A2 X2.1']],
    ['a contact of a unit by its terminals', 'wire X1 -- ctrl.A1-A2 -- X2.1', ['X1 ctrl.A1', 'ctrl.A2 X2.1']],
    ['a changeover of a unit', 'wire X1 -- ctrl.C-NC -- X2.1', ['X1 ctrl.C', 'ctrl.NC X2.1']],
    ['a unit with one supply', 'wire G1.plus -- ctrl -- G1.minus', ['G1.plus ctrl.P', 'ctrl.M G1.minus']],
    ['an arrester', 'wire X1 -- E1 -- X2.1', ['E1.2 X2.1', 'X1 E1.1']],
    ['the second line of an arrester', 'wire X1 -- E2.3-4 -- X2.1', ['E2.4 X2.1', 'X1 E2.3']],
    ['earth', 'wire E1.E -- earth', ['E1.E earth']],
    ['a name in quotes', 'wire panel."0V" -- earth', ['panel.0V earth']],
    ['numbered terminals of a joint', 'wire X2.1 -- X2.3', ['X2.1 X2.3']],
    ['the return of a zone', 'wire panel.Z2.return -- earth', ['panel.0V earth']],
    ['a core', 'wire panel.Z1 -- W1.GN -- K1.11', ['W1.GN.pit K1.11', 'panel.Z1 W1.GN.mill']],
    ['a core towards its first end', 'wire K1.14 -- W1.YE -- panel."0V"', ['K1.14 W1.YE.pit', 'W1.YE.mill panel.0V']],
    ['the end of a core', 'wire W1.GN.pit -- X1', ['W1.GN.pit X1']],
    [
      'two cores in parallel',
      'wire panel.Z1 -- W1.RD+WH -- K1.11',
      ['W1.RD.mill W1.WH.mill', 'W1.RD.pit K1.11', 'W1.RD.pit W1.WH.pit', 'panel.Z1 W1.RD.mill'],
    ],
    [
      'a core in two chains',
      'wire X1 -- W1.YE -- panel."0V"\nwire X2.1 -- W1.YE -- panel."0V"',
      ['W1.YE.mill panel.0V', 'X1 W1.YE.pit', 'X2.1 W1.YE.pit'],
    ],
    [
      'a fuse in two chains',
      'wire G1.plus -- F1 -- X1\nwire G1.plus -- F1 -- X2.1',
      ['F1.2 X1', 'F1.2 X2.1', 'G1.plus F1.1'],
    ],
    [
      'both throws of a changeover',
      'wire X1 -- S2.11-12 -- X2.1\nwire X1 -- S2.11-14 -- X2.2',
      ['S2.12 X2.1', 'S2.14 X2.2', 'X1 S2.11'],
    ],
    ['an end of a part once more', 'wire X1 -- RE -- X2.1\nwire RE.2 -- X2.2', ['RE.2 X2.1', 'RE.2 X2.2', 'X1 RE.1']],
  ])('%s', (_, statements, expected) => {
    const { findings, joins } = lowerWith(statements);
    expect(findings).toEqual([]);
    expect(joins).toEqual(expected.sort());
  });

  test('a bond carries its reason', () => {
    const { lowered, findings } = lowerWith('bond level.GND -- G1.minus because "one" "two"');
    expect(findings).toEqual([]);
    expect(lowered.design.joins).toMatchObject([{ bond: { because: 'one two' } }]);
  });

  test('a join that a bond repeats is the bond', () => {
    const { lowered } = lowerWith('wire level.GND -- G1.minus\nbond G1.minus -- level.GND because "x"');
    expect(lowered.design.joins).toMatchObject([{ bond: { because: 'x' } }]);
  });

  test('a join is where the two stand in the chain', () => {
    const { lowered } = lowerWith('wire X1 -- RE --\n  K1.11');
    const [first, second] = lowered.design.joins.map((join) => lowered.place(join.origin));
    expect(first).toMatchObject({ start: { character: 5 }, end: { character: 13 } });
    expect(second).toMatchObject({ start: { character: 11 }, end: { character: 7 } });
    expect((second?.end.line ?? 0) - (second?.start.line ?? 0)).toBe(1);
  });

  test('contacts of a unit are worked by their member', () => {
    const { design } = lowerText(PARTS);
    const lock = partOf(design, 'ctrl.LOCK', 'actuator');
    expect(partOf(design, 'ctrl.C-NC', 'contact')).toMatchObject({ driver: lock.id, closes: 'released', pole: 'LOCK' });
    expect(partOf(design, 'ctrl.C-NO', 'contact')).toMatchObject({ driver: lock.id, closes: 'operated' });
    expect(partOf(design, 'ctrl.A1-A2', 'contact')).toMatchObject({ closes: 'operated' });
  });
});

describe('what a chain must not', () => {
  test.each<[string, string, string[]]>([
    [
      'begin with a part',
      'wire RE -- X1',
      [
        'chain-end 1:6 A chain begins at a terminal, a joint or earth; RE is passed through: name one of its ends, RE.1 or RE.2.',
      ],
    ],
    [
      'end with a pole',
      'wire X1 -- K1.11-14',
      [
        'chain-end 1:12 A chain ends at a terminal, a joint or earth; K1.11-14 is passed through: name one of its ends, K1.11 or K1.14.',
      ],
    ],
    [
      'end with a core',
      'wire panel.Z1 -- W1.GN',
      [
        'chain-end 1:18 A chain ends at a terminal, a joint or earth; W1.GN is passed through: name one of its ends, W1.GN.mill or W1.GN.pit.',
      ],
    ],
    ['have one element', 'wire X1', ["chain-short 1:1 A chain joins at least two: 'A -- B'."]],
    [
      'pass through a part twice',
      'wire X1 -- RE -- X2.1\nwire X2.2 -- RE -- X2.3',
      [
        'passed-twice 2:14 RE is passed through a second time; the first is on line 1. To join one of its ends again, name it: RE.1.',
      ],
    ],
    [
      'pass through a contact twice',
      'wire X1 -- K1.11-14 -- X2.1 -- K1.14-11 -- X2.2',
      [
        'passed-twice 1:32 K1.14-11 is passed through a second time; the first is on line 1. To join one of its ends again, name it: K1.11.',
      ],
    ],
    [
      'pass through a fuse both ways',
      'wire X1 -- F1 -- X2.1\nwire X2.1 -- F1.2-1 -- X2.2',
      [
        'passed-both-ways 2:14 F1.2-1 is passed through the other way round on line 1; it stands the same way round in every chain.',
      ],
    ],
    [
      'meet a diode at its cathode without saying so',
      'wire X1 -- D1.K-A -- X2.1',
      ['part-reversed 1:12 D1.K-A is reversed: the current meets its anode last.'],
    ],
    [
      'name a unit',
      'wire X1 -- panel -- X2.1',
      ['chain-element 1:12 panel is a unit: name one of its terminals, such as panel.0V.'],
    ],
    [
      'name a relay',
      'wire X1 -- K1 -- X2.1',
      ['chain-element 1:12 K1 is a relay: name its coil K1.A1-A2 or a contact, such as K1.11-12.'],
    ],
    [
      'name a cable',
      'wire X1 -- W1 -- X2.1',
      ['chain-element 1:12 W1 is a cable: name one of its cores, such as W1.GN.'],
    ],
    [
      'name a supply',
      'wire X1 -- G1 -- X2.1',
      ['chain-element 1:12 G1 is not passed through: name G1.plus or G1.minus.'],
    ],
    ['name a battery', 'wire X1 -- G2', ['chain-element 1:12 G2 is not passed through: name G2.plus or G2.minus.']],
    [
      'name a joint with numbered terminals',
      'wire X1 -- X2',
      ['chain-element 1:12 X2 has numbered terminals: name one of them, such as X2.1.'],
    ],
    [
      'name a switch with two throws',
      'wire X1 -- S2 -- X2.1',
      ['chain-element 1:12 S2 has more than one contact or none: name the one that is meant, such as S2.11-12.'],
    ],
    [
      'name an arrester with two lines',
      'wire X1 -- E2 -- X2.1',
      ['chain-element 1:12 E2 has several lines: name the one that is meant, such as E2.1-2.'],
    ],
    [
      'name a pair of terminals',
      'wire X1 -- ctrl.IN',
      ['chain-element 1:12 ctrl.IN is a pair of terminals: name ctrl.P or ctrl.M.'],
    ],
    [
      'name a changeover of a unit',
      'wire X1 -- ctrl.LOCK -- X2.1',
      ['chain-element 1:12 ctrl.LOCK is a changeover: name the pole that is meant, such as ctrl.C-NC.'],
    ],
    [
      'name a place',
      'wire X1 -- pit',
      ['chain-element 1:12 pit is a place; a chain names terminals, parts, poles and cores.'],
    ],
    [
      'name two terminals with nothing between them',
      'wire X1 -- K1.12-14 -- X2.1',
      ['pole-unknown 1:12 Nothing of K1 lies between the terminals of K1.12-14, such as K1.A1-A2.'],
    ],
    [
      'name a terminal that is not there',
      'wire X1 -- K1.31',
      ["name-unknown 1:12 'K1.31' leads nowhere: nothing there is called '31'."],
    ],
    ['name what is not there', 'wire X1 -- K9.11', ["name-unknown 1:12 There is no 'K9' on this site."]],
    [
      'name a switch both alone and by a terminal',
      'wire X1 -- S1 -- X2.1\nwire S1.12 -- X2.2',
      ['pole-form-needed 1:12 S1 stands here by its name alone, and S1.12 is named elsewhere: write S1.11-12.'],
    ],
  ])('%s', (_, statements, expected) => {
    expect(lowerWith(statements).findings).toEqual(expected);
  });

  test('what is passed through twice is told at both lines', () => {
    const { lowered } = lowerWith('wire X1 -- RE -- X2.1\nwire X2.2 -- RE -- X2.3');
    const [finding] = lowered.findings;
    expect(finding?.related).toHaveLength(1);
    expect(finding?.related[0]?.place.start.line).toBe((finding?.place.start.line ?? 0) - 1);
  });

  test('a gap leaves the rest of the chain joined', () => {
    const { joins, findings } = lowerWith('wire X1 -- RE -- K9.1 -- RA -- X2.1');
    expect(joins).toEqual(['RA.2 X2.1', 'X1 RE.1']);
    expect(findings).toHaveLength(1);
  });
});

describe('where things are', () => {
  test('resistors, diodes and capacitors take their place from the chain', () => {
    const { lowered } = lowerWith('wire panel.Z1 -- RE -- W1.GN -- RA -- K1.11\nwire K1.11 -- D1 -- C1 -- level.GND');
    const { design } = lowered;
    expect(findingsOf(lowered)).toEqual([]);
    expect(['RE.1', 'RE.2', 'W1.GN.mill'].map((name) => placeOf(design, name))).toEqual(['mill', 'mill', 'mill']);
    expect(['W1.GN.pit', 'RA.1', 'D1.A', 'C1.minus'].map((name) => placeOf(design, name))).toEqual(
      Array(4).fill('pit'),
    );
  });

  test('what one cable settles settles the next', () => {
    const { lowered, joins } = lowerWith(`place well "Well"
cable W2 { cores: 1, 2  size: 0.5 mm2  length: 10 m  from: well  to: pit }
joint X5
resistor RX = 1k0
wire RX.2 -- W2.1 -- X5 -- W1.GN -- panel.Z1
`);
    expect(findingsOf(lowered)).toEqual([]);
    expect(joins).toContain('W2.1.pit X5');
    expect(joins).toContain('X5 W1.GN.pit');
    expect(placeOf(lowered.design, 'RX.1')).toBe('well');
    expect(placeOf(lowered.design, 'X5')).toBe('pit');
  });

  test.each<[string, string, string[]]>([
    [
      'a core between two things in one place',
      'wire panel.Z1 -- W1.GN -- panel."0V"',
      [
        'core-places-contradict 1:18 W1 runs from mill to pit, but panel.Z1 before W1.GN is in mill and panel.0V after it is in mill.',
      ],
    ],
    [
      'a core where its cable does not go',
      'place attic\njoint X9 in attic\nwire X9 -- W1.GN -- K1.11',
      [
        'core-places-contradict 3:12 W1 runs from mill to pit, but X9 before W1.GN is in attic and K1.11 after it is in pit.',
      ],
    ],
    [
      'a core between things without a place',
      'joint X8\nresistor R8 = 1k0\nwire X8 -- W1.GN -- R8 -- X8',
      [
        'core-end-undecided 3:12 Which way round W1.GN is met cannot be told: neither X8 before it nor R8 after it has a place. Give one of them its place, or name the end: W1.GN.mill.',
      ],
    ],
    [
      'a cable that does not say where it goes',
      'cable W3 { cores: 1, 2  size: 0.5 mm2  length: 10 m }\nwire X1 -- W3.1 -- X2.1\nwire X2.1 -- W3.2 -- X1',
      ["cable-ends-missing 1:7 W3 needs 'from' and 'to': without them an end of its cores has no place."],
    ],
    [
      'an end that a core does not have',
      'place attic\nwire W1.GN.attic -- X1',
      ['core-end-unknown 2:6 W1 has no end at attic.'],
    ],
  ])('%s', (_, statements, expected) => {
    expect(lowerWith(statements).findings).toEqual(expected);
  });

  test('one end with a place is enough to tell which way round a core is met', () => {
    const { joins } = lowerWith(`cable W3 { cores: 1  size: 0.5 mm2  length: 10 m  from: pit }
joint X8
wire X8 -- W3.1 -- X1`);
    expect(joins).toEqual(['W3.1.pit X1', 'X8 W3.1.to']);
  });

  test('a join across places stays as it is, for the rule that tells it', () => {
    const { lowered, joins } = lowerWith('wire panel.Z1 -- RE -- K1.11');
    expect(findingsOf(lowered)).toEqual([]);
    expect(joins).toEqual(['RE.2 K1.11', 'panel.Z1 RE.1']);
    const places = lowered.design.joins.map((join) =>
      [join.a, join.b].map((end) => lowered.design.terminals[end]?.place),
    );
    expect(places.filter(([a, b]) => a !== b)).toHaveLength(1);
  });

  test('a cable with legs needs a place on either side', () => {
    const { findings } = lowerWith(`place bay1
place bay2
joint X8
cable W5 { cores: GN  size: 0.5 mm2  legs: mill, 60 m, bay1, 40 m, bay2 }
wire panel.Z1 -- W5.GN -- X8`);
    expect(findings).toEqual([
      'core-end-undecided 5:18 Which way round W5.GN is met cannot be told: X8 after it has no place. Give one of them its place, or name the end: W5.GN.mill.',
    ]);
  });

  test('a cable with legs is met between the places on either side', () => {
    const { lowered, joins } = lowerWith(`place bay1
place bay2
switch B1 in bay1 { contacts: break }
switch B2 in bay2 { contacts: break }
cable W5 { cores: GN, YE  size: 0.5 mm2  legs: mill, 60 m, bay1, 40 m, bay2 }
wire panel.Z1 -- W5.GN -- B1 -- W5.GN -- B2 -- W5.YE -- panel."0V"
`);
    expect(findingsOf(lowered)).toEqual([]);
    expect(joins).toEqual([
      'B1.12 W5.GN.bay1',
      'B2.12 W5.YE.bay2',
      'W5.GN.bay1 B1.11',
      'W5.GN.bay2 B2.11',
      'W5.YE.bay1 W5.YE.bay1',
      'W5.YE.mill panel.0V',
      'panel.Z1 W5.GN.mill',
    ]);
    const pieces = lowered.design.components.filter(
      (part) => part.kind === 'core' && part.colour === 'YE' && part.name.startsWith('W5'),
    );
    expect(pieces.map((piece) => piece.name)).toEqual(['W5.YE mill-bay1', 'W5.YE bay1-bay2']);
    expect(partOf(lowered.design, 'W5', 'cable').ends.map((place) => lowered.design.places[place]?.name)).toEqual([
      'mill',
      'bay1',
      'bay2',
    ]);
  });
});
