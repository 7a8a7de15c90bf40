/** Lines of the healthy site that tests replace. */
export const LOAD = 'load P1 = 6 W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }';
export const CABLE =
  'cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: 140 m  from: hut  to: pit  route: indoor }';
export const LOOP = 'wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC';
export const SHUNT = 'wire K1.11 -- RA -- K1.14';
export const COIL = 'wire ctl.V12 -- K1.A1-A2 -- ctl.Q1';
export const LAMP = 'wire ctl.V12 -- P1 -- ctl.Q2';
export const CTL = 'unit ctl : Controller in pit';
/** The site tolerates more faults than its three. */
export const blind = (faults: number) => ['blind: 3', `blind: ${faults}`] as const;
export const RELAY = 'relay K1 : Relay12 in pit';
