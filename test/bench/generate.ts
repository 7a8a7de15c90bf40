/**
 * Generated sites for benchmarks: `couplings` couplings of the kind of the Tidewater Mill example, each with its own
 * controller, panel, relay, loop, cable and beacon, 21 lines a coupling. Values differ from coupling to coupling, so that
 * nothing can be remembered from one to the next. Deterministic.
 */

export interface GeneratedFile {
  readonly name: string;
  readonly text: string;
}

export const TYPES = `type PitController : unit {
  rail V12 { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 200 mA  drop: 0.5 V  leak: 20 uA  withstands: 36 V  at-power-up: off }
  output Q2 { style: sink  return: GND  rated: 1.2 A  drop: 0.3 V  leak: 80 uA  withstands: 36 V  at-power-up: off }
}

type SignalRelay12 : relay {
  coil: 12 V, 720 ohm +-10%
  operates: 70%
  releases: 10%
  range: 75% .. 125%
  rise: 20 degC
  inductance: 0.9 H
  operate-time: 6 ms
  release-time: 4 ms
  contacts: changeover
  contact-rating: 2 A @ 30 V
  minimum-load: 10 uA @ 10 mV
  suppressor: diode
}

type PanelEightZones : unit {
  rail AUX { volts: 10.5 V .. 13 V .. 13.8 V  limit: 750 mA  return: ZC }
  common ZC { earthed: yes }
  scheme double { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  restores: 400 ms  scheme: double }
}
`;

/** One coupling of 21 lines; `n` makes its names, lengths and powers its own. */
function coupling(n: number): string {
  const metres = 20 + (n % 97);
  const watts = 3 + (n % 31) / 10;
  return `unit level${n} : PitController in pit "Controller ${n}"
unit panel${n} : PanelEightZones in house
relay K${n} : SignalRelay12 in pit
resistor RE${n} = 2k2 +-1%
resistor RA${n} = 4k7 +-1%
load P${n} = ${watts} W @ 12 V in pit { style: resistive  works: 10 V .. 15 V  inrush: 150% @ 10 ms }
cable W${n} { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: ${metres} m  from: house  to: pit  route: indoor }
spare K${n}.12
program level${n}.Q1 rest = on
wire level${n}.V12 -- K${n}.A1-A2 -- level${n}.Q1
wire level${n}.V12 -- P${n} -- level${n}.Q2
wire panel${n}.Z4 -- W${n}.GN -- K${n}.11-14 -- RE${n} -- W${n}.YE -- panel${n}.ZC
wire K${n}.11 -- RA${n} -- K${n}.14
case high-water${n} {
  turn level${n}.Q1 off
  turn level${n}.Q2 on
  expect panel${n}.Z4 alarm within 1 s
  expect P${n} >= 10.5 V
}
accept leakage-masks-alarm on panel${n}.Z4 because "dry place"

`;
}

/**
 * A site of `couplings` couplings spread over `files` files besides the types and the site file itself.
 * With one file everything stands in the site file.
 */
export function generateSite(couplings: number, files: number): GeneratedFile[] {
  const head = `site "Generated" { blind: ${couplings * 3} }\n\n`;
  const places = 'place pit { ambient: -5 degC .. 40 degC }\nplace house { ambient: 5 degC .. 35 degC }\n\n';
  const all = Array.from({ length: couplings }, (_, index) => coupling(index + 1));
  if (files <= 1) return [{ name: 'site.couplet', text: `${head}${TYPES}\n${places}${all.join('')}` }];
  const size = Math.ceil(couplings / files);
  const parts: GeneratedFile[] = [];
  for (let from = 0; from < couplings; from += size) {
    parts.push({ name: `part${parts.length + 1}.couplet`, text: all.slice(from, from + size).join('') });
  }
  const uses = ['types.couplet', ...parts.map((part) => part.name)].map((name) => `use "${name}"\n`).join('');
  return [
    { name: 'site.couplet', text: `${head}${uses}\n${places}` },
    { name: 'types.couplet', text: TYPES },
    ...parts,
  ];
}
