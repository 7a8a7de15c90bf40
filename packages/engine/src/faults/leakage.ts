/**
 * Leakage between the legs of a loop: from how many ohms to how many it leaves the zone normal at rest and hides an
 * event, or turns it into another. The ohms of a loop rise with those of the leakage, so that every edge of a band is
 * passed once; and with every part of the loop, so that the widest window has its lower end where the loop at rest has
 * most ohms and its upper end where the loop in the case has least.
 */

import { NOTHING_DONE } from '../analysis/doings.ts';
import { finish } from '../analysis/moment.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentOf, TerminalId } from '../design/components.ts';
import type { Column } from './columns.ts';
import type { LeakageWindow } from './contract.ts';
import type { Ground } from './ground.ts';
import { ENDS, type End, type PlainLoop } from './plain-loop.ts';
import type { FaultSite } from './site.ts';
import type { Trials } from './trials.ts';
import { type Answered, type Span, searchWindows } from './window-search.ts';

/** Two points between which leakage may lie. */
interface Pair {
  readonly a: TerminalId;
  readonly b: TerminalId;
  readonly where: string;
}

export function leakageOf(
  site: FaultSite,
  trials: Trials,
  zone: ComponentOf<'zone'>,
  normal: string,
  columns: readonly Column[],
): readonly LeakageWindow[] {
  const loop = trials.loopOf(zone);
  const windows: LeakageWindow[] = [];
  for (const column of columns) {
    const found = loop === undefined ? searched(site, trials, zone, normal, column) : plain(site, loop, normal, column);
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

function pairsOf(site: FaultSite, loop: PlainLoop): readonly Pair[] {
  const { zone, island } = loop;
  const { terminals, components } = site.design;
  const pairs: Pair[] = [{ a: zone.a, b: zone.b, where: `at ${terminals[zone.a]!.name}` }];
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

function plain(site: FaultSite, loop: PlainLoop, normal: string, column: Column): readonly LeakageWindow[] {
  const { ground } = site;
  const { instants } = ground.lines[column.case]!;
  const windows: LeakageWindow[] = [];
  for (const pair of pairsOf(site, loop)) {
    const rest = curvesOf(ground, loop, pair, ground.rest);
    if (rest === undefined) continue;
    for (const { expected, at } of column.events) {
      const during = curvesOf(ground, loop, pair, instants[at[0]!]!.world);
      if (during === undefined) continue;
      const byKey = new Map<string, { answered: Answered; spans: Partial<Record<End, Span>> }>();
      for (const end of ENDS) {
        for (const { answered, span } of windowsAt(loop, rest[end], during[end], end, normal, expected)) {
          const key = `${answered.answer} ${answered.readsAs}`;
          const known = byKey.get(key) ?? { answered, spans: {} };
          known.spans[end] = known.spans[end] === undefined ? span : hull([known.spans[end], span]);
          byKey.set(key, known);
        }
      }
      for (const { answered, spans } of byKey.values()) {
        windows.push({
          case: column.case,
          caseName: column.name,
          expected,
          ...answered,
          where: pair.where,
          ...(spans.usual === undefined ? {} : { usual: spans.usual }),
          worst: hull(Object.values(spans)),
        });
      }
    }
  }
  return windows;
}

export function hull(spans: readonly Span[]): Span {
  return { from: Math.min(...spans.map(({ from }) => from)), to: Math.max(...spans.map(({ to }) => to)) };
}

/**
 * Ohms of the loop over those of the leakage, R(L) = (open·L + short·knee) / (L + knee): every network of ohms in which
 * one branch is left open is such a quotient. Where the loop is open without the leakage, R(L) = short + rise·L.
 */
interface Curve {
  readonly open: number;
  readonly short: number;
  readonly knee: number;
  readonly rise: number;
}

/** Ohms of leakage at which a curve is taken besides none and infinitely many. */
const PROBE = 1000;

function curvesOf(ground: Ground, loop: PlainLoop, pair: Pair, world: World): Readonly<Record<End, Curve>> | undefined {
  const { island } = loop;
  if (world.islandOf(island.elements[0]!) !== island) return undefined;
  const [states] = world.alternatives(island).states;
  if (states === undefined) return undefined;
  const { model } = ground.shared;
  const [a, b] = [island.local(model.nodeOf(pair.a)), island.local(model.nodeOf(pair.b))];
  const across = (ohms: number) => loop.ohms(states, [{ a, b, ohms: { least: ohms, usual: ohms, most: ohms } }]);
  const open = loop.ohms(states);
  const short = across(0);
  const probed = across(PROBE);
  if (open === undefined || short === undefined || probed === undefined) return undefined;
  const at = (end: End): Curve => ({
    open: open[end],
    short: short[end],
    knee: (PROBE * (open[end] - probed[end])) / (probed[end] - short[end]),
    rise: (probed[end] - short[end]) / PROBE,
  });
  return { least: at('least'), usual: at('usual'), most: at('most') };
}

function ohmsAt({ open, short, knee, rise }: Curve, leak: number): number {
  if (open === Number.POSITIVE_INFINITY) return short + rise * leak;
  return knee > 0 && Number.isFinite(knee) ? (open * leak + short * knee) / (leak + knee) : open;
}

/** The leakage at which the loop has so many ohms; `undefined` where none does. */
function leakAt({ open, short, knee, rise }: Curve, ohms: number): number | undefined {
  if (!(ohms > short && ohms < open)) return undefined;
  const leak = open === Number.POSITIVE_INFINITY ? (ohms - short) / rise : (knee * (ohms - short)) / (open - ohms);
  return leak > 0 && Number.isFinite(leak) ? leak : undefined;
}

/** Stretches of leakage between the edges that rest or the case pass, each with what becomes of the event there. */
function windowsAt(
  loop: PlainLoop,
  rest: Curve,
  during: Curve,
  end: End,
  normal: string,
  expected: string,
): readonly { readonly answered: Answered; readonly span: Span }[] {
  const marks = new Set<number>([0, Number.POSITIVE_INFINITY]);
  for (const edge of loop.edges(end)) {
    for (const curve of [rest, during]) {
      const leak = leakAt(curve, edge);
      if (leak !== undefined) marks.add(leak);
    }
  }
  const sorted = [...marks].sort((one, other) => one - other);
  return searchWindows(sorted, normal, expected, (leak) => ({
    rest: loop.classAt(ohmsAt(rest, leak), end),
    during: loop.classAt(ohmsAt(during, leak), end),
  }));
}

/** Leakage that is tried where a loop is more than ohms: so many values a decade, from one ohm to ten megohms. */
const PER_DECADE = 4;
const DECADES = 7;
/** Relative width at which the search for an edge stops. */
const CLOSE = 1e-6;

/** At the zone's own terminals, with the site settled anew for each leakage that is tried; usual figures only. */
function searched(
  site: FaultSite,
  trials: Trials,
  zone: ComponentOf<'zone'>,
  normal: string,
  column: Column,
): readonly LeakageWindow[] {
  const windows: LeakageWindow[] = [];
  for (const { expected, at } of column.events) {
    const known = new Map<number, { readonly rest: string | undefined; readonly during: string | undefined }>();
    const classesAt = (ohms: number) => {
      const made = known.get(ohms) ?? finish(classesWith(trials, zone, column.case, at[0]!, ohms));
      known.set(ohms, made);
      return made;
    };
    const grid = Array.from({ length: PER_DECADE * DECADES + 1 }, (_, i) => 10 ** (i / PER_DECADE));
    const marks = [0, ...edgesBetween(grid, classesAt), Number.POSITIVE_INFINITY];
    for (const { answered, span } of searchWindows(marks, normal, expected, classesAt)) {
      const where = `at ${site.design.terminals[zone.a]!.name}`;
      windows.push({
        case: column.case,
        caseName: column.name,
        expected,
        ...answered,
        where,
        usual: span,
        worst: span,
      });
    }
  }
  return windows;
}

function edgesBetween<T extends object>(grid: readonly number[], read: (ohms: number) => T): readonly number[] {
  const edges: number[] = [];
  const differ = (one: number, other: number) => JSON.stringify(read(one)) !== JSON.stringify(read(other));
  for (let i = 1; i < grid.length; i++) {
    let [low, high] = [grid[i - 1]!, grid[i]!];
    if (!differ(low, high)) continue;
    while (high / low > 1 + CLOSE) {
      const middle = Math.sqrt(low * high);
      if (differ(low, middle)) high = middle;
      else low = middle;
    }
    edges.push(high);
  }
  return edges;
}

function* classesWith(
  trials: Trials,
  zone: ComponentOf<'zone'>,
  index: number,
  instant: number,
  ohms: number,
): Generator<void, { readonly rest: string | undefined; readonly during: string | undefined }> {
  const effect = yield* trials.of({ ...NOTHING_DONE, joins: [{ a: zone.a, b: zone.b, ohms }] });
  const { usual: rest } = yield* effect.readRest(zone);
  const { usual: during } = yield* effect.readCase(zone, index, instant);
  return { rest, during };
}
