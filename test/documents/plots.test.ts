/** Plots: what stands in them is what the site's data say. */
import { bandChartSvg, runtimeSvg, type TimeLine, timeLineSvg } from '@couplet/documents';
import { bandChartsOf, runtimeCurvesOf, timeLineOf } from '@couplet/project';
import { faultsOf } from '@couplet/rules';
import { describe, expect, test } from 'vitest';
import { exampleSite, SITES, siteOf } from '../project/drawing/sites.ts';
import { elementsIn, parseXml, textsIn } from './drawing/xml.ts';

const MILL = exampleSite('tidewater-mill/site.couplet');

describe.each(SITES)('%s', (path) => {
  test('every plot is well formed', async () => {
    const site = await exampleSite(path);
    const plots = [
      ...site.analysis.cases.map(({ name }) => timeLineSvg(timeLineOf(site, name)!)),
      ...bandChartsOf(site).map((chart) => bandChartSvg(chart)),
      ...runtimeCurvesOf(site).map((curve) => runtimeSvg(curve)),
    ];
    for (const plot of plots) {
      const root = parseXml(plot);
      expect(root.attributes.role).toBe('img');
      for (const { attributes } of elementsIn(root))
        expect(JSON.stringify(attributes)).not.toMatch(/NaN|Infinity|undefined/);
    }
    const data = [
      site.analysis.cases.map(({ name }) => timeLineOf(site, name)),
      bandChartsOf(site),
      runtimeCurvesOf(site),
    ];
    expect(JSON.parse(JSON.stringify(data))).toEqual(data);
  });
});

test('the time line of a case: states in their order, with the stretch in which they come', async () => {
  const line = timeLineOf(await MILL, 'high-water')!;
  const states = Object.fromEntries(
    line.tracks.map(({ segments, title }) => [title, segments.map((each) => each.states.join())]),
  );
  expect(states).toEqual({
    'level.Q1': ['on', 'off'],
    'level.Q2': ['off', 'on', 'off'],
    'panel.Z4 reads': ['normal', 'alarm'],
    'panel.Z4 reports': ['normal', 'alarm'],
    K1: ['operated', 'released'],
    P1: ['off', 'on', 'off'],
  });
  const beacon = line.tracks.find(({ title }) => title === 'P1')!;
  expect(beacon.segments.map(({ from, level }) => [from.usual, level])).toEqual([
    [0, 0],
    [0, 1],
    [90, 0],
  ]);
  expect(line.until).toBeGreaterThan(90);
  const texts = textsIn(parseXml(timeLineSvg(line)));
  expect(texts).toEqual(expect.arrayContaining(['Case high-water: Float switch lifts', 'released', '90 s', '406 ms']));
});

test('a coupling leaves out what it does not show', async () => {
  const site = await siteOf(`site "Two"
supply G1 = 12 V { limit: 1 A  earthed: no }
supply G2 = 12 V { limit: 1 A  earthed: no }
load P1 = 120 ohm { works: 9 V .. 15 V }
load P2 = 120 ohm { works: 9 V .. 15 V }
wire G1.plus -- P1 -- G1.minus
wire G2.plus -- P2 -- G2.minus
case dark { turn G1 off  turn G2 off  expect P1 off }`);
  expect(
    timeLineOf(site, 'dark')!
      .tracks.map(({ name }) => name)
      .sort(),
  ).toEqual(['G1', 'G2', 'P1', 'P2']);
  expect(
    timeLineOf(site, 'dark', 'P2')!
      .tracks.map(({ name }) => name)
      .sort(),
  ).toEqual(['G2', 'P2']);
  expect(timeLineOf(site, 'nothing')).toBeUndefined();
});

test('a time that is not known says what it needs', () => {
  const now = { least: 0, usual: 0, most: 0 };
  const line: TimeLine = {
    site: 'Bench',
    case: 'go',
    until: 1,
    tracks: [
      {
        id: 'K1 state',
        title: 'K1',
        name: 'K1',
        segments: [
          { from: now, states: ['released'], level: 0, needs: [] },
          { from: { least: 0, usual: 0.2, most: 0.5 }, states: ['operated'], level: 1, needs: ['K1 operate-time'] },
        ],
      },
    ],
  };
  const root = parseXml(timeLineSvg(line));
  expect(textsIn(root).join(' ')).toContain('time not evaluated: needs K1 operate-time');
  expect([...elementsIn(root)].some(({ attributes }) => attributes.class === 'area')).toBe(true);
});

test('the bands of a zone with its readings, and the faults beside them', async () => {
  const { design } = await MILL;
  const [chart, ...others] = bandChartsOf(await MILL, { faults: faultsOf(design) });
  expect(others).toEqual([]);
  expect(chart!.bands.map(({ from, label, to }) => [label, from, to])).toEqual([
    ['short', undefined, 1100],
    ['normal', 1100, 3900],
    ['alarm', 3900, 10000],
    ['open', 10000, undefined],
  ]);
  expect(chart!.readings.map(({ states, text }) => [states.join(), text])).toEqual([
    ['normal', '2.227 kΩ (2.202 kΩ .. 2.251 kΩ)'],
    ['alarm', '6.927 kΩ (6.855 kΩ .. 6.998 kΩ)'],
  ]);
  const blind = chart!.faults.filter(({ answer }) => answer === 'blind').map(({ title }) => title);
  expect(blind).toContain('level.Q1 stuck on');
  const missing = chart!.faults.find(({ title }) => title.startsWith('RE missing'))!;
  expect([missing.text, missing.usual, missing.answer]).toEqual(['open', undefined, 'announced']);

  const root = parseXml(bandChartSvg(chart!));
  const texts = textsIn(root);
  expect(texts).toEqual(
    expect.arrayContaining(['normal', 'alarm', 'open', '2.227 kΩ normal', 'blind: level.Q1 stuck on']),
  );
  // Each answer has a shape of its own.
  const shapes = new Map<string, Set<string>>();
  for (const fault of chart!.faults) {
    const group = [...elementsIn(root)].find(({ attributes }) => attributes['data-ref'] === `reading ${fault.title}`)!;
    const d = [...elementsIn(group)].find(({ name }) => name === 'path')?.attributes.d;
    if (d !== undefined) shapes.set(fault.answer!, (shapes.get(fault.answer!) ?? new Set()).add(d));
  }
  const all = [...shapes.values()].map((each) => [...each]);
  for (const each of all) expect(each).toHaveLength(1);
  expect(new Set(all.flat()).size).toBe(shapes.size);
});

/** x of the dot of a reading. */
function dotOf(svg: string, title: string): number {
  const group = [...elementsIn(parseXml(svg))].find(({ attributes }) => attributes['data-ref'] === `reading ${title}`)!;
  return Number([...elementsIn(group)].find(({ name }) => name === 'circle')!.attributes.cx);
}

function edgesOf(svg: string, label: string): number[] {
  const group = [...elementsIn(parseXml(svg))].find(({ attributes }) => attributes['data-ref'] === `band ${label}`)!;
  const { width, x } = [...elementsIn(group)].find(({ name }) => name === 'rect')!.attributes;
  return [Number(x), Number(x) + Number(width)];
}

test.each(['tidewater-mill', 'archive', 'cold-store'])(
  'a reading of %s lies in the band that it is read as',
  async (name) => {
    for (const chart of bandChartsOf(await exampleSite(`${name}/site.couplet`))) {
      const svg = bandChartSvg(chart);
      let compared = 0;
      for (const { sort, states, title } of chart.readings) {
        if (sort !== 'value') continue;
        const [left, right] = edgesOf(svg, states[0]!);
        expect(dotOf(svg, title), title).toBeGreaterThanOrEqual(left!);
        expect(dotOf(svg, title), title).toBeLessThanOrEqual(right!);
        compared++;
      }
      expect(compared).toBeGreaterThan(1);
    }
  },
);

test('a zone without bands says that they are needed', async () => {
  const site = await siteOf(`site "Bench"
type Panel : unit { common C { earthed: no }  zone Z1 { feed: 5 V via 4k7  return: C } }
unit p : Panel
resistor R1 = 2k2
wire p.Z1 -- R1 -- p.C`);
  const [chart] = bandChartsOf(site);
  expect(textsIn(parseXml(bandChartSvg(chart!)))).toContain('not evaluated: needs p.Z1 scheme or bands');
});

test('the runtime of a battery falls as the current grows, with what it shall carry', async () => {
  const [curve, ...others] = runtimeCurvesOf(await exampleSite('pumping-station/site.couplet'));
  expect(others).toEqual([]);
  expect([curve!.battery, curve!.says]).toEqual(['B1', 'large enough']);
  const { marks, points } = curve!;
  for (const [index, { amps, least, most, usual }] of points.entries()) {
    expect(least).toBeLessThanOrEqual(usual);
    expect(usual).toBeLessThanOrEqual(most);
    if (index > 0) {
      expect(amps).toBeGreaterThan(points[index - 1]!.amps);
      expect(usual).toBeLessThan(points[index - 1]!.usual);
    }
  }
  expect(marks.map(({ title, wanted }) => [title, wanted])).toEqual([
    ['rest', 86400],
    ['high-water', 7200],
  ]);
  const texts = textsIn(parseXml(runtimeSvg(curve!)));
  expect(texts.some((text) => text.startsWith('rest: wanted 24 h, lasts '))).toBe(true);
});

test('a battery that cannot be told says what it needs, and draws no curve', () => {
  const svg = runtimeSvg({ battery: 'B1', says: 'not evaluated: needs B1 =', points: [], marks: [] });
  expect(textsIn(parseXml(svg))).toEqual(['Battery B1', 'not evaluated: needs B1 =']);
});
