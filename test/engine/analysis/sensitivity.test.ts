/** Slopes from one adjoint solve against small steps of every axis, on seeded islands. */
import { describe, expect, it } from 'vitest';
import { Circuit, CornerMemory } from '../../../packages/engine/src/analysis/circuit.ts';
import { ampsGauge, drawnGauge, voltsGauge, wattsGauge } from '../../../packages/engine/src/analysis/gauges.ts';
import { slopesOf } from '../../../packages/engine/src/analysis/sensitivity.ts';
import { Islands, Layout, Model } from '../../../packages/engine/src/build/index.ts';
import { datum, tolerance } from '../../support/data.ts';
import { generator } from '../../support/random.ts';
import { SiteBuilder } from '../../support/site.ts';

function island(random: () => number) {
  const site = new SiteBuilder();
  const nodes = 4 + Math.floor(random() * 3);
  for (let node = 0; node < nodes; node++) site.joint(`X${node}`);
  for (let i = 0; i < 2 * nodes; i++) {
    const a = Math.floor(random() * nodes);
    const b = i < nodes ? (i + 1) % nodes : Math.floor(random() * nodes);
    const from = i < nodes ? i : a;
    if (from === b) continue;
    site.resistor(`R${i}`, tolerance(10 ** (1 + 2 * random()), 0.1)).wire(`X${from}`, `R${i}`, `X${b}`);
  }
  site.supply('G1', { volts: tolerance(12, 0.1) }).supply('G2', { volts: tolerance(9, 0.1), ohms: tolerance(5, 0.2) });
  site
    .wire('G1.plus', 'X1')
    .wire('G1.minus', 'X0')
    .wire('G2.plus', `X${nodes - 1}`)
    .wire('G2.minus', 'X2');
  site.diode('D1', tolerance(0.65, 0.1), { slope: datum(0.5) }).wire('X3', 'D1', 'X0');
  const works = { works: datum([3, 30]) };
  site.load('P1', 'constant-current', { sort: 'amps', amps: tolerance(0.01, 0.1) }, works).wire('X1', 'P1', 'X0');
  const model = new Model(site.build());
  const region = model.regions.find(({ elements }) => elements.length > 5)!;
  const pinned = region.elements.filter(({ component }) => component.name === 'G1');
  const layout = new Layout(region.elements, pinned, new Islands());
  const largest = layout.islands.reduce((one, other) => (other.elements.length > one.elements.length ? other : one));
  const states = largest.elements.map(({ component }) => (component.kind === 'source' ? 'on' : ''));
  return { island: largest, circuit: new Circuit(largest, states, model.context, { memory: new CornerMemory(4) }) };
}

describe('slopes by one adjoint solve', () => {
  it('are those of small steps, for volts, amperes and watts', () => {
    let compared = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const made = island(generator(seed));
      const { circuit } = made;
      const resistors = made.island.elements.filter(({ component }) => component.kind === 'resistor');
      const [first, second] = resistors;
      if (first === undefined || second === undefined) continue;
      const gauges = [
        voltsGauge(made.island, first.a, second.b),
        ampsGauge(made.island, [second]),
        wattsGauge(made.island, [first], first.a, first.b),
        ...made.island.pins.map(({ element }) => drawnGauge(made.island, element)),
      ];
      const axes = circuit.axes.map((_, axis) => axis);
      const point = axes.map(() => 0);
      for (const gauge of gauges) {
        const measure = gauge.measure(circuit);
        const slopes = slopesOf(circuit, measure, point, axes);
        const base = measure(circuit.at(point));
        if (slopes === undefined || base === undefined) continue;
        const scale = Math.max(...slopes.map(Math.abs), 1e-9);
        for (const axis of axes) {
          const step = 1e-5;
          const moved = (t: number) => measure(circuit.at(point.map((place, i) => (i === axis ? t : place))))!;
          const slope = (moved(step) - moved(-step)) / (2 * step);
          expect(Math.abs(slopes[axis]! - slope) / scale, `seed ${seed} ${gauge.name} axis ${axis}`).toBeLessThan(1e-3);
          compared++;
        }
      }
    }
    expect(compared).toBeGreaterThan(2000);
  });
});
