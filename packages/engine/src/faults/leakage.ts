/**
 * Leakage between the legs of a loop: from how many ohms to how many it leaves the zone normal at rest and hides an
 * event, or turns it into another. The ohms of a loop rise with those of the leakage, so that every edge of a band is
 * passed once; and with every part of the loop, so that the widest window has its lower end where the loop at rest has
 * most ohms and its upper end where the loop in the case has least.
 */
import { NOTHING_DONE } from '../analysis/doings.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentOf, TerminalId } from '../design/components.ts';
import { reports } from './answers.ts';
import type { Column } from './columns.ts';
import type { FaultSpread, LeakageWindow } from './contract.ts';
import { type Curve, type Curves, curvesThrough, leakAt, ohmsAt, PROBE } from './leak-curve.ts';
import type { PlainLoop } from './plain-loop.ts';
import type { FaultSite } from './site.ts';
import type { Effect, Trials } from './trials.ts';
import { ENDS, type End, ZoneScale } from './zone-scale.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
}

interface Answered {
  readonly answer: 'blind' | 'misread';
  readonly readsAs: string | undefined;
}

/** Two points between which leakage may lie, with the curves at rest and at an event of a case. */
interface Place {
  readonly where: string;
  readonly rest: Curves | undefined;
  during(index: number, instant: number): Generator<void, Curves | undefined>;
}

export function* leakageOf(
  site: FaultSite,
  trials: Trials,
  zone: ComponentOf<'zone'>,
  normal: string,
  columns: readonly Column[],
): Generator<void, readonly LeakageWindow[]> {
  const scale = ZoneScale.of(zone);
  if (scale === undefined || columns.length === 0) return [];
  const loop = trials.loopOf(zone);
  const places = loop === undefined ? [yield* settledPlace(site, trials, zone)] : plainPlaces(site, loop);
  const windows: LeakageWindow[] = [];
  for (const { case: index, name: caseName, events } of columns) {
    const found: LeakageWindow[] = [];
    for (const { where, rest, during: duringAt } of places) {
      for (const { expected, at } of events) {
        const during = yield* duringAt(index, at[0]!);
        if (rest === undefined || during === undefined) continue;
        for (const window of windowsAt(scale, rest, during, normal, expected)) {
          found.push({ case: index, caseName, expected, where, ...window });
        }
      }
    }
    windows.push(...widest(found));
  }
  return windows;
}

/** Of each answer and class the window that reaches highest. */
function widest(windows: readonly LeakageWindow[]): readonly LeakageWindow[] {
  const best = new Map<string, LeakageWindow>();
  for (const window of windows) {
    const key = `${window.answer} ${window.readsAs}`;
    const other = best.get(key);
    if (other === undefined || isWider(window, other)) best.set(key, window);
  }
  return [...best.values()];
}

/** Differences below this share of the ohms are rounding. */
const SAME = 1e-9;

function isWider({ worst: one }: LeakageWindow, { worst: other }: LeakageWindow): boolean {
  if (one.to > other.to * (1 + SAME)) return true;
  return one.to >= other.to * (1 - SAME) && one.from < other.from * (1 - SAME);
}

/** The zone's own terminals, and both ends of every pair of cores in the loop. */
function plainPlaces(site: FaultSite, loop: PlainLoop): readonly Place[] {
  const { ground } = site;
  return pairsOf(site, loop).map(({ a, b, where }) => ({
    where,
    rest: plainCurves(site, loop, a, b, ground.rest),
    // biome-ignore lint/correctness/useYield: other places have something to wait for.
    *during(index, instant) {
      return plainCurves(site, loop, a, b, ground.lines[index]!.instants[instant]!.world);
    },
  }));
}

function pairsOf(
  site: FaultSite,
  loop: PlainLoop,
): readonly { readonly a: TerminalId; readonly b: TerminalId; readonly where: string }[] {
  const { zone, island } = loop;
  const { terminals, components } = site.design;
  const pairs = [{ a: zone.a, b: zone.b, where: `at ${terminals[zone.a]!.name}` }];
  const inside = (terminal: TerminalId) => island.local(site.node(terminal)) >= 0;
  for (const { component: core } of island.elements) {
    if (core.kind !== 'core') continue;
    for (const other of site.beside(core)) {
      if (other.id < core.id) continue;
      for (const { a, b } of site.ends(core, other)) {
        if (!inside(a) || !inside(b) || site.node(a) === site.node(b)) continue;
        const place = site.placeName(a);
        const cable = components[core.cable]!.name;
        pairs.push({ a, b, where: place === undefined ? `in ${cable}` : `at ${cable}, ${place}` });
      }
    }
  }
  return pairs;
}

function plainCurves(
  site: FaultSite,
  loop: PlainLoop,
  from: TerminalId,
  to: TerminalId,
  world: World,
): Curves | undefined {
  const { island } = loop;
  if (world.islandOf(island.elements[0]!) !== island) return undefined;
  const [states] = world.alternatives(island).states;
  if (states === undefined) return undefined;
  const [a, b] = [island.local(site.node(from)), island.local(site.node(to))];
  const across = (ohms: number) => loop.ohms(states, [{ a, b, ohms: { least: ohms, usual: ohms, most: ohms } }]);
  return through(loop.ohms(states), across(0), across(PROBE));
}

function through(
  open: FaultSpread | undefined,
  short: FaultSpread | undefined,
  probed: FaultSpread | undefined,
): Curves | undefined {
  if (open === undefined || short === undefined || probed === undefined) return undefined;
  return curvesThrough(open, short, probed);
}

/**
 * At the zone's own terminals, with the site settled for each leakage that a curve is taken at. Where the loop holds
 * more than ohms, the curve is an approximation between these.
 */
function* settledPlace(site: FaultSite, trials: Trials, zone: ComponentOf<'zone'>): Generator<void, Place> {
  const effects: Effect[] = [];
  for (const joins of [[], [0], [PROBE]]) {
    const doings = { ...NOTHING_DONE, joins: joins.map((ohms) => ({ a: zone.a, b: zone.b, ohms })) };
    effects.push(yield* trials.of(doings));
  }
  const [open, short, probed] = effects as [Effect, Effect, Effect];
  return {
    where: `at ${site.design.terminals[zone.a]!.name}`,
    rest: through(open.readRest(zone).ohms, short.readRest(zone).ohms, probed.readRest(zone).ohms),
    *during(index, instant) {
      for (const effect of effects) yield* effect.settle(index);
      return through(
        open.readCase(zone, index, instant).ohms,
        short.readCase(zone, index, instant).ohms,
        probed.readCase(zone, index, instant).ohms,
      );
    },
  };
}

function windowsAt(
  scale: ZoneScale,
  rest: Curves,
  during: Curves,
  normal: string,
  expected: string,
): readonly Pick<LeakageWindow, 'answer' | 'readsAs' | 'usual' | 'worst'>[] {
  const found = new Map<string, { readonly answered: Answered; readonly spans: Partial<Record<End, Span>> }>();
  for (const end of ENDS) {
    for (const { answered, span } of stretchesAt(scale, rest[end], during[end], end, normal, expected)) {
      const key = `${answered.answer} ${answered.readsAs}`;
      const known = found.get(key) ?? { answered, spans: {} };
      const other = known.spans[end];
      known.spans[end] = other === undefined ? span : hull([other, span]);
      found.set(key, known);
    }
  }
  return [...found.values()].map(({ answered, spans }) => ({
    ...answered,
    ...(spans.usual === undefined ? {} : { usual: spans.usual }),
    worst: hull(Object.values(spans)),
  }));
}

function hull(spans: readonly Span[]): Span {
  return { from: Math.min(...spans.map(({ from }) => from)), to: Math.max(...spans.map(({ to }) => to)) };
}

/** Stretches of leakage between the edges that rest or the case pass, where the event does not arrive as it should. */
function stretchesAt(
  scale: ZoneScale,
  rest: Curve,
  during: Curve,
  end: End,
  normal: string,
  expected: string,
): readonly { readonly answered: Answered; readonly span: Span }[] {
  const marks = new Set<number>([0, Number.POSITIVE_INFINITY]);
  for (const edge of scale.edges(end)) {
    for (const curve of [rest, during]) {
      const leak = leakAt(curve, edge);
      if (leak !== undefined) marks.add(leak);
    }
  }
  const sorted = [...marks].sort((one, other) => one - other);
  const stretches: { answered: Answered; span: Span }[] = [];
  for (let i = 1; i < sorted.length; i++) {
    const [from, to] = [sorted[i - 1]!, sorted[i]!];
    const leak = between(from, to);
    const readsAs = scale.classAt(ohmsAt(during, leak), end);
    if (scale.classAt(ohmsAt(rest, leak), end) !== normal) continue;
    if (readsAs !== undefined && readsAs !== normal && reports(readsAs, expected)) continue;
    const last = stretches.at(-1);
    if (last?.span.to === from && last.answered.readsAs === readsAs) last.span = { from: last.span.from, to };
    else
      stretches.push({ answered: { answer: readsAs === normal ? 'blind' : 'misread', readsAs }, span: { from, to } });
  }
  return stretches;
}

/** A leakage well inside a stretch. */
function between(from: number, to: number): number {
  if (from === 0) return Number.isFinite(to) ? to / 2 : 1;
  return Number.isFinite(to) ? Math.sqrt(from * to) : from * 2;
}
