/** Which joins can be cut, and which faults a design has with what each of them does: lists by hand. */
import { type Fault, type FaultTable, faultTable } from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import { Model } from '../../../packages/engine/src/build/index.ts';
import { cuttableJoins } from '../../../packages/engine/src/faults/cuts.ts';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { EXACT } from '../time/support.ts';

describe('joins that can be cut', () => {
  const cuts = (site: SiteBuilder) => cuttableJoins(new Model(site.build()));
  const resistors = (...names: readonly string[]) => {
    const site = new SiteBuilder();
    for (const name of names) site.resistor(name, 100);
    return site;
  };

  test('have more than one part on either side', () => {
    expect(cuts(resistors('A', 'B').wire('A.1', 'B.1'))).toEqual([]);
    expect(cuts(resistors('A', 'B', 'C').wire('A.1', 'B.1', 'C.1'))).toEqual([]);
    expect(cuts(resistors('A', 'B', 'C', 'D').wire('A.1', 'B.1', 'C.1', 'D.1'))).toEqual([1]);
    expect(cuts(resistors('A', 'B', 'C', 'D', 'E').wire('A.1', 'B.1', 'C.1', 'D.1', 'E.1'))).toEqual([1, 2]);
  });

  test('are no part of a ring, and lie between two of them', () => {
    expect(cuts(resistors('A', 'B', 'C', 'D').wire('A.1', 'B.1', 'C.1', 'D.1', 'A.1'))).toEqual([]);
    const twice = resistors('A', 'B', 'C', 'D').wire('A.1', 'B.1', 'C.1', 'D.1').wire('C.1', 'B.1');
    expect(cuts(twice)).toEqual([]);
    const rings = resistors('A', 'B', 'C', 'D', 'E', 'F')
      .wire('A.1', 'B.1', 'C.1', 'A.1')
      .wire('D.1', 'E.1', 'F.1', 'D.1');
    expect(cuts(rings.wire('C.1', 'D.1'))).toEqual([6]);
    const tail = resistors('A', 'B', 'C', 'D', 'E').wire('E.1', 'D.1', 'C.1').wire('A.1', 'B.1', 'C.1', 'A.1');
    // Of the tail, D and E, only the join before D leads to more than one part.
    expect(cuts(tail)).toEqual([1]);
  });

  test('or one that has no fault which opens it', () => {
    const site = resistors('A', 'B').unit('u').zone('u.Z', 'u.ZC', {});
    expect(cuts(site.wire('u.Z', 'A.1', 'B.1'))).toEqual([0]);
    const coil = new SiteBuilder().relay('K1', EXACT).resistor('A', 1).resistor('B', 1).wire('K1.A1', 'A.1', 'B.1');
    expect(cuts(coil)).toEqual([]);
  });

  test('and lead to something: an empty joint is nothing', () => {
    expect(cuts(resistors('A', 'B').joint('X').wire('A.1', 'B.1', 'X'))).toEqual([]);
    const joints = resistors('A', 'B', 'C', 'D').joint('X').joint('Y').wire('X', 'Y');
    expect(cuts(joints.wire('A.1', 'X').wire('B.1', 'X').wire('C.1', 'Y').wire('D.1', 'Y'))).toEqual([0]);
  });

  test('both ends of one part are two', () => {
    expect(cuts(resistors('A', 'B', 'C').wire('A.1', 'A.2', 'B.1', 'C.1'))).toEqual([1]);
  });
});

/** Names of faults about a part, or all of them. */
function names({ faults, design }: FaultTable, ...parts: readonly string[]): readonly string[] {
  return faults
    .filter(({ component }) => parts.length === 0 || parts.includes(design.components[component]!.name))
    .map(({ name }) => name);
}

/** What the variants of a fault do, with the names of parts and terminals. */
function doings({ design, faults }: FaultTable, name: string): readonly string[] {
  const found = faults.find((fault) => fault.name === name) as Fault;
  const part = (id: number) => design.components[id]!.name;
  const terminal = (id: number) => design.terminals[id]!.name;
  return found.variants.map(({ where, changes }) => {
    const words = changes.map((change) => {
      if (change.sort === 'join') {
        const like = change.like === undefined ? '' : ` like ${part(change.like)}`;
        return `join ${terminal(change.a)} ${terminal(change.b)}${like}`;
      }
      const more =
        change.sort === 'force'
          ? ` ${change.word}`
          : change.sort === 'scale'
            ? ` ${change.factor}`
            : change.sort === 'like'
              ? ` ${part(change.other)}`
              : '';
      return `${change.sort} ${part(change.component)}${more}`;
    });
    return `${where === undefined ? '' : `${where}: `}${words.join(', ')}`;
  });
}

/** A pair of three cores from near to far, closed by a resistor of 2k2 at the far end; the third core is spare. */
function pair(): SiteBuilder {
  const site = new SiteBuilder();
  site.place('near').place('far').unit('p', { place: 'near' });
  site.zone('p.Z', 'p.ZC', { feedVolts: datum(5), feedOhms: datum(4700) });
  site.cable('W', ['GN', 'YE', 'BK'], 1, 'near', 'far').resistor('RE', 2200, { place: 'far' });
  return site.wire('p.Z', 'W.GN', 'RE', 'W.YE', 'p.ZC');
}

describe('faults of cores', () => {
  test('are cuts, shorts at either end and pairs crossed, of those that are wired', () => {
    const table = faultTable(pair().build());
    expect(names(table, 'W.GN', 'W.YE', 'W.BK')).toEqual([
      'W.GN cut',
      'W.GN shorted to W.YE',
      'W.GN swapped with W.YE',
      'W.YE cut',
    ]);
    expect(doings(table, 'W.GN cut')).toEqual(['remove W.GN']);
    expect(doings(table, 'W.GN shorted to W.YE')).toEqual([
      'at near: join W.GN.near W.YE.near',
      'at far: join W.GN.far W.YE.far',
    ]);
    expect(doings(table, 'W.GN swapped with W.YE')).toEqual([
      'remove W.GN, remove W.YE, join W.GN.near W.YE.far like W.GN, join W.YE.near W.GN.far like W.YE',
    ]);
  });

  test('with a core wired at one end: a short to it, and no cut', () => {
    const table = faultTable(pair().wire('W.BK.near', 'p.ZC').build());
    expect(names(table, 'W.BK', 'W.YE').filter((name) => name.includes('BK'))).toEqual(['W.YE shorted to W.BK']);
    // At the near end both are one conductor: a short there says nothing.
    expect(doings(table, 'W.YE shorted to W.BK')).toEqual(['at far: join W.YE.far W.BK.far']);
    expect(doings(table, 'W.GN shorted to W.BK')).toHaveLength(2);
  });

  test('to earth where the circuit is earthed, at every end that is not that pole', () => {
    const build = (earthed: 'yes' | 'no') => {
      const site = pair();
      site.common('p.M', { earthed: choice(earthed) }).wire('p.M', 'p.ZC');
      return faultTable(site.build());
    };
    expect(names(build('no')).filter((name) => name.includes('earthed'))).toEqual([]);
    const table = build('yes');
    expect(names(table).filter((name) => name.includes('earthed'))).toEqual(['W.GN earthed', 'W.YE earthed']);
    expect(doings(table, 'W.GN earthed')).toEqual(['at near: join W.GN.near p.M', 'at far: join W.GN.far p.M']);
    expect(doings(table, 'W.YE earthed')).toEqual(['at far: join W.YE.far p.M']);
  });
});

describe('faults of parts in a chain', () => {
  test('of a resistor: gone, bridged, of another value, swapped, at the other end of its core', () => {
    const site = new SiteBuilder().place('near').place('far').unit('p', { place: 'near' });
    site.zone('p.Z', 'p.ZC', { feedVolts: datum(5), feedOhms: datum(4700) }).cable('W', ['GN', 'YE'], 1, 'near', 'far');
    site
      .switch('A', 'break', { place: 'far' })
      .resistor('RE', 2200, { place: 'far' })
      .resistor('RA', 4700, { place: 'far' });
    site.wire('p.Z', 'W.GN', 'A', 'RE', 'W.YE', 'p.ZC').wire('A.11', 'RA', 'A.12');
    const table = faultTable(site.build());
    expect(names(table, 'RE')).toEqual([
      'RE missing',
      'RE linked',
      'RE swapped with RA',
      'RE fitted at the other end',
      'RE a decade low',
      'RE a decade high',
    ]);
    expect(names(table, 'RA')).toEqual(['RA missing', 'RA linked', 'RA a decade low', 'RA a decade high']);
    expect(doings(table, 'RE a decade low')).toEqual(['scale RE 0.1']);
    expect(doings(table, 'RE a decade high')).toEqual(['scale RE 10']);
    expect(doings(table, 'RE swapped with RA')).toEqual(['like RE RA, like RA RE']);
  });

  test('two of one value are not swapped, nor one that is not wired', () => {
    const site = new SiteBuilder().supply('G1', { volts: datum(12) });
    site.resistor('R1', 100).resistor('R2', 100).resistor('R3', 200).wire('G1.plus', 'R1', 'R2', 'G1.minus');
    const table = faultTable(site.wire('R3.1', 'R2.1').build());
    expect(names(table, 'R1')).toEqual(['R1 missing', 'R1 linked', 'R1 a decade low', 'R1 a decade high']);
    expect(names(table, 'R3')).toEqual([]);
  });

  test('of capacitors, fuses, diodes and loads', () => {
    const site = new SiteBuilder().supply('G1', { volts: datum(12) });
    site.capacitor('C1', 1e-3).fuse('F1', 0).diode('D1', 0.7);
    site.load('P1', 'resistive', { sort: 'ohms', ohms: datum(100) });
    site.load('P2', 'resistive', { sort: 'ohms', ohms: datum(100) }, { polarised: choice('yes') });
    site.load('P3', 'resistive', { sort: 'ohms', ohms: datum(100) }, { suppressor: { sort: 'diode', origin: -1 } });
    site.load('P4', 'resistive', { sort: 'ohms', ohms: datum(100) }, { polarised: choice('no') });
    site.wire('G1.plus', 'F1', 'D1', 'P1', 'G1.minus').wire('G1.plus', 'C1', 'G1.minus');
    for (const name of ['P2', 'P3', 'P4']) site.wire('G1.plus', name, 'G1.minus');
    const table = faultTable(site.build());
    expect(names(table, 'C1')).toEqual(['C1 missing', 'C1 linked']);
    expect(names(table, 'F1')).toEqual(['F1 blown']);
    expect(names(table, 'D1')).toEqual(['D1 missing', 'D1 linked', 'D1 reversed']);
    expect(names(table, 'P1')).toEqual(['P1 missing', 'P1 linked']);
    expect(names(table, 'P2')).toEqual(['P2 missing', 'P2 linked', 'P2 reversed']);
    expect(names(table, 'P4')).toEqual(['P4 missing', 'P4 linked']);
    // One that nothing conducts in takes nothing the wrong way round.
    expect(doings(table, 'P2 reversed')).toEqual(['remove P2']);
    expect(doings(table, 'P3 reversed')).toEqual(['reverse P3']);
    expect(doings(table, 'D1 reversed')).toEqual(['reverse D1']);
    expect(doings(table, 'F1 blown')).toEqual(['force F1 blown']);
  });
});

describe('faults of relays and their contacts', () => {
  /** A coil in a circuit and one changeover with both of its throws wired. */
  const build = (facts: object = {}, coil = true) => {
    const site = new SiteBuilder().supply('G1', { volts: datum(12) }).relay('K1', { ...EXACT, poles: 2, ...facts });
    site.resistor('R1', 100).resistor('R2', 100);
    if (coil) site.wire('G1.plus', 'K1.A1-A2', 'G1.minus');
    site.wire('G1.plus', 'K1.11-12', 'R1', 'G1.minus').wire('K1.14', 'R2', 'G1.minus');
    return faultTable(site.build());
  };

  test('a welded throw takes the tongue from the other one', () => {
    const table = build();
    // Behind the wire to the tongue lie both throws: its cut is a fault of its own.
    expect(names(table, 'K1.11-12')).toEqual(['K1.11-12 welded', 'K1.11-12 never closes', 'wire G1.plus to K1.11 cut']);
    expect(doings(table, 'K1.11-12 welded')).toEqual(['bridge K1.11-12, remove K1.11-14']);
    expect(doings(table, 'K1.11-14 never closes')).toEqual(['remove K1.11-14']);
    expect(names(table, 'K1.21-22', 'K1.21-24')).toEqual([]);
  });

  test('a coil is open or shorted, and reversed where something in it conducts then', () => {
    expect(names(build(), 'K1')).toEqual(['K1 coil open', 'K1 coil shorted']);
    const table = build({ suppressor: { sort: 'diode', origin: -1 } });
    expect(names(table, 'K1')).toEqual(['K1 coil open', 'K1 coil shorted', 'K1 reversed']);
    expect(doings(table, 'K1 coil open')).toEqual(['remove K1']);
    expect(doings(table, 'K1 coil shorted')).toEqual(['bridge K1']);
    expect(doings(table, 'K1 reversed')).toEqual(['reverse K1']);
    const zener = { suppressor: { sort: 'zener', volts: datum(24), origin: -1 } };
    expect(names(build(zener), 'K1')).toContain('K1 reversed');
    expect(names(build({}, false), 'K1')).toEqual([]);
  });
});

describe('supplies and outputs', () => {
  test('are lost or stuck where something is wired to them', () => {
    const site = new SiteBuilder()
      .unit('u')
      .rail('u.V', 'u.M', { volts: datum(12) })
      .rail('u.X', 'u.M', { volts: datum(5) });
    site.output('u.Q1', 'sink', { returns: 'u.M' }).output('u.Q2', 'sink', { returns: 'u.M' }).resistor('R1', 100);
    const table = faultTable(site.wire('u.V', 'R1', 'u.Q1').build());
    expect(names(table, 'u', 'u.V', 'u.X', 'u.Q1', 'u.Q2')).toEqual([
      'u lost',
      'u.V lost',
      'u.Q1 stuck on',
      'u.Q1 stuck off',
    ]);
    expect(doings(table, 'u.Q1 stuck on')).toEqual(['force u.Q1 on']);
    expect(doings(table, 'u.Q1 stuck off')).toEqual(['force u.Q1 off']);
    expect(doings(table, 'u.V lost')).toEqual(['force u.V off']);
  });

  test('a rail is lost too where only an output of its unit hangs on it', () => {
    const site = new SiteBuilder()
      .unit('u')
      .rail('u.V', 'u.M', { volts: datum(12) })
      .resistor('R1', 100);
    site.output('u.Q1', 'source', { rail: 'u.V' });
    expect(names(faultTable(site.wire('u.Q1', 'R1', 'u.M').build()), 'u.V')).toEqual(['u.V lost']);
  });

  test('a unit is not lost by itself that reads zones, or that the site feeds', () => {
    const reads = pair()
      .contact('p.C', 'p.C1', 'p.C2', { rest: 'closed' })
      .resistor('R1', 100)
      .wire('p.C1', 'R1', 'p.C2');
    expect(names(faultTable(reads.build()), 'p')).toEqual([]);
    const build = (wired: boolean) => {
      const site = new SiteBuilder()
        .supply('G1', { volts: datum(12) })
        .unit('u')
        .feed('u.IN', 'u.P', 'u.N');
      site.contact('u.C', 'u.C1', 'u.C2', { rest: 'closed' }).resistor('R1', 100);
      if (wired) site.wire('G1.plus', 'u.P').wire('u.N', 'G1.minus');
      return names(faultTable(site.wire('G1.plus', 'u.C', 'R1', 'G1.minus').build()), 'u');
    };
    expect(build(true)).toEqual([]);
    expect(build(false)).toEqual(['u lost']);
  });
});

describe('a wire that is cut', () => {
  test('is named by both of its terminals, and stands at what is no core', () => {
    const site = new SiteBuilder().supply('G1', { volts: datum(12) });
    site.resistor('R1', 100).resistor('R2', 200).resistor('R3', 300).resistor('R4', 400);
    site.wire('G1.plus', 'R1', 'R3', 'G1.minus').wire('R1.2', 'R2', 'G1.minus').wire('R3.1', 'R4', 'G1.minus');
    const table = faultTable(site.build());
    const cut = table.faults.filter(({ word }) => word === 'cut');
    expect(cut.map(({ name, component }) => [name, table.design.components[component]!.name])).toEqual([
      ['wire R1.2 to R3.1 cut', 'R3'],
    ]);
    const [made] = cut as [Fault];
    const link = table.design.components.length - 1;
    expect(made.variants).toEqual([{ changes: [{ sort: 'remove', component: link }] }]);
  });
});
