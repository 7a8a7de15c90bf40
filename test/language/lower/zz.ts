import { readFileSync } from 'node:fs';
import { lower } from '@couplet/language';
import { parseSite } from './site.ts';

const n = Number(process.argv[2] ?? 1000);
const types = ['pit-controller', 'panel-eight-zones', 'signal-relay']
  .map((t) => readFileSync(`/work/main/examples/types/${t}.couplet`, 'utf8'))
  .join('\n');
let s = `site "B" { blind: 30000 }\nplace pit "p" { ambient: -5 degC .. 40 degC }\nplace mill "m" { ambient: 5 degC .. 35 degC }\n${types}\n`;
for (let i = 0; i < n; i++) {
  s += `unit level${i} : PitController in pit
unit panel${i} : PanelEightZones in mill
relay K${i} : SignalRelay12 in pit "High water"
resistor RE${i} = 2k2 +-1%
resistor RA${i} = 4k7 +-1%
load P${i} = 6 W @ 12 V in pit "Beacon" { style: resistive  works: 10 V .. 15 V }
cable W${i} { cores: GN, YE, RD, BK  size: 0.22 mm2  length: 140 m  from: mill  to: pit }
spare W${i}.RD, W${i}.BK, K${i}.12
program level${i}.Q1 rest = on
program level${i} "Beacon time" = 90 s
program panel${i}.Z4 scheme = double
wire level${i}.V12 -- K${i}.A1-A2 -- level${i}.Q1
wire level${i}.V12 -- P${i} -- level${i}.Q2
wire panel${i}.Z4 -- W${i}.GN -- K${i}.11-14 -- RE${i} -- W${i}.YE -- panel${i}.ZC
wire K${i}.11 -- RA${i} -- K${i}.14
case high-water${i} "Float switch lifts" {
  turn level${i}.Q1 off
  turn level${i}.Q2 on for level${i}."Beacon time"
  expect panel${i}.Z4 alarm within 1 s
  expect P${i} >= 10.5 V
}
`;
}
const t0 = performance.now();
const docs = parseSite({ 'site.couplet': s });
const t1 = performance.now();
const l = lower(docs, 'memory:///site.couplet');
const t2 = performance.now();
console.log(
  n,
  s.split('\n').length,
  'lines',
  'parse',
  (t1 - t0) | 0,
  'lower',
  (t2 - t1) | 0,
  'components',
  l.design.components.length,
  'findings',
  l.findings.length,
  'MB',
  (process.memoryUsage().heapUsed / 1e6) | 0,
);
const t3 = performance.now();
lower(docs, 'memory:///site.couplet');
console.log('again', (performance.now() - t3) | 0);
