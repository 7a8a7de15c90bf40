/**
 * Fault tables of the common ways to wire a loop, worked by hand. No cable, contacts of no ohms: every figure is a sum
 * of the resistors that the current meets, in kilohms: 2k2 + 4k7 = 6k9, 2k2 and 4k7 side by side 1k4986.
 */
import { type FaultCell, type FaultTable, faultTable } from '@couplet/engine';
import { describe, expect, it } from 'vitest';
import { datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { classesOf, rowNamed, zoneNamed } from './support.ts';

type Bands = readonly (readonly [string, number | undefined, number | undefined])[];

/** A panel with one zone, and places for a cable of no ohms. */
function panel(bands: Bands): SiteBuilder {
  const site = new SiteBuilder();
  site.place('near').place('far');
  site.unit('panel', { place: 'near' });
  site.common('panel.ZC');
  site.zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands });
  return site;
}

function tableOf(site: SiteBuilder) {
  const table = faultTable(site.build());
  const zone = zoneNamed(table, 'panel.Z');
  return { table, zone, classes: classesOf(zone) };
}

/** Usual kilohms at rest and in each case, with the class of each. */
function readings({ zone }: { zone: ReturnType<typeof zoneNamed> }, fault: string): readonly string[] {
  const row = rowNamed(zone, fault);
  return [row.rest, ...row.cells].map(reading);
}

function reading({ ohms, usual }: FaultCell): string {
  const kilohms = ohms === undefined ? 'nothing' : Number((ohms.usual / 1000).toPrecision(5));
  return `${kilohms} ${usual}`;
}

function blindNames(table: FaultTable): readonly string[] {
  return table.blindService.map(({ name }) => name);
}

function windows({ zone }: { zone: ReturnType<typeof zoneNamed> }): readonly string[] {
  return zone.leakage.map(({ caseName, answer, readsAs, usual }) => {
    const [from, to] = [usual!.from, usual!.to].map((ohms) => Number((ohms / 1000).toPrecision(4)));
    return `${caseName}: ${answer}${answer === 'misread' ? ` as ${readsAs}` : ''} ${from}k..${to}k`;
  });
}

const DOUBLE: Bands = [
  ['short', undefined, 1100],
  ['normal', 1100, 3900],
  ['alarm', 3900, 10_000],
  ['open', 10_000, undefined],
];

describe('two resistors: hot, tamper contact, alarm contact with 4k7 across, 2k2, return', () => {
  const site = panel(DOUBLE);
  site.switch('T', 'break', { contactOhms: 0 });
  site.switch('A', 'break', { contactOhms: 0 });
  site.resistor('RE', 2200).resistor('RA', 4700);
  site.wire('panel.Z', 'T', 'A', 'RE', 'panel.ZC').wire('A.11', 'RA', 'A.12');
  site.case('alarm', site.turn('A', 'open'));
  site.case('tamper', site.turn('T', 'open'));
  const made = tableOf(site);

  it('reads 2k2 at rest, 6k9 in alarm and open in tamper', () => {
    const { rest, cells } = made.zone.healthy;
    expect([rest, ...cells].map(reading)).toEqual(['2.2 normal', '6.9 alarm', 'Infinity open']);
    expect(made.zone.columns.map(({ name, expected }) => [name, expected])).toEqual([
      ['alarm', 'alarm'],
      ['tamper', 'open'],
    ]);
  });

  it('is blind with the alarm contact bridged: 2k2 in both', () => {
    expect(readings(made, 'A.11-12 welded')).toEqual(['2.2 normal', '2.2 normal', 'Infinity open']);
    expect(rowNamed(made.zone, 'A.11-12 welded')).toMatchObject({ class: 'blind', caseName: 'alarm' });
  });

  it('reads open in alarm with the 4k7 missing: misread', () => {
    expect(readings(made, 'RA missing')).toEqual(['2.2 normal', 'Infinity open', 'Infinity open']);
    expect(rowNamed(made.zone, 'RA missing')).toMatchObject({ class: 'misread', caseName: 'alarm' });
  });

  it('announces the two swapped, 4k7 at rest, and 220 ohms for 2k2', () => {
    expect(readings(made, 'RE swapped with RA')).toEqual(['4.7 alarm', '6.9 alarm', 'Infinity open']);
    expect(readings(made, 'RE a decade low')).toEqual(['0.22 short', '4.92 alarm', 'Infinity open']);
    expect(made.classes['RE swapped with RA']).toBe('announced');
    expect(made.classes['RE a decade low']).toBe('announced');
  });

  it('hides the alarm behind 2k2 to 8k97 of leakage, and the tamper behind 2k2 to 3k9', () => {
    // At rest L beside 2k2 must stay at 1k1: L = 1 / (1/1.1 − 1/2.2) = 2k2.
    // In alarm L beside 6k9 must stay below 3k9: L = 1 / (1/3.9 − 1/6.9) = 8k97. In tamper the loop is L alone.
    expect(windows(made)).toEqual([
      'alarm: blind 2.2k..8.97k',
      'tamper: blind 2.2k..3.9k',
      'tamper: misread as alarm 3.9k..10k',
    ]);
  });

  it('is blind by exactly the bridged contacts and the linked 4k7', () => {
    expect(blindNames(made.table)).toEqual(['T.11-12 welded', 'A.11-12 welded', 'RA linked']);
    const [, contact, shunt] = blindNames(made.table).map((name) => rowNamed(made.zone, name).group);
    expect(contact).toBe(shunt);
  });
});

describe('plain, closed circuit: one break contact, no resistor', () => {
  const site = panel([
    ['normal', undefined, 1000],
    ['alarm', 1000, undefined],
  ]);
  site.switch('A', 'break', { place: 'far', contactOhms: 0 });
  site.cable('W', ['GN', 'YE'], 0, 'near', 'far');
  site.wire('panel.Z', 'W.GN', 'A', 'W.YE', 'panel.ZC');
  site.case('alarm', site.turn('A', 'open'));
  const made = tableOf(site);

  it('tells a cut and not a short', () => {
    expect(made.classes).toEqual({
      // The two legs crossed: the same loop walked the other way round.
      'W.GN swapped with W.YE': 'quiet',
      'A.11-12 welded': 'blind',
      'A.11-12 never closes': 'announced',
      'W.GN cut': 'announced',
      'W.GN shorted to W.YE': 'blind',
      'W.YE cut': 'announced',
    });
    expect(readings(made, 'W.GN shorted to W.YE')).toEqual(['0 normal', '0 normal']);
  });

  it('loses the alarm behind any leakage below 1k', () => {
    expect(windows(made)).toEqual(['alarm: blind 0k..1k']);
  });
});

describe('plain, open circuit: one make contact, no resistor', () => {
  const site = panel([
    ['alarm', undefined, 1000],
    ['normal', 1000, undefined],
  ]);
  site.switch('A', 'make', { place: 'far', contactOhms: 0 });
  site.cable('W', ['GN', 'YE'], 0, 'near', 'far');
  site.wire('panel.Z', 'W.GN', 'A', 'W.YE', 'panel.ZC');
  site.case('alarm', site.turn('A', 'closed'));
  const made = tableOf(site);

  it('tells a short and not a cut', () => {
    expect(made.classes).toEqual({
      'W.GN swapped with W.YE': 'quiet',
      'A.13-14 welded': 'announced',
      'A.13-14 never closes': 'blind',
      'W.GN cut': 'blind',
      'W.GN shorted to W.YE': 'announced',
      'W.YE cut': 'blind',
    });
  });

  it('has no leakage that hides the alarm: 0 ohms stay 0 ohms', () => {
    expect(windows(made)).toEqual([]);
  });
});

describe('one resistor in series, closed circuit', () => {
  const bands: Bands = [
    ['short', undefined, 1100],
    ['normal', 1100, 3900],
    ['alarm', 3900, undefined],
  ];
  const build = (atFarEnd: boolean) => {
    const site = panel(bands);
    site.switch('A', 'break', { place: 'far', contactOhms: 0 });
    site.resistor('RE', 2200);
    site.cable('W', ['GN', 'YE'], 0, 'near', 'far');
    if (atFarEnd) site.wire('panel.Z', 'W.GN', 'A', 'RE', 'W.YE', 'panel.ZC');
    else site.wire('panel.Z', 'RE', 'W.GN', 'A', 'W.YE', 'panel.ZC');
    site.case('alarm', site.turn('A', 'open'));
    return tableOf(site);
  };

  it('at the far end announces a shorted pair: 0 ohms', () => {
    const made = build(true);
    expect(readings(made, 'W.GN shorted to W.YE')).toEqual(['0 short', '0 short']);
    expect(blindNames(made.table)).toEqual(['A.11-12 welded']);
    expect(made.classes['RE linked']).toBe('announced');
    expect(made.classes['RE missing']).toBe('announced');
  });

  it('at the panel is blind with a shorted pair: 2k2 in both', () => {
    const made = build(false);
    expect(readings(made, 'W.GN shorted to W.YE')).toEqual(['2.2 normal', '2.2 normal']);
    expect(blindNames(made.table)).toEqual(['A.11-12 welded', 'W.GN shorted to W.YE']);
  });

  it('passes commissioning at the wrong end, and a shorted pair is blind from then on', () => {
    const [passed] = build(true).zone.passed;
    expect(passed?.fault.name).toBe('RE fitted at the other end');
    expect(passed?.newlyBlind.map(({ fault, caseName }) => [fault.name, caseName])).toEqual([
      ['W.GN shorted to W.YE', 'alarm'],
    ]);
    const [back] = build(false).zone.passed;
    expect(back?.newlyBlind).toEqual([]);
  });

  it('hides the open alarm behind 2k2 to 3k9', () => {
    // At rest 2k2 beside L stays at 1k1 from 2k2 on; open, L alone must stay below 3k9.
    expect(windows(build(true))).toEqual(['alarm: blind 2.2k..3.9k']);
  });
});

describe('one resistor across a make contact, open circuit', () => {
  const site = panel([
    ['alarm', undefined, 1100],
    ['normal', 1100, 3900],
    ['trouble', 3900, undefined],
  ]);
  site.switch('A', 'make', { place: 'far', contactOhms: 0 });
  site.resistor('RE', 2200);
  site.cable('W', ['GN', 'YE'], 0, 'near', 'far');
  site.wire('panel.Z', 'W.GN', 'A', 'W.YE', 'panel.ZC').wire('A.13', 'RE', 'A.14');
  site.case('alarm', site.turn('A', 'closed'));
  const made = tableOf(site);

  it('tells a cut and a short, and not a contact that never closes', () => {
    expect(readings(made, 'A.13-14 never closes')).toEqual(['2.2 normal', '2.2 normal']);
    expect(blindNames(made.table)).toEqual(['A.13-14 never closes']);
    expect(readings(made, 'W.GN cut')).toEqual(['Infinity trouble', 'Infinity trouble']);
    expect(made.classes['RE missing']).toBe('announced');
    expect(made.classes['W.GN shorted to W.YE']).toBe('announced');
  });

  it('reads the same with the resistor across the panel, where a cut is blind', () => {
    const passed = made.zone.passed.find(({ fault }) => fault.name === 'RE fitted at the other end');
    expect(passed?.newlyBlind.map(({ fault }) => fault.name)).toEqual(['W.GN cut', 'W.YE cut']);
  });
});

describe('three resistors: 2k2 at the end, 4k7 across the alarm contact, 10k across the masking contact', () => {
  const site = panel([
    ['short', undefined, 1100],
    ['normal', 1100, 3900],
    ['alarm', 3900, 9000],
    ['masked', 9000, 14_000],
    ['alarm+masked', 14_000, 20_000],
    ['open', 20_000, undefined],
  ]);
  site.switch('A', 'break', { contactOhms: 0 });
  site.switch('M', 'break', { contactOhms: 0 });
  site.resistor('RE', 2200).resistor('RA', 4700).resistor('RM', 10_000);
  site.wire('panel.Z', 'A', 'M', 'RE', 'panel.ZC').wire('A.11', 'RA', 'A.12').wire('M.11', 'RM', 'M.12');
  site.case('alarm', site.turn('A', 'open'));
  site.case('masked', site.turn('M', 'open'));
  site.case('both', site.turn('A', 'open'), site.turn('M', 'open'));
  const made = tableOf(site);

  it('reads 2k2, 6k9, 12k2 and 16k9', () => {
    const { rest, cells } = made.zone.healthy;
    expect([rest, ...cells].map(reading)).toEqual(['2.2 normal', '6.9 alarm', '12.2 masked', '16.9 alarm+masked']);
  });

  it('loses the alarm by a bridged contact, and in both contacts open reads masked', () => {
    expect(readings(made, 'RA linked')).toEqual(['2.2 normal', '2.2 normal', '12.2 masked', '12.2 masked']);
    expect(rowNamed(made.zone, 'RA linked')).toMatchObject({ class: 'blind', caseName: 'alarm' });
    expect(rowNamed(made.zone, 'RA linked').cells.map(({ answer }) => answer)).toEqual(['blind', 'quiet', 'misread']);
    expect(blindNames(made.table)).toEqual(['A.11-12 welded', 'M.11-12 welded', 'RA linked', 'RM linked']);
  });

  it('announces every mix-up of values but that of the two shunts, which is misread', () => {
    expect(readings(made, 'RA swapped with RM')).toEqual([
      '2.2 normal',
      '12.2 masked',
      '6.9 alarm',
      '16.9 alarm+masked',
    ]);
    expect(made.classes['RA swapped with RM']).toBe('misread');
    expect(made.classes['RE swapped with RA']).toBe('announced');
    expect(made.classes['RE swapped with RM']).toBe('announced');
  });
});

describe('two detectors in one loop, 4k7 across each', () => {
  const site = panel(DOUBLE);
  for (const name of ['A', 'B']) site.switch(name, 'break', { contactOhms: 0 });
  site.resistor('RE', 2200).resistor('RA', 4700).resistor('RB', 4700);
  site.wire('panel.Z', 'A', 'B', 'RE', 'panel.ZC').wire('A.11', 'RA', 'A.12').wire('B.11', 'RB', 'B.12');
  site.case('one', site.turn('A', 'open'));
  site.case('other', site.turn('B', 'open'));
  site.case('both', site.turn('A', 'open'), site.turn('B', 'open'));
  const made = tableOf(site);

  it('reads 11k6 and open with both in alarm', () => {
    const { rest, cells } = made.zone.healthy;
    expect([rest, ...cells].map(reading)).toEqual(['2.2 normal', '6.9 alarm', '6.9 alarm', '11.6 open']);
  });

  it('loses one detector by its bridged contact: the other still arrives, both arrive as one', () => {
    expect(rowNamed(made.zone, 'A.11-12 welded').cells.map(({ answer }) => answer)).toEqual([
      'blind',
      'quiet',
      'misread',
    ]);
    expect(made.classes['A.11-12 welded']).toBe('blind');
  });

  it('misreads the detector whose shunt is missing, and not the other', () => {
    // A alone opens the loop, which says open and not alarm; B still puts its 4k7 in.
    expect(readings(made, 'RA missing')).toEqual(['2.2 normal', 'Infinity open', '6.9 alarm', 'Infinity open']);
    expect(made.classes['RA missing']).toBe('misread');
  });
});

describe('zones that cannot be judged', () => {
  it('says that it needs bands', () => {
    const site = new SiteBuilder();
    site
      .unit('panel')
      .common('panel.ZC')
      .zone('panel.Z', 'panel.ZC', { feedVolts: datum(5), feedOhms: datum(4700) });
    site.resistor('RE', 2200).wire('panel.Z', 'RE', 'panel.ZC');
    const { zone } = tableOf(site);
    expect(zone.reason).toBe('it has no bands');
    expect(zone.needs).toEqual([expect.objectContaining({ component: zone.zone, property: 'scheme' })]);
    expect(zone.rows).toEqual([]);
  });

  it('says that no case changes it, and tells what is announced all the same', () => {
    const site = panel(DOUBLE);
    site.switch('A', 'break').resistor('RE', 2200).wire('panel.Z', 'A', 'RE', 'panel.ZC');
    const { zone, classes } = tableOf(site);
    expect(zone.reason).toBe('no case changes it');
    expect(classes['RE missing']).toBe('announced');
    expect(rowNamed(zone, 'A.11-12 welded')).toMatchObject({
      class: 'not-evaluated',
      reason: 'no case says what should arrive',
    });
  });

  it('leaves zones out to which nothing is wired', () => {
    const site = panel(DOUBLE);
    expect(faultTable(site.build()).zones).toEqual([]);
  });

  it('says what it needs where the feed of the loop is not given', () => {
    const site = new SiteBuilder();
    site.unit('panel').common('panel.ZC').zone('panel.Z', 'panel.ZC', { bands: DOUBLE });
    site.resistor('RE', 2200).wire('panel.Z', 'RE', 'panel.ZC');
    const { zone } = tableOf(site);
    expect(zone.needs).toEqual([expect.objectContaining({ component: zone.zone, property: 'feed' })]);
  });
});
