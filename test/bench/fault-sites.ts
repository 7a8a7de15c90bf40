/**
 * Generated sites for the benchmark of the fault table: `count` zones of the kind of the Tidewater Mill example, each with
 * its own controller, panel, relay, four-core cable and beacon, and the cases of the example. Deterministic.
 */
import { TYPES } from './generate.ts';

/** One zone with everything that drives it; `n` makes its names, lengths and powers its own. */
function zone(n: number): string {
  const metres = 20 + (n % 97) * 1.5;
  const watts = 3 + (n % 31) / 10;
  return `unit level${n} : PitController in pit
unit panel${n} : PanelEightZones in house
relay K${n} : SignalRelay12 in pit
resistor RE${n} = 2k2 +-1%
resistor RA${n} = 4k7 +-1%
load P${n} = ${watts} W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }
cable W${n} { cores: GN, YE, RD, BK  size: 0.22 mm2  core-ohms: 95 ohm/km  length: ${metres} m  from: house  to: pit  route: outdoor }
spare W${n}.RD, W${n}.BK, K${n}.12
program level${n}.Q1 rest = on
wire level${n}.V12 -- K${n}.A1-A2 -- level${n}.Q1
wire level${n}.V12 -- P${n} -- level${n}.Q2
wire panel${n}.Z4 -- W${n}.GN -- K${n}.11-14 -- RE${n} -- W${n}.YE -- panel${n}.ZC
wire K${n}.11 -- RA${n} -- K${n}.14
case idle${n} {
  expect K${n} operated
  expect P${n} off
}
case high-water${n} {
  turn level${n}.Q1 off
  turn level${n}.Q2 on for 90 s
  expect panel${n}.Z4 alarm within 1 s
  expect P${n} >= 10.5 V
  wait 100 s
  expect P${n} off
}
case supply-lost${n} {
  turn level${n} off
  expect panel${n}.Z4 alarm within 1 s
}
`;
}

export function faultSite(count: number): string {
  const head = `site "Generated" { blind: ${count * 3} }\n\n`;
  const places = 'place pit { ambient: -5 degC .. 40 degC  wet: yes }\nplace house { ambient: 5 degC .. 35 degC }\n\n';
  return `${head}${TYPES}\n${places}${Array.from({ length: count }, (_, index) => zone(index + 1)).join('')}`;
}
