/** Terminals that nothing is joined to and that are not marked spare, by what they belong to. */
import type { Component, ComponentId, Design, Origin, TerminalId } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { Rule } from '../rule.ts';
import { spareCure } from './cures.ts';
import { listSome } from './words.ts';

interface Unused {
  readonly owner: Component;
  readonly names: readonly string[];
  readonly concerns: readonly ComponentId[];
}

interface Data {
  readonly owner: string;
  readonly names: readonly string[];
  readonly origin: Origin;
}

/** A rule that lists open terminals of the components of some kinds, one finding for each thing they are a part of. */
export function unusedRule(name: 'pole-unused' | 'terminal-unused', kinds: ReadonlySet<Component['kind']>): Rule {
  return defineRule<Data>({
    name,
    thresholds: [],
    explains: [],
    *find({ design }) {
      if (design.fragment) return;
      for (const { owner, names, concerns } of unusedOf(design, kinds)) {
        yield {
          severity: 'information',
          origin: owner.origin,
          subject: owner.id,
          alsoConcerns: concerns,
          data: { owner: nameOf(design, owner.id), names, origin: owner.origin },
        };
      }
    },
    word({ data }) {
      return `Nothing is joined to ${listSome(data.names)} of ${data.owner}. Wire what is forgotten, and mark the rest: \`spare ${data.names[0]}\`.`;
    },
    cures: ({ data }) => spareCure(data.names, data.origin),
  });
}

/** Open terminals of the components of some kinds, one entry for each thing they are a part of. */
function unusedOf(design: Design, kinds: ReadonlySet<Component['kind']>): readonly Unused[] {
  const wiring = wiringOf(design);
  const spare = new Set<TerminalId>(design.spare);
  const found = new Map<ComponentId, { names: Set<string>; concerns: Set<ComponentId> }>();
  for (const terminal of design.terminals) {
    const component = design.components[terminal.component];
    if (component === undefined || !kinds.has(component.kind)) continue;
    if (wiring.isWired(terminal.id) || spare.has(terminal.id)) continue;
    const owner = component.owner ?? component.id;
    const entry = found.get(owner) ?? { names: new Set(), concerns: new Set() };
    entry.names.add(terminal.name);
    entry.concerns.add(component.id);
    found.set(owner, entry);
  }
  return [...found]
    .sort(([one], [other]) => one - other)
    .map(([owner, { names, concerns }]) => ({
      owner: design.components[owner]!,
      names: [...names],
      concerns: [...concerns],
    }));
}
