/** Builders and checks for networks. Ohms Ω, volts V, amperes A, watts W; a law goes from node `a` to node `b`. */
import type { Curve, Law, Network, OperatingPoint } from '@couplet/engine';
import { expect } from 'vitest';

export const ohms = (a: number, b: number, value: number): Law => ({ sort: 'ohms', a, b, ohms: value });
export const volts = (a: number, b: number, value: number): Law => ({ sort: 'volts', a, b, volts: value });
export const amps = (a: number, b: number, value: number): Law => ({ sort: 'amps', a, b, amps: value });
export const wire = (a: number, b: number): Law => ohms(a, b, 0);
export const curve = (a: number, b: number, shape: Curve): Law => ({ sort: 'curve', a, b, curve: shape });
export const power = (a: number, b: number, watts: number, least = 0, most = Number.POSITIVE_INFINITY): Law => ({
  sort: 'power',
  a,
  b,
  watts,
  least,
  most,
});

/** Conducts above `drop` with `slope` ohms, blocks below. */
export const diodeCurve = (drop = 0.65, slope = 0): Curve => ({
  points: [[drop, 0]],
  before: [1, 0],
  after: slope === 0 ? [0, 1] : [slope, 1],
});
export const diode = (a: number, b: number, drop = 0.65, slope = 0): Law => curve(a, b, diodeCurve(drop, slope));

/** Blocks between breakdown and drop. */
export const zenerCurve = (breakdown: number, drop = 0.65): Curve => ({
  points: [
    [-breakdown, 0],
    [drop, 0],
  ],
  before: [0, 1],
  after: [0, 1],
});

/** `a` is plus: holds `emf` behind `series` ohms and delivers `limit` at most; takes current back without bound. */
export const limitedCurve = (emf: number, series: number, limit: number): Curve => ({
  points: [
    [emf - series * limit, -limit],
    [emf, 0],
  ],
  before: [1, 0],
  after: series === 0 ? [0, 1] : [series, 1],
});

/** Draws `draw` from `from` volts upwards, as a resistance below. */
export const constantCurrentCurve = (draw: number, from: number): Curve => ({
  points: [
    [0, 0],
    [from, draw],
  ],
  before: [from, draw],
  after: [1, 0],
});

export const network = (nodes: number, ...laws: Law[]): Network => ({ nodes, laws });

export const across = (point: OperatingPoint, a: number, b: number): number => point.volts[a]! - point.volts[b]!;

/** Close in relation to the larger of both, or to `scale`. */
export function expectClose(found: number, wanted: number, relative = 1e-12, scale = 0): void {
  const bound = relative * Math.max(Math.abs(found), Math.abs(wanted), scale);
  if (!(Math.abs(found - wanted) <= bound)) expect.fail(`${found} is not ${wanted} within ${bound}`);
}

/** Distance in volts or amperes, relative to `scale`s, of a point from a curve. */
export function distanceFromCurve(shape: Curve, v: number, i: number, vPoint: number, iPoint: number): number {
  const far = 1e6;
  const vScale = Math.max(vPoint, ...shape.points.map((p) => Math.abs(p[0])));
  const iScale = Math.max(iPoint, ...shape.points.map((p) => Math.abs(p[1])));
  const at = (p: readonly [number, number]): [number, number] => [p[0] / vScale, p[1] / iScale];
  const first = shape.points[0]!;
  const last = shape.points[shape.points.length - 1]!;
  const reach = (d: readonly [number, number]): [number, number] => {
    const size = Math.hypot(d[0] / vScale, d[1] / iScale);
    return [(d[0] * far) / size, (d[1] * far) / size];
  };
  const start = reach(shape.before);
  const end = reach(shape.after);
  const line = [
    at([first[0] - start[0], first[1] - start[1]]),
    ...shape.points.map(at),
    at([last[0] + end[0], last[1] + end[1]]),
  ];
  const [x, y] = at([v, i]);
  let least = Number.POSITIVE_INFINITY;
  for (let k = 0; k + 1 < line.length; k++) {
    const [ax, ay] = line[k]!;
    const [bx, by] = line[k + 1]!;
    const length = (bx - ax) ** 2 + (by - ay) ** 2;
    const t = length === 0 ? 0 : Math.min(1, Math.max(0, ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / length));
    least = Math.min(least, Math.hypot(x - ax - t * (bx - ax), y - ay - t * (by - ay)));
  }
  return least;
}

/** Asserts that a solved point satisfies every law and Kirchhoff, and holds no NaN. */
export function expectConsistent(net: Network, point: OperatingPoint, relative = 1e-9): void {
  expect(point.outcome.sort).toBe('solved');
  expect(point.residual).toBe(0);
  const vScale = Math.max(1e-9, ...point.volts.map(Math.abs));
  const iScale = Math.max(1e-12, ...point.amps.map(Math.abs));
  for (const x of [...point.volts, ...point.amps]) expect(Number.isFinite(x)).toBe(true);
  const sum = new Float64Array(net.nodes);
  const gross = new Float64Array(net.nodes);
  net.laws.forEach((law, k) => {
    const v = across(point, law.a, law.b);
    const i = point.amps[k]!;
    sum[law.a]! += i;
    sum[law.b]! -= i;
    gross[law.a]! += Math.abs(i);
    gross[law.b]! += Math.abs(i);
    const together = point.group[law.a] === point.group[law.b];
    if (law.sort === 'ohms' && Number.isFinite(law.ohms)) expectClose(v, i * law.ohms, relative, vScale);
    if (law.sort === 'volts') expectClose(v, law.volts, relative, vScale);
    if (law.sort === 'amps') expectClose(i, law.amps, relative, 0);
    if (law.sort === 'curve') {
      const off = distanceFromCurve(law.curve, v, i, vScale, iScale);
      if (!(off <= relative)) expect.fail(`law ${k} at ${v} V, ${i} A is ${off} off its curve (${together})`);
    }
    if (law.sort === 'power') {
      const wanted =
        v > law.most
          ? (v * law.watts) / law.most ** 2
          : v < law.least
            ? (v * law.watts) / law.least ** 2
            : law.watts / v;
      expectClose(i, law.watts === 0 ? 0 : wanted, relative, iScale);
    }
  });
  for (let n = 0; n < net.nodes; n++) {
    if (!(Math.abs(sum[n]!) <= 1e-9 * gross[n]! + 1e-15)) expect.fail(`node ${n}: ${sum[n]} of ${gross[n]}`);
  }
}
