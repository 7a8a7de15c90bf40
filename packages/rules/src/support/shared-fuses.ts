/** Fuses whose loss takes zones and what sounds their alarm at once, tried by solving without them. */
import type { CaseAnalysis, Component, ComponentId, ComponentOf, Moment } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { turnedIn } from '../circuit/reach.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';
import { casesOf, restOf } from './instants.ts';

export interface SharedFuse {
  readonly fuse: ComponentOf<'fuse'>;
  readonly zones: readonly ComponentOf<'zone'>[];
  readonly sounder: Component;
}

export function* sharedFuses(context: RuleContext): Generator<SharedFuse> {
  const rest = restOf(context.analysis);
  const wiring = wiringOf(context.design);
  if (rest === undefined) return;
  for (const fuse of ofKind(context.design, 'fuse')) {
    if (!wiring.isWired(fuse.a) || !wiring.isWired(fuse.b)) continue;
    const behind = fedThrough(context, fuse);
    const zones = behind.length < 2 ? [] : zonesOf(context, behind);
    if (zones.length === 0) continue;
    const lost = without(rest, fuse.id);
    const dead = zones.filter(({ owner }) => owner !== undefined && isLost(rest, lost, owner));
    if (dead.length === 0) continue;
    const sounder = behind.find((id) => soundsOnlyWith(context, id, fuse.id));
    if (sounder !== undefined) yield { fuse, zones: dead, sounder: context.design.components[sounder]! };
  }
}

/** Wired zones of the units among what a fuse feeds. */
function zonesOf({ design }: RuleContext, fed: readonly ComponentId[]): readonly ComponentOf<'zone'>[] {
  const wiring = wiringOf(design);
  return fed
    .flatMap((id) => componentOf(design, id, 'unit')?.members ?? [])
    .flatMap((id) => componentOf(design, id, 'zone') ?? [])
    .filter((zone) => wiring.isWired(zone.a));
}

/**
 * What copper and contacts feed behind a fuse, in the order of the design, units by their feeds; nothing where a supply
 * stands on both sides of it.
 */
function fedThrough({ design }: RuleContext, fuse: ComponentOf<'fuse'>): readonly ComponentId[] {
  const wiring = wiringOf(design);
  const sides = [fuse.a, fuse.b].map((terminal) => {
    const seen = new Set([wiring.node(terminal)]);
    const fed = new Set<ComponentId>();
    let hasSource = false;
    for (const node of seen) {
      if (hasSource) break;
      for (const part of wiring.partsAt(node)) {
        if (part.component === fuse.id) continue;
        if (part.sort === 'copper' || part.sort === 'contact') seen.add(part.a === node ? part.b : part.a);
        if (part.sort === 'source' && part.a === node) hasSource = true;
        if (part.sort === 'consumer') fed.add(componentOf(design, part.component, 'feed')?.owner ?? part.component);
      }
    }
    return { fed, hasSource };
  });
  const far = sides.filter(({ hasSource }) => !hasSource);
  return far.length === 1 ? [...far[0]!.fed].sort((one, other) => one - other) : [];
}

function without(moment: Moment, fuse: ComponentId): Moment {
  return moment.vary([{ sort: 'remove', component: fuse }]);
}

function isLost(before: Moment, after: Moment, unit: ComponentId): boolean {
  return before.states(unit)[0] !== 'off' && after.states(unit)[0] === 'off';
}

/** A load that is off at rest and on in some case, or a unit that a case turns to a mode; and not without the fuse. */
function soundsOnlyWith({ analysis, design }: RuleContext, id: ComponentId, fuse: ComponentId): boolean {
  const part = design.components[id];
  const cases = casesOf(analysis, id).filter((one) => one.case !== undefined && one.name !== 'rest');
  if (part?.kind === 'load') {
    if (restOf(analysis)!.states(id)[0] === 'on') return false;
    const on = cases.flatMap(({ moments }) => moments).find((moment) => moment.states(id)[0] === 'on');
    return on !== undefined && without(on, fuse).states(id)[0] !== 'on';
  }
  if (part?.kind !== 'unit' || part.modes.length === 0) return false;
  const turned = cases.find((one: CaseAnalysis) => turnedIn(design, one.case!).has(id));
  const moment = turned?.moments.at(-1);
  return moment !== undefined && isLost(moment, without(moment, fuse), id);
}
