import { analyse, type Change, type ComponentId, type Design, type Figure, type Moment } from '@couplet/engine';
import { componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { faultClassesOf } from '../support/faults.ts';
import { restOf } from '../support/instants.ts';
import { escapeLocks, heldByCurrent, type Lock, mayHold, putTo, reaches, roleOf, voltsOf } from '../support/locks.ts';
import { whereWired } from '../support/place.ts';
import { list, show } from '../support/words.ts';

interface Data {
  readonly lock: Lock;
  readonly release: string;
  /** 'ctl.Q1 on'; empty: as the site stands at rest. */
  readonly under: string;
  readonly volts: Figure;
}

/** Parts that a controller may put either way; of more than that not every combination is tried. */
const MOST_FREE = 6;
/** Single faults tried on one release and one lock. */
const MOST_FAULTS = 400;

export const releaseCanBeDefeated = defineRule<Data>({
  name: 'release-can-be-defeated',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design } = context;
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    const locks = escapeLocks(design);
    for (const release of releasesOf(design)) {
      const own = locks.filter((lock) => reaches(design, release, lock));
      if (own.length === 0) {
        context.gap({ subject: release, needs: [], reason: 'no load with `role: escape-lock` hangs on it' });
        continue;
      }
      for (const lock of own) {
        const found = heldInSomeState(context, rest, release, lock) ?? heldUnderAFault(context, release, lock);
        if (found === undefined) continue;
        yield {
          severity: 'error',
          origin: whereWired(design, release),
          subject: release,
          alsoConcerns: [lock.id],
          related: [{ origin: lock.origin, message: `${lock.name} may stay locked` }],
          assumptions: [heldByCurrent(lock)],
          data: { lock, release: nameOf(design, release), ...found },
        };
      }
    }
  },
  word({ data }) {
    const { lock, release, under, volts } = data;
    const gets = volts.sort === 'value' ? ` (${show(volts.most, 'V')})` : '';
    return (
      `With ${release} operated${under === '' ? '' : ` and ${under}`}, current still flows in ${lock.name}${gets}: the door stays shut for whoever must leave. ` +
      `The release must itself break the current of the lock, in both its conductors, so that no controller and no single fault is a way around it.`
    );
  },
  figures: ({ data }) => [{ label: `volts at ${data.lock.name}`, figure: data.volts }],
});

/** Switches that release, and those of which a pole does. */
function releasesOf(design: Design): readonly ComponentId[] {
  const found = new Set<ComponentId>();
  for (const component of design.components) {
    if (roleOf(component) !== 'emergency-release') continue;
    if (component.kind === 'contact') found.add(component.driver);
    else if (component.kind === 'switch' || component.kind === 'actuator') found.add(component.id);
  }
  return [...found];
}

/** Its contacts the other way round than when all is well. */
function operated(design: Design, release: ComponentId): readonly Change[] {
  const driver = design.components[release]!;
  const rest = driver.kind === 'switch' || driver.kind === 'actuator' ? driver.rest.word : 'released';
  return putTo(design, release, rest === 'operated' ? 'released' : 'operated');
}

type Held = Pick<Data, 'under' | 'volts'>;

function heldInSomeState(context: RuleContext, rest: Moment, release: ComponentId, lock: Lock): Held | undefined {
  const { design } = context;
  const base = operated(design, release);
  const free = freeParts(design, release, lock);
  const tried = free.slice(0, MOST_FREE);
  if (free.length > tried.length) {
    const reason = `${free.length} outputs and contacts can act on ${lock.name}, more than ${MOST_FREE}: not every combination of them was tried`;
    context.gap({ subject: release, needs: [], reason });
  }
  for (let bits = 0; bits <= 2 ** tried.length; bits += 1) {
    // First as the site stands at rest, then every combination.
    const put = bits === 0 ? [] : tried.map((part, index) => part.ways[((bits - 1) >> index) & 1]!);
    const moment = rest.vary([...base, ...put.flatMap(({ changes }) => changes)]);
    if (mayHold(context, moment, lock) !== true) continue;
    const under = put.length === 0 ? '' : list(put.map(({ says }) => says));
    return { under, volts: voltsOf(moment, lock) };
  }
  return undefined;
}

interface Free {
  readonly ways: readonly { readonly says: string; readonly changes: readonly Change[] }[];
}

/** Outputs, contacts of units and switches that can act on a lock, other releases left out. */
function freeParts(design: Design, release: ComponentId, lock: Lock): readonly Free[] {
  const releases = new Set([release, ...releasesOf(design)]);
  const free: Free[] = [];
  for (const component of design.components) {
    if (releases.has(component.id)) continue;
    if (component.kind !== 'output' && component.kind !== 'actuator' && component.kind !== 'switch') continue;
    if (!reaches(design, component.id, lock)) continue;
    const { id, name } = component;
    if (component.kind === 'output') {
      const way = (word: 'on' | 'off') => ({
        says: `${name} ${word}`,
        changes: [{ sort: 'force', component: id, word }] as const,
      });
      free.push({ ways: [way('off'), way('on')] });
      continue;
    }
    const way = (state: 'operated' | 'released') => ({ says: `${name} ${state}`, changes: putTo(design, id, state) });
    free.push({ ways: [way('released'), way('operated')] });
  }
  return free;
}

function heldUnderAFault(context: RuleContext, release: ComponentId, lock: Lock): Held | undefined {
  const table = faultClassesOf(context.design);
  const { design } = table;
  const near = table.faults.filter(
    (fault) =>
      fault.group === 'service' &&
      [fault.component, fault.other].some((part) => part !== undefined && reaches(design, part, lock)),
  );
  if (near.length > MOST_FAULTS) {
    const reason = `${near.length} single faults can act on ${lock.name}, more than ${MOST_FAULTS}: not every one was tried`;
    context.gap({ subject: release, needs: [], reason });
  }
  // Joins that can be cut are parts of the table's own design, which has to be settled for itself.
  const rest = analyse(design).cases[0]?.moments[0];
  const there = componentOf(design, lock.id, 'load');
  if (rest === undefined || there === undefined) return undefined;
  const base = operated(design, release);
  for (const fault of near.slice(0, MOST_FAULTS)) {
    for (const { changes, where } of fault.variants) {
      const moment = rest.vary([...base, ...changes]);
      if (mayHold(context, moment, there) !== true) continue;
      return { under: `${fault.name}${where === undefined ? '' : ` ${where}`}`, volts: voltsOf(moment, there) };
    }
  }
  return undefined;
}
