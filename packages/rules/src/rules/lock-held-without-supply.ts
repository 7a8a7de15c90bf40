import type { Change, ComponentId, Figure } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { polesOf } from '../circuit/systems.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { type Instant, instantsOf } from '../support/instants.ts';
import { escapeLocks, heldByCurrent, type Lock, mayHold, reaches, voltsOf } from '../support/locks.ts';
import { whereWired } from '../support/place.ts';
import { list, show, when } from '../support/words.ts';

interface Data {
  readonly lock: Lock;
  readonly lost: readonly string[];
  readonly volts: Figure;
  readonly at: Instant;
}

export const lockHeldWithoutSupply = defineRule<Data>({
  name: 'lock-held-without-supply',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design, analysis } = context;
    for (const lock of escapeLocks(design)) {
      const supplies = suppliesOf(context).filter((parts) => parts.some((part) => reaches(design, part, lock)));
      for (const parts of supplies) {
        const lost: readonly Change[] = parts.map((component) => ({ sort: 'force', component, word: 'off' }));
        const held = instantsOf(analysis, lock.id)
          .filter(({ moment }) => mayHold(context, moment, lock) !== false)
          .map((at) => ({ at, without: at.moment.vary(lost) }))
          .find(({ without }) => mayHold(context, without, lock) === true);
        if (held === undefined) continue;
        const named = parts.filter((part) => design.components[part]?.kind === 'source');
        yield {
          severity: 'error',
          origin: whereWired(design, lock.id, lock.a),
          subject: lock.id,
          alsoConcerns: parts,
          caseName: held.at.of.name,
          assumptions: [heldByCurrent(lock)],
          data: {
            lock,
            lost: (named.length === 0 ? parts : named).map((part) => nameOf(design, part)),
            volts: voltsOf(held.without, lock),
            at: held.at,
          },
        };
        break;
      }
    }
  },
  word({ data }) {
    const { lock, lost, volts, at } = data;
    const gets = volts.sort === 'value' ? ` with ${show(volts.most, 'V')}` : '';
    return (
      `With ${list(lost)} lost, ${lock.name} may stay locked${gets} ${when(at)}: whoever must leave finds a shut door, and what should open it has no supply. ` +
      `Let the current of the lock run over a contact that falls open with every supply that opening depends on, or feed the lock from that supply.`
    );
  },
  figures: ({ data }) => [{ label: `volts at ${data.lock.name}`, figure: data.volts }],
});

/** What is lost at once: all sources of a system with the units that they belong to, and each unit fed by none. */
function suppliesOf({ design }: RuleContext): readonly (readonly ComponentId[])[] {
  const systems = new Map<ComponentId, Set<ComponentId>>();
  const placed = new Set<ComponentId>();
  for (const { component, system } of polesOf(design)) {
    const part = design.components[component];
    if (part?.kind !== 'source') continue;
    const parts = systems.get(system) ?? new Set();
    for (const id of [part.id, ...(part.owner === undefined ? [] : [part.owner])]) {
      parts.add(id);
      placed.add(id);
    }
    systems.set(system, parts);
  }
  const alone = ofKind(design, 'unit').filter((unit) => !placed.has(unit.id));
  return [...[...systems.values()].map((parts) => [...parts]), ...alone.map((unit) => [unit.id])];
}
