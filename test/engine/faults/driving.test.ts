/** Faults of the driving side, seen through the relay: held in while all is well, or pulled in on alarm. */
import { faultTable } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { atMost, choice, datum, tolerance } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { DOUBLE_SCHEME } from '../../support/tidewater.ts';
import { classesOf, rowNamed, zoneNamed } from './support.ts';

interface Wish {
  /** The relay is held in at rest, its make contact is in the loop; otherwise it pulls in on alarm and opens the break contact. */
  readonly held: boolean;
  readonly limit?: number;
  readonly earthed?: 'yes' | 'no';
}

function coupling({ held, limit, earthed }: Wish): SiteBuilder {
  const site = new SiteBuilder();
  site.unit('ctrl');
  site.rail('ctrl.V', 'ctrl.G', { volts: datum(12), ...(limit === undefined ? {} : { limit: datum(limit) }) });
  site.common('ctrl.G', { earthed: choice(earthed ?? 'no') });
  site.output('ctrl.Q', 'sink', {
    returns: 'ctrl.G',
    rest: held ? 'on' : 'off',
    drop: atMost(0.5),
    leak: atMost(20e-6),
  });
  site.unit('panel');
  site.common('panel.ZC');
  site.zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: DOUBLE_SCHEME });
  site.relay('K', { rated: datum(12), ohms: datum(720), operates: datum(8.4), releases: datum(1.2), contactOhms: 0 });
  site.fuse('F', 0.1).resistor('RE', tolerance(2200, 0.01)).resistor('RA', tolerance(4700, 0.01));
  const make = held ? '14' : '12';
  site.wire('ctrl.V', 'F', 'K.A1-A2', 'ctrl.Q');
  site.wire('panel.Z', `K.11-${make}`, 'RE', 'panel.ZC').wire('K.11', 'RA', `K.${make}`);
  site.case('alarm', site.turn('ctrl.Q', held ? 'off' : 'on'));
  site.case('dead', site.turn('ctrl', 'off'));
  return site;
}

function tableOf(wish: Wish) {
  const table = faultTable(coupling(wish).build());
  const zone = zoneNamed(table, 'panel.Z');
  return { table, zone, classes: classesOf(zone) };
}

describe('a relay held in while all is well', () => {
  const { classes, table } = tableOf({ held: true, limit: 1 });

  it('announces every loss of current', () => {
    for (const name of ['ctrl lost', 'ctrl.V lost', 'ctrl.Q stuck off', 'F blown', 'K coil open', 'K coil shorted']) {
      expect(classes[name], name).toBe('announced');
    }
  });

  it('is blind only where the contact is held closed', () => {
    expect(table.blindService.map(({ name }) => name)).toEqual(['ctrl.Q stuck on', 'K.11-14 welded', 'RA linked']);
  });
});

describe('a relay that pulls in on alarm', () => {
  const { classes, zone } = tableOf({ held: false, limit: 1 });

  it('is blind to every loss of current', () => {
    for (const name of ['ctrl lost', 'ctrl.V lost', 'ctrl.Q stuck off', 'F blown', 'K coil open', 'K coil shorted']) {
      expect(classes[name], name).toBe('blind');
      expect(rowNamed(zone, name).caseName).toBe('alarm');
    }
    expect(classes['ctrl.Q stuck on']).toBe('announced');
  });

  it('reads all of them alike', () => {
    const groups = ['ctrl.V lost', 'F blown', 'K coil open'].map((name) => rowNamed(zone, name).group);
    expect(new Set(groups).size).toBe(1);
  });
});

describe('an earth fault at the switched side of the coil', () => {
  it('holds the relay in where the minus is earthed: blind', () => {
    // K.A2 and ctrl.Q are one: at the earthed minus they leave 12 V across the coil whatever the output does.
    const { classes } = tableOf({ held: true, limit: 1, earthed: 'yes' });
    expect(classes['ctrl.Q earthed']).toBe('blind');
    // Between the fuse and the coil the supply is shorted.
    expect(classes['K.A1 earthed']).toBe('announced');
    expect(classes['ctrl.V earthed']).toBe('announced');
  });

  it('is no fault where nothing is earthed', () => {
    expect(Object.keys(tableOf({ held: true, limit: 1 }).classes).filter((name) => name.endsWith('earthed'))).toEqual(
      [],
    );
  });
});

describe('a supply that is shorted and does not say what it can deliver', () => {
  it('is not evaluated, and says which datum would help', () => {
    const { zone } = tableOf({ held: true, earthed: 'yes' });
    expect(rowNamed(zone, 'ctrl.V earthed')).toMatchObject({
      class: 'not-evaluated',
      reason: 'a supply that it shorts needs its limit',
    });
  });
});

describe('a resistor across a contact whose two cores run to the panel', () => {
  const site = new SiteBuilder();
  site.place('near').place('far');
  site.unit('panel', { place: 'near' });
  site.common('panel.ZC');
  site.zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: DOUBLE_SCHEME });
  site.switch('A', 'break', { place: 'far', contactOhms: 0 });
  site.resistor('RE', 2200).resistor('RA', 4700);
  site.cable('W', ['GN', 'YE'], 0, 'near', 'far');
  site.wire('panel.Z', 'W.GN', 'A', 'W.YE', 'RE', 'panel.ZC').wire('A.11', 'RA', 'A.12');
  site.case('alarm', site.turn('A', 'open'));
  const zone = zoneNamed(faultTable(site.build()), 'panel.Z');

  it('can be fitted at the panel, where it reads the same', () => {
    const row = rowNamed(zone, 'RA fitted at the other end');
    expect(row.unchanged).toBe(true);
    // A core cut then leaves 2k2 + 4k7 in the loop, which is alarm and no longer open: announced in either case.
    const passed = zone.passed.find(({ fault }) => fault.name === 'RA fitted at the other end');
    expect(passed?.newlyBlind).toEqual([]);
  });

  it('is blind with the pair shorted, wherever it is: the contact is bridged', () => {
    expect(rowNamed(zone, 'W.GN shorted to W.YE').class).toBe('blind');
  });
});

describe('two zones with one return', () => {
  const site = new SiteBuilder();
  site.place('near').place('far');
  site.unit('panel', { place: 'near' });
  site.common('panel.ZC');
  for (const name of ['panel.Z1', 'panel.Z2']) {
    site.zone(name, 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: DOUBLE_SCHEME });
  }
  site.cable('W', ['GN', 'WH', 'YE'], 10, 'near', 'far');
  for (const [n, core] of [
    [1, 'GN'],
    [2, 'WH'],
  ] as const) {
    site.switch(`S${n}`, 'break', { place: 'far', contactOhms: 0 });
    site.resistor(`RE${n}`, 2200).resistor(`RA${n}`, 4700);
    site.wire(`panel.Z${n}`, `W.${core}`, `S${n}`, `RE${n}`, 'W.YE.far').wire(`S${n}.11`, `RA${n}`, `S${n}.12`);
    site.case(`alarm${n}`, site.turn(`S${n}`, 'open'));
  }
  site.wire('W.YE.near', 'panel.ZC');
  const table = faultTable(site.build());

  it('lose both by the cut of the return: their currents find each other, and each reads open', () => {
    for (const name of ['panel.Z1', 'panel.Z2']) {
      const row = rowNamed(zoneNamed(table, name), 'W.YE cut');
      expect(row.class).toBe('announced');
      expect(row.rest.usual).toBe('open');
    }
  });

  it('move each other by the copper they share', () => {
    // 0.72 mA of the other zone through 10 Ω: 7 mV more, which reads as 10 Ω more than the loop's own 2,220 Ω.
    const { rest } = zoneNamed(table, 'panel.Z1').healthy;
    expect(rest.ohms!.usual).toBeGreaterThan(2229);
    expect(rest.ohms!.usual).toBeLessThan(2232);
  });

  it('are both blind by a shorted pair of hot cores only where the bands say so', () => {
    // Two feeds of 4.7 k side by side on two loops of 2.2 k: each reads normal, and one alarm no longer stands out.
    const row = rowNamed(zoneNamed(table, 'panel.Z1'), 'W.GN shorted to W.WH');
    expect(row.rest.usual).toBe('normal');
    expect(row.cells.map(({ usual }) => usual)).toEqual(['normal']);
    expect(row.class).toBe('blind');
  });

  it('answer for each other with their hot cores crossed: each alarm arrives at the other', () => {
    const { columns } = zoneNamed(table, 'panel.Z1');
    expect(columns.map(({ name }) => name)).toEqual(['alarm1']);
    // Zone 1 reads loop 2, which stands at 2,230 Ω while S1 opens loop 1.
    const row = rowNamed(zoneNamed(table, 'panel.Z1'), 'W.GN swapped with W.WH');
    expect(row.cells.map(({ usual }) => usual)).toEqual(['normal']);
    expect(row.class).toBe('blind');
    expect(row.fault.group).toBe('fitting');
  });
});

describe('a capacitor across a loop', () => {
  const site = new SiteBuilder();
  site.unit('panel');
  site.common('panel.ZC');
  site.zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: DOUBLE_SCHEME });
  site.switch('S', 'break', { contactOhms: 0 }).resistor('RE', 2200).capacitor('C', 100e-9);
  site.wire('panel.Z', 'S', 'RE', 'panel.ZC').wire('panel.Z', 'C', 'panel.ZC');
  site.case('alarm', site.turn('S', 'open'));
  const zone = zoneNamed(faultTable(site.build()), 'panel.Z');

  it('shorts it when it fails so, and is not missed when it is gone', () => {
    expect(rowNamed(zone, 'C linked')).toMatchObject({ class: 'announced', rest: { usual: 'short' } });
    expect(rowNamed(zone, 'C missing')).toMatchObject({ class: 'quiet', unchanged: true });
  });
});
