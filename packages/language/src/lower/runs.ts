/**
 * Which way round a chain meets each core. A core goes from place to place, so the place on one side settles the other;
 * what one core settles may settle the next. Sweeps go on, forwards and backwards, while they settle something.
 */
import type { PlaceId, TerminalId } from '@couplet/engine';
import { isWordTerm } from '../generated/ast.ts';
import type { Chain } from './chains.ts';
import type { CoreElement, Element } from './elements.ts';
import type { CoreLine, CorePiece, Part } from './part.ts';
import { resolve } from './resolve.ts';
import type { Site } from './site.ts';

/** Where a chain enters a core and where it leaves it. */
export interface Run {
  readonly enter: readonly TerminalId[];
  readonly leave: readonly TerminalId[];
  /** Ends that are joined on the way: at places where the cable goes on. */
  readonly between: readonly (readonly [TerminalId, TerminalId])[];
}

interface Open {
  readonly chain: Chain;
  readonly index: number;
  readonly element: Extract<Element, CoreElement>;
}

export function settleCores(site: Site, chains: readonly Chain[]): Map<Element, Run> {
  const runs = new Map<Element, Run>();
  const bare = new Set<Part>();
  let open: Open[] = [];
  for (const chain of chains) {
    chain.elements.forEach((element, index) => {
      if (element.sort === 'core') open.push({ chain, index, element });
    });
  }
  for (let settled = true; settled && open.length > 0; ) {
    const left = open.filter((each) => !settle(site, each, runs));
    settled = left.length < open.length;
    open = left.reverse();
  }
  for (const each of open) settleUnplaced(site, each, runs, bare);
  return runs;
}

/** Settles one core where the places allow it; also where they contradict it, which is told. */
function settle(site: Site, open: Open, runs: Map<Element, Run>): boolean {
  const { element } = open;
  const places = placesOf(element.lines[0] as CoreLine);
  if (places === undefined) return false;
  const left = site.spots.place(element.left);
  const right = site.spots.place(element.right);
  const from = left ?? (right === undefined ? undefined : otherOf(places, right));
  const to = right ?? (left === undefined ? undefined : otherOf(places, left));
  if (from === undefined && to === undefined) return false;
  const outside = [left, right].some((place) => place !== undefined && !places.includes(place));
  if (outside || (from !== undefined && from === to)) {
    reportContradiction(site, open, places, left, right);
    runs.set(element, alongCable(element));
    return true;
  }
  if (from === undefined || to === undefined) return false;
  site.spots.unite(element.left, site.spots.at(from));
  site.spots.unite(element.right, site.spots.at(to));
  runs.set(element, runBetween(element, places, from, to));
  return true;
}

/** The places of a cable in their order, or undefined where one is missing. */
function placesOf(line: CoreLine): PlaceId[] | undefined {
  const places = [line.pieces[0]?.from, ...line.pieces.map((piece) => piece.to)];
  return places.some((place) => place === undefined) || places.length < 2 ? undefined : (places as PlaceId[]);
}

/** The other end of a cable with two ends. */
function otherOf(places: readonly PlaceId[], place: PlaceId): PlaceId | undefined {
  if (places.length !== 2) return undefined;
  return places[0] === place ? places[1] : places[0];
}

function runBetween(element: CoreElement, places: readonly PlaceId[], from: PlaceId, to: PlaceId): Run {
  const start = places.indexOf(from);
  const end = places.indexOf(to);
  const forwards = start < end;
  const enter: TerminalId[] = [];
  const leave: TerminalId[] = [];
  const between: (readonly [TerminalId, TerminalId])[] = [];
  for (const line of element.lines) {
    const pieces = line.pieces.slice(Math.min(start, end), Math.max(start, end));
    const met = forwards ? pieces : [...pieces].reverse();
    enter.push(firstMet(met[0] as CorePiece, forwards));
    leave.push(lastMet(met.at(-1) as CorePiece, forwards));
    for (let i = 1; i < met.length; i++) {
      between.push([lastMet(met[i - 1] as CorePiece, forwards), firstMet(met[i] as CorePiece, forwards)]);
    }
  }
  return { enter, leave, between };
}

function firstMet(piece: CorePiece, forwards: boolean): TerminalId {
  return forwards ? piece.first : piece.second;
}

function lastMet(piece: CorePiece, forwards: boolean): TerminalId {
  return forwards ? piece.second : piece.first;
}

/** From the cable's first end to its last, where nothing says otherwise. */
function alongCable(element: CoreElement): Run {
  const enter = element.lines.map((line) => line.pieces[0]?.first as TerminalId);
  const leave = element.lines.map((line) => line.pieces.at(-1)?.second as TerminalId);
  const between = element.lines.flatMap((line) =>
    line.pieces.slice(1).map((piece, i) => [line.pieces[i]?.second as TerminalId, piece.first] as const),
  );
  return { enter, leave, between };
}

/** A core whose ends no place tells apart. It is taken along the chain, so that everything else can be judged. */
function settleUnplaced(site: Site, open: Open, runs: Map<Element, Run>, bare: Set<Part>): void {
  const { element, chain, index } = open;
  const line = element.lines[0] as CoreLine;
  runs.set(element, metAtSecond(site, element) ? against(alongCable(element)) : alongCable(element));
  const cable = line.cable;
  site.origins.within(chain.scope.use, () => {
    if (placesOf(line) === undefined) {
      if (bare.has(cable)) return;
      bare.add(cable);
      reportBare(site, cable, line);
      return;
    }
    const [before, after] = neighbours(chain, index);
    if (before?.sort === 'gap' || after?.sort === 'gap' || before === undefined || after === undefined) return;
    const unplaced = [
      site.spots.place(element.left) === undefined ? `${before.name} before it` : '',
      site.spots.place(element.right) === undefined ? `${after.name} after it` : '',
    ].filter((each) => each !== '');
    const none =
      unplaced.length === 2 ? `neither ${unplaced.join(' nor ')} has a place` : `${unplaced[0]} has no place`;
    const message = `Which way round ${element.name} is met cannot be told: ${none}. Give one of them its place, or name the end: ${element.name}.${endName(site, line)}.`;
    site.report('core-end-undecided', element.node, message, {
      related: [
        { node: before.node, message: `${before.name} stands before it.` },
        { node: after.node, message: `${after.name} stands after it.` },
      ],
    });
  });
}

/** Where one end of a cable has a place, that end still tells which way round a core is met. */
function metAtSecond(site: Site, { lines, left, right }: CoreElement): boolean {
  const pieces = lines[0]?.pieces ?? [];
  const from = pieces[0]?.from;
  const to = pieces.at(-1)?.to;
  if (from !== undefined && site.spots.place(right) === from) return true;
  return to !== undefined && site.spots.place(left) === to;
}

function against(run: Run): Run {
  return { enter: run.leave, leave: run.enter, between: run.between };
}

/** A cable of which an end has no place: it is not given, or what it names has none. */
function reportBare(site: Site, cable: Part, line: CoreLine): void {
  const ends = { from: line.pieces[0]?.from, to: line.pieces.at(-1)?.to };
  const bare = (['from', 'to'] as const).filter((name) => ends[name] === undefined);
  const missing = bare.filter((name) => cable.bag.get(name) === undefined);
  if (cable.bag.get('legs') !== undefined) return;
  if (missing.length > 0) {
    const needs = missing.map((name) => `'${name}'`).join(' and ');
    const them = missing.length === 1 ? 'it' : 'them';
    const message = `${cable.name} needs ${needs}: without ${them} an end of its cores has no place.`;
    site.report('cable-ends-missing', cable.node, message, { severity: 'warning' });
    return;
  }
  for (const name of bare) {
    const entry = cable.bag.get(name);
    const named = entry?.values[0]?.terms[0];
    if (entry === undefined || !isWordTerm(named)) continue;
    const target = resolve(site, named.reference, entry.scope);
    if (target === undefined || target.sort === 'missing') continue;
    const message = `'${name}' of ${cable.name} has no place: ${named.$cstNode?.text} says none. Name a place, or give it one.`;
    site.report('cable-ends-missing', entry.node, message, { severity: 'warning' });
  }
}

function endName(site: Site, line: CoreLine): string {
  const place = line.pieces[0]?.from;
  return place === undefined ? 'PLACE' : (site.places[place]?.name ?? 'PLACE');
}

function neighbours(chain: Chain, index: number): [Element | undefined, Element | undefined] {
  return [chain.elements[index - 1], chain.elements[index + 1]];
}

function reportContradiction(
  site: Site,
  { chain, index, element }: Open,
  places: readonly PlaceId[],
  left: PlaceId | undefined,
  right: PlaceId | undefined,
): void {
  const [before, after] = neighbours(chain, index);
  const name = (place: PlaceId) => site.places[place]?.name ?? '';
  const runs = `${element.lines[0]?.cable.name} runs ${places.length === 2 ? 'from' : 'by'} ${places.map(name).join(' to ')}`;
  const says = [
    left === undefined || before === undefined ? '' : `${before.name} before ${element.name} is in ${name(left)}`,
    right === undefined || after === undefined ? '' : `${after.name} after it is in ${name(right)}`,
  ].filter((each) => each !== '');
  const related = [before, after].flatMap((each, i) => {
    const place = i === 0 ? left : right;
    return each === undefined || place === undefined
      ? []
      : [{ node: each.node, message: `${each.name} is in ${name(place)}.` }];
  });
  site.origins.within(chain.scope.use, () => {
    site.report('core-places-contradict', element.node, `${runs}, but ${says.join(' and ')}.`, { related });
  });
}
