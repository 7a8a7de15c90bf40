/**
 * Where a reference leads among the parts of the design. A name that leads nowhere is left to the linker, which tells it at
 * its place; here it gives `undefined`.
 */
import type { ComponentId, PlaceId, TerminalId } from '@couplet/engine';
import { isWordTerm, type Reference, type Step, type Value } from '../generated/ast.ts';
import type { CoreLine, Part, Pass, Point } from './part.ts';
import type { Named, Scope } from './scope.ts';
import type { Site } from './site.ts';

export type Target =
  | { readonly sort: 'part'; readonly part: Part }
  /** A name within a part. */
  | { readonly sort: 'point'; readonly part: Part; readonly name: string; readonly point: Point }
  /** Two terminals of a part; `pass` is absent where nothing of the part lies between them. */
  | {
      readonly sort: 'pole';
      readonly part: Part;
      readonly name: string;
      readonly pass: Pass | undefined;
      readonly backwards: boolean;
    }
  /** One core, or several in parallel. */
  | { readonly sort: 'core'; readonly lines: readonly CoreLine[]; readonly name: string }
  | { readonly sort: 'core end'; readonly lines: readonly CoreLine[]; readonly place: PlaceId; readonly name: string }
  | { readonly sort: 'place'; readonly id: PlaceId }
  | { readonly sort: 'earth' }
  /** Behind a given that is not given. */
  | { readonly sort: 'missing' }
  | { readonly sort: 'other'; readonly named: Named };

/** How often one given may lead to another. */
const MOST_STEPS = 32;

export function resolve(site: Site, reference: Reference | undefined, scope: Scope, depth = 0): Target | undefined {
  const head = reference?.head?.$refText;
  if (reference === undefined || head === undefined || depth > MOST_STEPS) return undefined;
  const named = scope.find(head);
  let target = named === undefined ? builtIn(head) : targetOf(site, named, depth);
  for (const step of reference.steps) {
    if (target === undefined) return undefined;
    target = stepInto(site, target, step, scope, depth);
  }
  return target;
}

/** The component that a reference means where a component is asked for. */
export function thingAt(site: Site, reference: Reference | undefined, scope: Scope): ComponentId | undefined {
  return componentOf(resolve(site, reference, scope));
}

export function componentOf(target: Target | undefined): ComponentId | undefined {
  if (target === undefined) return undefined;
  switch (target.sort) {
    case 'part':
      return target.part.id;
    case 'point':
      return target.point.component;
    case 'pole':
      return target.pass?.component;
    case 'core':
    case 'core end':
      return target.lines[0]?.pieces[0]?.component;
    case 'other':
      return target.named.sort === 'confirm' ? target.named.component : undefined;
    default:
      return undefined;
  }
}

/** The one terminal that a target means. */
export function terminalOf(site: Site, target: Target | undefined): TerminalId | undefined {
  if (target === undefined) return undefined;
  if (target.sort === 'point') return target.point.terminal;
  if (target.sort === 'earth') return site.earthTerminal();
  if (target.sort === 'core end') return endsAt(target.lines[0], target.place)[0];
  if (target.sort !== 'part' || target.part.alone === undefined) return undefined;
  return 'terminal' in target.part.alone ? target.part.alone.terminal : undefined;
}

/** The ends of a core at a place: two where a cable with several legs goes on from there. */
export function endsAt(line: CoreLine | undefined, place: PlaceId): TerminalId[] {
  return (line?.pieces ?? []).flatMap((piece) => [
    ...(piece.from === place ? [piece.first] : []),
    ...(piece.to === place ? [piece.second] : []),
  ]);
}

/** The place that a value names: itself, or that of the component or member that it names. */
export function placeOfValue(site: Site, value: Value, scope: Scope): PlaceId | undefined {
  const term = value.terms[0];
  if (!isWordTerm(term)) return undefined;
  return placeOf(site, resolve(site, term.reference, scope));
}

export function placeOf(site: Site, target: Target | undefined): PlaceId | undefined {
  if (target === undefined) return undefined;
  if (target.sort === 'place') return target.id;
  if (target.sort === 'core end') return target.place;
  if (target.sort === 'other') return target.named.sort === 'space' ? target.named.place : undefined;
  if (target.sort === 'core' || target.sort === 'earth' || target.sort === 'missing') return undefined;
  return site.spots.place(target.part.spot);
}

function builtIn(name: string): Target | undefined {
  return name === 'earth' ? { sort: 'earth' } : undefined;
}

function targetOf(site: Site, named: Named, depth: number): Target | undefined {
  switch (named.sort) {
    case 'part':
      return { sort: 'part', part: named.part };
    case 'place':
      return { sort: 'place', id: named.id };
    case 'missing':
      return { sort: 'missing' };
    case 'alias':
      return resolve(site, named.reference, named.scope, depth + 1);
    default:
      return { sort: 'other', named };
  }
}

function stepInto(site: Site, target: Target, step: Step, scope: Scope, depth: number): Target | undefined {
  const names = step.parts.map((part) => part.$refText);
  const name = names.join('-');
  switch (target.sort) {
    case 'other': {
      if (target.named.sort !== 'space') return undefined;
      const inner = target.named.scope.names.get(name);
      return inner === undefined ? undefined : targetOf(site, inner, depth);
    }
    case 'part':
      return withinPart(target.part, names, name, step);
    case 'point': {
      const { returns } = target.point;
      if (name !== 'return' || returns === undefined) return undefined;
      return { sort: 'point', part: target.part, name: `${target.name}.return`, point: { terminal: returns } };
    }
    case 'core': {
      const place = placeOf(site, placeTarget(site, name, scope, depth));
      return place === undefined ? undefined : { ...target, sort: 'core end', place, name: `${target.name}.${name}` };
    }
    case 'missing':
      return target;
    default:
      return undefined;
  }
}

function placeTarget(site: Site, name: string, scope: Scope, depth: number): Target | undefined {
  const named = scope.find(name);
  return named === undefined ? undefined : targetOf(site, named, depth);
}

function withinPart(part: Part, names: readonly string[], name: string, step: Step): Target | undefined {
  const point = pointOf(part, name);
  const full = `${part.name}.${name}`;
  if (point?.core !== undefined) return coresOf(part, point.core, step, full);
  if (point?.pass !== undefined && point.terminal === undefined && names.length > 1) {
    return { sort: 'pole', part, name: full, pass: point.pass, backwards: false };
  }
  if (point !== undefined) return { sort: 'point', part, name: full, point };
  for (let cut = 1; cut < names.length; cut++) {
    const first = pointOf(part, names.slice(0, cut).join('-'))?.terminal;
    const second = pointOf(part, names.slice(cut).join('-'))?.terminal;
    if (first !== undefined && second !== undefined) return poleOf(part, full, first, second);
  }
  return undefined;
}

function pointOf(part: Part, name: string): Point | undefined {
  const point = part.points.get(name);
  if (point !== undefined) return point;
  const make = part.extra?.get(name);
  return make === undefined ? undefined : { terminal: make() };
}

function coresOf(part: Part, first: CoreLine, step: Step, full: string): Target | undefined {
  const lines = [first];
  for (const doubled of step.doubled) {
    const line = part.points.get(doubled.$refText)?.core;
    if (line === undefined) return undefined;
    lines.push(line);
  }
  return { sort: 'core', lines, name: [full, ...lines.slice(1).map((line) => line.name)].join('+') };
}

function poleOf(part: Part, name: string, first: TerminalId, second: TerminalId): Target {
  for (const { pass } of part.points.values()) {
    if (pass?.first === first && pass.second === second) return { sort: 'pole', part, name, pass, backwards: false };
    if (pass?.first === second && pass.second === first) return { sort: 'pole', part, name, pass, backwards: true };
  }
  return { sort: 'pole', part, name, pass: undefined, backwards: false };
}
