/** Confirmations of zones, and outputs that follow what zones, inputs and confirmations say. */
import type { Component, ComponentId, Confirm, Follow, Output } from '@couplet/engine';
import type { Confirm as ConfirmNode } from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';
import { either } from '../values/words.ts';
import { Bag, bodyItems } from './bags.ts';
import type { Cases } from './cases.ts';
import { reportUnknown } from './elements.ts';
import { Facts } from './facts.ts';
import { textOf } from './parts/builder.ts';
import { componentOf, resolve } from './resolve.ts';
import type { Scope } from './scope.ts';
import type { Mutable, Site } from './site.ts';
import { expectsOf } from './states.ts';

/** Makes the component that the name of a confirmation means; without two zones there is nothing to confirm. */
export function confirmation(site: Site, node: ConfirmNode, scope: Scope, cases: Cases): void {
  const named = node.name === undefined ? undefined : scope.names.get(node.name);
  if (named?.sort !== 'confirm' || named.confirm !== node || named.component !== undefined) return;
  const bag = new Bag();
  bag.read(bodyItems(node.body), scope);
  const facts = new Facts(site.reader, bag, 'confirm', site.origins.of(node));
  const zones = zonesOf(site, node, scope);
  named.component = site.component<Confirm>({
    kind: 'confirm',
    name: scope.prefix + node.name,
    description: textOf(node.description),
    origin: facts.origin,
    zones,
    within: cases.datum(node.window, scope, 's'),
    partnerInTrouble: facts.choice<'counts-alone' | 'does-not-count'>('partner-in-trouble'),
  });
}

function zonesOf(site: Site, node: ConfirmNode, scope: Scope): readonly ComponentId[] {
  const zones = new Set<ComponentId>();
  let lost = false;
  for (const reference of node.zones) {
    const target = resolve(site, reference, scope);
    const id = componentOf(target);
    if (id !== undefined && site.components[id]?.kind === 'zone') {
      zones.add(id);
      continue;
    }
    lost = true;
    if (target === undefined) reportUnknown(site, reference, scope);
    else if (target.sort !== 'missing') {
      site.report('zone-needed', reference, `A confirmation counts zones; ${referenceText(reference)} is none.`);
    }
  }
  if (zones.size < 2 && !lost) {
    const message = `${node.name} confirms nothing: it needs two zones that count only together.`;
    site.report('zones-missing', node, message);
  }
  return [...zones];
}

/** What an output follows, once every part that it may name is known. */
export function follow(site: Site, output: ComponentId, facts: Facts): void {
  const entry = facts.bag.get('follows');
  if (entry === undefined) return;
  const follows: Follow[] = [];
  for (const read of facts.values('follows')) {
    if (read.sort !== 'word') continue;
    const target = resolve(site, read.reference, entry.scope);
    const id = componentOf(target);
    if (id === undefined) {
      if (target === undefined) reportUnknown(site, read.reference, entry.scope);
      else if (target.sort !== 'missing') tellFollowed(site, read.node, read.word);
      continue;
    }
    const part = site.components[id] as Component;
    const state = read.state;
    const states = FOLLOWED.has(part.kind) ? expectsOf(part).filter((word) => word !== 'any') : [];
    if (states.length === 0 && part.kind !== 'zone') tellFollowed(site, read.node, read.word);
    else if (state === undefined || (states.length > 0 && !states.includes(state))) {
      const message =
        state === undefined
          ? `Say in which state of ${part.name} the output is on: ${either(states)}.`
          : `${part.name} is never '${state}': write ${either(states)}.`;
      site.report('state-wrong', read.node.state ?? read.node, message);
    } else follows.push({ component: id, word: state, origin: facts.at(read.node) });
  }
  if (follows.length > 0) (site.components[output] as Mutable<Output>).follows = follows;
}

const FOLLOWED: ReadonlySet<Component['kind']> = new Set(['zone', 'input', 'confirm']);

function tellFollowed(site: Site, node: Parameters<Site['report']>[1], name: string): void {
  site.report('follow-wrong', node, `An output follows zones, inputs and confirmations; ${name} is none of them.`);
}
