/** Assemblies by expansion, and files that are used under a name. */
import { describe, expect, test } from 'vitest';
import { example } from './examples.ts';
import { findingsOf, joinsOf, lowerText, partOf, placeOf } from './site.ts';

const PANEL = example('tidewater-mill')['types/panel-eight-zones.couplet'] as string;
const DOOR = `type DoorLoop : assembly "Door contact and tamper, both resistors at the contact" {
  given Z : zone
  given run : length
  switch S1 "Open when the door is open" { contacts: break }
  switch S2 "Open when the cover is off" { contacts: break }
  resistor RA = 4k7 +-1%
  resistor RE = 2k2 +-1%
  cable W1 { cores: GN, YE  size: 0.22 mm2  length: run  from: Z  to: here }
  wire Z -- W1.GN -- S2.11-12 -- S1.11-12 -- RE -- W1.YE -- Z.return
  wire S1.11 -- RA -- S1.12
  case opened { turn S1 open  expect Z alarm within 1 s }
  case tamper { turn S2 open  expect Z open within 1 s }
}
`;
const SITE = `site "Door loops" {}
${PANEL}
${DOOR}
place office
place porch
unit panel : PanelEightZones in office
assembly B01 : DoorLoop "Front door" { Z: panel.Z1  run: 40 m }
assembly B02 : DoorLoop in porch "Kitchen door" { Z: panel.Z2  run: LONG }
assembly B03 : DoorLoop "Yard door" { Z: panel.Z3  run: 95 m  W1.size: 0.5 mm2  RE.role: fire-detection }
value LONG = 52 m
case yard after B03.opened { expect panel.Z3 alarm }
measured 2026-01-01 { B01.tamper: volts panel.Z1 to panel.ZC = 5 V }
accept value-not-preferred on DoorLoop.RE because "stock"
accept line-unprotected on B02.W1 because "indoors"
`;

describe('uses of an assembly', () => {
  const lowered = lowerText(SITE);
  const { design } = lowered;

  test('lower without a finding, and nothing of them is uncomputed', () => {
    expect(findingsOf(lowered)).toEqual([]);
    expect(design.uncomputed).toEqual([]);
  });

  test('are components with their wiring, under the names of the uses', () => {
    const door = (use: string, zone: number) =>
      [
        `panel.Z${zone} ${use}.W1.GN.office`,
        `${use}.S2.12 ${use}.S1.11`,
        `${use}.S1.12 ${use}.RE.1`,
        `${use}.W1.YE.office panel.ZC`,
        `${use}.S1.11 ${use}.RA.1`,
        `${use}.RA.2 ${use}.S1.12`,
      ] as const;
    expect(joinsOf(design)).toEqual(expect.arrayContaining([...door('B01', 1), ...door('B02', 2), ...door('B03', 3)]));
    expect(design.joins).toHaveLength(24);
  });

  test('have a place of their own, or the one that they are in', () => {
    expect(placeOf(design, 'B01.RE.1')).toBe('B01');
    expect(placeOf(design, 'B01.W1.GN.office')).toBe('office');
    expect(placeOf(design, 'B02.S1.11')).toBe('porch');
    expect(design.places.map((place) => [place.name, place.description])).toEqual([
      ['office', undefined],
      ['porch', undefined],
      ['B01', 'Front door'],
      ['B03', 'Yard door'],
    ]);
  });

  test('take what they are given, and override what is inside', () => {
    expect(['B01', 'B02', 'B03'].map((use) => partOf(design, `${use}.W1`, 'cable').length?.usual)).toEqual([
      40, 52, 95,
    ]);
    expect(['B01', 'B03'].map((use) => partOf(design, `${use}.W1`, 'cable').section?.usual)).toEqual([0.22, 0.5]);
    expect(['B01', 'B03'].map((use) => partOf(design, `${use}.RE`, 'resistor').role?.word)).toEqual([
      undefined,
      'fire-detection',
    ]);
  });

  test('bring their cases, which others may follow and measure', () => {
    expect(design.cases.map((each) => each.name)).toEqual([
      'yard',
      'B01.opened',
      'B01.tamper',
      'B02.opened',
      'B02.tamper',
      'B03.opened',
      'B03.tamper',
    ]);
    expect(design.cases[0]?.after).toBe(5);
    expect(design.readings[0]?.case).toBe('B01.tamper');
    const [turn] = design.cases[5]?.steps ?? [];
    expect(turn).toMatchObject({ sort: 'turn', state: 'open', target: partOf(design, 'B03.S1', 'switch').id });
  });

  test('are accepted for one by one, or all together', () => {
    const [all, one] = design.acceptances;
    expect(all?.targets).toEqual(['B01', 'B02', 'B03'].map((use) => partOf(design, `${use}.RE`, 'resistor').id));
    expect(one?.targets).toEqual([partOf(design, 'B02.W1', 'cable').id]);
  });

  test('are found at the row of the use', () => {
    const place = lowered.place(partOf(design, 'B02.RE', 'resistor').origin);
    const line = SITE.split('\n').findIndex((text) => text.startsWith('assembly B02'));
    expect(place).toMatchObject({ start: { line, character: 9 }, end: { line, character: 12 } });
    expect(lowered.place(partOf(design, 'B02.RE', 'resistor').ohms?.origin ?? -1)).toEqual(place);
  });

  test('lead back to the text of the assembly as well, through the use', () => {
    const within = lowered.withinUses(partOf(design, 'B02.RE', 'resistor').ohms?.origin ?? -1);
    const line = SITE.split('\n').findIndex((text) => text.startsWith('  resistor RE'));
    expect(within?.place).toMatchObject({ start: { line, character: 16 }, end: { line, character: 24 } });
    expect(within?.uses).toMatchObject([{ name: 'B02', assembly: 'DoorLoop', uses: 3 }]);
  });

  test('what a use gives or overrides is said by its row, and by no assembly', () => {
    const { origin } = partOf(design, 'B03.W1', 'cable').section ?? { origin: -1 };
    expect(lowered.withinUses(origin)).toBeUndefined();
    const line = SITE.split('\n').findIndex((text) => text.startsWith('assembly B03'));
    expect(lowered.place(origin)).toMatchObject({ start: { line, character: 71 }, end: { line, character: 78 } });
    const length = partOf(design, 'B03.W1', 'cable').length?.origin ?? -1;
    expect(lowered.withinUses(length)).toBeUndefined();
    expect(lowered.place(length)?.start.line).toBe(line);
  });
});

describe('what goes wrong with assemblies', () => {
  const START = `${PANEL}${DOOR}unit panel : PanelEightZones\n`;

  test('something is not given: told once, at the use', () => {
    const lowered = lowerText(`${START}assembly B01 : DoorLoop { run: 40 m }`);
    expect(findingsOf(lowered)).toEqual([
      `given-missing ${START.split('\n').length}:10 B01 does not give 'Z' (zone), which DoorLoop asks for.`,
    ]);
  });

  test('an assembly holds itself', () => {
    const lowered = lowerText('type A : assembly {\n  assembly X : A\n}\nassembly Y : A');
    expect(findingsOf(lowered)).toEqual(['assembly-in-itself 4:10 X: the assembly A holds itself.']);
  });

  test('assemblies hold assemblies', () => {
    const { design } = lowerText(`type Inner : assembly {
  given R : resistance
  given T : terminal
  resistor RX = R
  wire T -- RX -- RY.1
  resistor RY = 1k0
}
type Outer : assembly {
  joint X in here
  assembly I : Inner { R: 3k3  T: X }
  assembly J : Inner { R: 4k7  T: X  RY.role: fire-detection }
}
assembly O : Outer
assembly N : Outer { J.R: 5k6  I.RY.role: fire-detection  I.RY.rating: 1k2 }`);
    expect(joinsOf(design)).toEqual(
      ['N', 'O'].flatMap((use) => [
        `${use}.I.RX.2 ${use}.I.RY.1`,
        `${use}.J.RX.2 ${use}.J.RY.1`,
        `${use}.X ${use}.I.RX.1`,
        `${use}.X ${use}.J.RX.1`,
      ]),
    );
    expect(['I.RX', 'J.RX'].map((name) => partOf(design, `N.${name}`, 'resistor').ohms?.usual)).toEqual([3300, 5600]);
    expect(partOf(design, 'N.I.RY', 'resistor').role?.word).toBe('fire-detection');
    expect(['N.I.RY', 'N.J.RY'].map((name) => partOf(design, name, 'resistor').ohms?.usual)).toEqual([1200, 1000]);
    expect(partOf(design, 'O.I.RY', 'resistor').role).toBeUndefined();
    expect(partOf(design, 'O.J.RX', 'resistor').ohms?.usual).toBe(4700);
    expect(partOf(design, 'O.J.RY', 'resistor').role?.word).toBe('fire-detection');
    expect(placeOf(design, 'O.I.RX.1')).toBe('O');
  });
});

describe('everything that an assembly may hold', () => {
  const lowered = lowerText(`${PANEL}type Post : assembly {
  given ZA : zone
  given ZB : zone
  given wait : time
  place shaft "Shaft" { wet: yes }
  value END = 2k2 +-1%
  unit ctl in here {
    supply IN { plus: P  minus: M  works: 9 V .. 16 V  draws: 20 mA }
    output Q1 { style: sink  return: M  rated: 1 A }
    port X1 { as output { style: sink  return: M  rated: 1 A }  as input { feed: 5 V via 4k7  return: M } }
  }
  battery G = 12 V, 7 Ah in here
  joint J in shaft { terminals: 3 }
  switch S1 in here { contacts: break }
  resistor RE = END
  wire G.plus -- ctl.P
  wire G.minus -- ctl.M
  wire ZA -- S1 -- RE -- ZA.return
  bond ctl.M -- ZB.return because "one reference"
  spare J.1, J.2
  program ctl.X1 as = input
  program ctl "Post time" = wait
  confirm both = ZA, ZB within 30 s
  program ctl.Q1 follows = both confirmed
  case opened { turn S1 open  wait ctl."Post time"  expect ctl.Q1 off }
  accept zone-without-case on S1 because "short"
  autonomy G { carries: rest for 24 h, opened for 30 min }
}
place hall
unit panel : PanelEightZones in hall
assembly A : Post { ZA: panel.Z1  ZB: panel.Z2  wait: 3 s }
assembly B : Post in hall { ZA: panel.Z3  ZB: panel.Z4  wait: 5 s }`);
  const { design } = lowered;

  test('is read without a finding', () => expect(findingsOf(lowered)).toEqual([]));

  test.each(['A', 'B'])('is there for %s under its name', (use) => {
    expect(placeOf(design, `${use}.J.1`)).toBe(`${use}.shaft`);
    expect(design.places.find(({ name }) => name === `${use}.shaft`)?.wet?.word).toBe('yes');
    expect(placeOf(design, `${use}.S1.11`)).toBe(use === 'A' ? 'A' : 'hall');
    expect(partOf(design, `${use}.RE`, 'resistor').ohms?.usual).toBe(2200);
    expect(partOf(design, `${use}.ctl.X1`, 'input').port).toBe(true);
    expect(design.spare.map((id) => design.terminals[id]?.name)).toContain(`${use}.J.2`);
    expect(design.joins.filter(({ bond }) => bond?.because === 'one reference')).toHaveLength(2);
    const both = partOf(design, `${use}.both`, 'confirm');
    expect(both.zones.map((id) => design.components[id]?.name)).toEqual(
      use === 'A' ? ['panel.Z1', 'panel.Z2'] : ['panel.Z3', 'panel.Z4'],
    );
    expect(partOf(design, `${use}.ctl.Q1`, 'output').follows).toMatchObject([
      { component: both.id, word: 'confirmed' },
    ]);
    const opened = design.cases.find(({ name }) => name === `${use}.opened`);
    expect(opened?.steps[1]).toMatchObject({ sort: 'wait', seconds: { usual: use === 'A' ? 3 : 5 } });
    const battery = partOf(design, `${use}.G`, 'source').id;
    expect(design.acceptances.map(({ targets }) => targets)).toContainEqual([partOf(design, `${use}.S1`, 'switch').id]);
    expect(design.autonomies.find((each) => each.battery === battery)?.carries.map(({ caseName }) => caseName)).toEqual(
      ['rest', `${use}.opened`],
    );
  });
});

describe('a mistake in an assembly', () => {
  const START = `${PANEL}${DOOR.replace('turn S1 open ', 'turn S1 operated ')}place office\nunit panel : PanelEightZones in office\n`;
  const line = START.split('\n').findIndex((text) => text.includes('turn S1 operated'));

  test('is told once, where it is written, with the uses beside it', () => {
    const lowered = lowerText(`${START}assembly B01 : DoorLoop { Z: panel.Z1  run: 40 m }
assembly B02 : DoorLoop { Z: panel.Z2  run: 40 m }`);
    expect(findingsOf(lowered)).toEqual([
      expect.stringMatching(
        new RegExp(
          `^state-wrong ${line + 1}:\\d+ S1 cannot be turned 'operated': .* every use of DoorLoop: B01, B02\\.$`,
        ),
      ),
    ]);
    expect(lowered.findings[0]?.related.map((each) => each.message)).toEqual([
      'B01 is a use of DoorLoop',
      'B02 is a use of DoorLoop',
    ]);
  });

  test('that one use brings about is told at its row, with what the assembly says beside it', () => {
    const sound = `${PANEL}${DOOR}place office\nunit panel : PanelEightZones in office\n`;
    const lowered = lowerText(`${sound}assembly B01 : DoorLoop { Z: panel.Z1  run: 40 m }
assembly B02 : DoorLoop { Z: panel.Z2  run: 40 m  S1.contacts: 2 changeover }`);
    const rows = sound.split('\n').length;
    expect(findingsOf(lowered)).toEqual([
      `name-unknown ${rows + 1}:10 'S1.11-12' leads nowhere: nothing there is called '11-12'.`,
      `name-unknown ${rows + 1}:10 'S1.11' leads nowhere: nothing there is called '11'.`,
      `name-unknown ${rows + 1}:10 'S1.12' leads nowhere: nothing there is called '12'.`,
      `state-wrong ${rows + 1}:10 B02.S1 cannot be turned 'open': write operated, released, cut, earthed, welded or never-closes.`,
    ]);
    expect(lowered.findings[3]?.related).toMatchObject([{ message: 'DoorLoop says it here.' }]);
  });
});

describe('files used under a name', () => {
  const files = {
    'site.couplet': `site "Two panels"
use "panel.couplet" as north
use "panel-south.couplet"
place hall
resistor R1 = 1k0
wire north.panel.Z1 -- R1 -- panel.ZC
case both after north.quiet { expect north.panel.Z1 any }`,
    'panel.couplet': `use "type.couplet"
place cellar
unit panel : PanelEightZones in cellar
case quiet { expect panel.Z2 any }
case rest { expect panel.Z3 any }`,
    'panel-south.couplet':
      'use "type.couplet"\nunit panel : PanelEightZones in hall\ncase rest { expect panel.Z3 any }',
    'type.couplet': PANEL,
  };

  test('keep their names under it', () => {
    const lowered = lowerText(files);
    expect(findingsOf(lowered)).toEqual([]);
    const { design } = lowered;
    expect(joinsOf(design)).toEqual(['R1.2 panel.ZC', 'north.panel.Z1 R1.1']);
    expect(placeOf(design, 'north.panel.Z1')).toBe('north.cellar');
    expect(design.cases.map(({ name, after, steps }) => [name, after, steps.length])).toEqual([
      ['both', 1, 1],
      ['north.quiet', undefined, 1],
      ['rest', undefined, 2],
    ]);
  });
});
