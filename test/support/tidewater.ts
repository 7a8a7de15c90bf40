/** Tidewater Mill, the worked example of the language, written by hand. Contacts at 0 Ω for the digits it states. */
import { ambient, atMost, choice, datum, tolerance } from './data.ts';
import { SiteBuilder } from './site.ts';

export const DOUBLE_SCHEME = [
  ['short', undefined, 1100],
  ['normal', 1100, 3900],
  ['alarm', 3900, 10_000],
  ['open', 10_000, undefined],
] as const;

/** The site without its cases. */
export function tidewaterParts(contactOhms = 0): SiteBuilder {
  const site = new SiteBuilder('Tidewater Mill', { blind: datum(3) });
  site.place('pit', { ambient: ambient(-5, 40), wet: choice('yes') });
  site.place('mill', { ambient: ambient(5, 35) });

  site.unit('level', { place: 'pit' });
  site.rail('level.V12', 'level.GND', { volts: datum([11.4, 12.8, 14.1]), limit: datum(1.6) });
  site.common('level.GND', { earthed: choice('no') });
  const output = { returns: 'level.GND', withstands: datum(36), atPowerUp: choice('off') };
  site.output('level.Q1', 'sink', {
    ...output,
    rest: 'on',
    rated: datum(0.2),
    drop: atMost(0.5),
    leak: atMost(20e-6),
  });
  site.output('level.Q2', 'sink', { ...output, rated: datum(1.2), drop: atMost(0.3), leak: atMost(80e-6) });

  site.unit('panel', { place: 'mill' });
  site.rail('panel.AUX', 'panel.ZC', { volts: datum([10.5, 13, 13.8]), limit: datum(0.75) });
  site.common('panel.ZC', { earthed: choice('yes') });
  for (let number = 1; number <= 8; number++) {
    site.zone(`panel.Z${number}`, 'panel.ZC', {
      feedVolts: datum(5),
      feedOhms: datum(4700),
      responds: atMost(0.4),
      restores: atMost(0.4),
      bands: DOUBLE_SCHEME,
    });
  }

  site.relay('K1', {
    place: 'pit',
    rated: datum(12),
    ohms: tolerance(720, 0.1),
    operates: datum(8.4),
    releases: datum(1.2),
    holds: datum(8.4),
    range: datum([9, 15]),
    rise: datum(20),
    inductance: datum(0.9),
    operateTime: atMost(0.006),
    releaseTime: atMost(0.004),
    suppressor: { sort: 'diode', origin: -1 },
    contactOhms,
    contactFacts: {
      rating: { amps: datum(2), volts: datum(30) },
      minimumLoad: { amps: datum(10e-6), volts: datum(0.01) },
    },
  });
  site.resistor('RE', tolerance(2200, 0.01), { tolerance: 0.01 });
  site.resistor('RA', tolerance(4700, 0.01), { tolerance: 0.01 });
  site.load(
    'P1',
    'resistive',
    { sort: 'watts', watts: datum(6), atVolts: datum(12) },
    {
      place: 'pit',
      works: datum([10, 15]),
      inrush: { factor: datum(1.5), seconds: datum(0.01), origin: -1 },
    },
  );
  site.cable('W1', ['GN', 'YE', 'RD', 'BK'], 13.3, 'mill', 'pit');

  site.wire('level.V12', 'K1.A1-A2', 'level.Q1');
  site.wire('level.V12', 'P1', 'level.Q2');
  site.wire('panel.Z4', 'W1.GN', 'K1.11-14', 'RE', 'W1.YE', 'panel.ZC');
  site.wire('K1.11', 'RA', 'K1.14');
  site.spare('W1.RD', 'W1.BK', 'K1.12');
  return site;
}

export function tidewater(contactOhms = 0): SiteBuilder {
  const site = tidewaterParts(contactOhms);
  site.case('rest', site.expect('K1', 'operated'), site.expect('P1', 'off'));
  site.case(
    'high-water',
    site.turn('level.Q1', 'off'),
    site.turn('level.Q2', 'on', { for: 90 }),
    site.expect('panel.Z4', 'alarm', { within: 1 }),
    site.expect('P1', { sort: 'compare', operator: '>=', value: 10.5, dimension: 'V' }),
    site.wait(100),
    site.expect('P1', 'off'),
  );
  site.case('supply-lost', site.turn('level', 'off'), site.expect('panel.Z4', 'alarm', { within: 1 }));
  return site;
}
