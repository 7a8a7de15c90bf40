/** Random sites with supervised loops: controllers, relays, switches, resistors, cables with shared returns, two supplies. */
import { ambient, atMost, choice, datum, tolerance } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { DOUBLE_SCHEME } from '../../support/tidewater.ts';

export function randomSite(random: () => number): SiteBuilder {
  const chance = (share: number) => random() < share;
  const pick = <T>(...all: readonly T[]): T => all[Math.floor(random() * all.length)]!;
  const site = new SiteBuilder();
  site.place('near', { ambient: ambient(5, 35) });
  site.place('far', { ambient: ambient(-5, 40) });

  site.unit('panel', { place: 'near' });
  site.rail('panel.AUX', 'panel.ZC', { volts: datum([10.5, 13, 13.8]), limit: datum(0.75) });
  site.common('panel.ZC', { earthed: choice(pick('yes', 'no')) });
  const zones = pick(1, 1, 2);
  for (let zone = 1; zone <= zones; zone++) {
    site.zone(`panel.Z${zone}`, 'panel.ZC', {
      feedVolts: datum(pick<number | readonly [number, number]>(5, [4.8, 5.2])),
      feedOhms: datum(4700),
      responds: atMost(0.4),
      restores: atMost(0.4),
      bands: DOUBLE_SCHEME,
    });
  }

  const style = pick<'sink' | 'source'>('sink', 'source');
  site.unit('ctrl', { place: 'far' });
  site.rail('ctrl.V', 'ctrl.G', {
    volts: datum([11.4, 12.8, 14.1]),
    limit: datum(pick(0.05, 1.6)),
  });
  site.common('ctrl.G', { earthed: choice(pick('yes', 'no')) });
  const held = chance(0.6);
  const output = { returns: 'ctrl.G', ...(style === 'source' ? { rail: 'ctrl.V' } : {}), drop: atMost(0.5) };
  site.output('ctrl.Q1', style, { ...output, rest: held ? 'on' : 'off', leak: atMost(20e-6) });
  site.output('ctrl.Q2', style, { ...output, leak: atMost(80e-6) });
  site.relay('K1', {
    place: 'far',
    rated: datum(12),
    ohms: tolerance(720, 0.1),
    operates: datum(8.4),
    releases: datum(1.2),
    holds: datum(8.4),
    rise: datum(20),
    operateTime: atMost(0.006),
    releaseTime: atMost(0.004),
    contactOhms: pick(0, 0.1),
    poles: zones,
    ...(chance(0.7) ? { suppressor: { sort: 'diode', origin: -1 } as const } : {}),
  });
  site.load('P1', 'resistive', { sort: 'ohms', ohms: datum(24) }, { place: 'far', works: datum([9, 15]) });
  const fused = chance(0.5);
  if (fused) site.fuse('F1', 0.2, { place: 'far' });
  const plus = fused ? ['ctrl.V', 'F1'] : ['ctrl.V'];
  if (style === 'sink') {
    site.wire(...plus, 'K1.A1-A2', 'ctrl.Q1');
    site.wire('ctrl.V', 'P1', 'ctrl.Q2');
  } else {
    site.wire('ctrl.Q1', ...(fused ? ['F1'] : []), 'K1.A1-A2', 'ctrl.G');
    site.wire('ctrl.Q2', 'P1', 'ctrl.G');
  }

  const shared = zones === 2 && chance(0.5);
  const cores = shared ? ['GN', 'WH', 'YE'] : zones === 2 ? ['GN', 'WH', 'YE', 'BN'] : ['GN', 'YE'];
  site.cable('W1', cores, datum(pick<number | readonly [number, number]>(13.3, [9, 14])), 'near', 'far');
  for (let zone = 1; zone <= zones; zone++) {
    const hot = zone === 1 ? 'W1.GN' : 'W1.WH';
    const back = zone === 1 || shared ? 'W1.YE' : 'W1.BN';
    const contact = `K1.${zone}1-${zone}${held ? 4 : 2}`;
    const tamper = chance(0.5);
    if (tamper) site.switch(`S${zone}`, 'break', { place: 'far', contactOhms: 0.1 });
    site.resistor(`RE${zone}`, tolerance(2200, 0.01));
    const chain = [...(tamper ? [`S${zone}`] : []), contact];
    const end = `RE${zone}`;
    const elements = chance(0.5) ? [...chain, end] : [end, ...chain];
    site.wire(`panel.Z${zone}`, hot, ...elements, back, 'panel.ZC');
    if (chance(0.7)) {
      site.resistor(`RA${zone}`, tolerance(4700, 0.05));
      site.wire(`K1.${zone}1`, `RA${zone}`, `K1.${zone}${held ? 4 : 2}`);
    }
    if (tamper) site.case(`cover${zone}`, site.turn(`S${zone}`, 'open'));
  }
  site.case('event', site.turn('ctrl.Q1', held ? 'off' : 'on'), site.turn('ctrl.Q2', 'on'));
  return site;
}
