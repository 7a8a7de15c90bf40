/** The cases that a battery shall carry, as they go while what charges it is lost. */
import type { Case, Step, Turn } from '../design/cases.ts';
import type { ComponentId } from '../design/components.ts';
import { exact, type Origin } from '../design/datum.ts';
import type { Design } from '../design/design.ts';

export interface OnBattery {
  readonly battery: ComponentId;
  /** The written case, or 'rest'. */
  readonly of: string;
  /** Without expectations: they are those of the written case, with its mains. */
  readonly case: Case;
}

/** Sources that charge a battery. */
export function chargersOf(design: Design, battery: ComponentId): readonly ComponentId[] {
  return design.components.flatMap((part) => (part.kind === 'source' && part.charges === battery ? [part.id] : []));
}

/** The name of a case on a battery. Names of cases hold no blank, so that it is nobody else's. */
export function nameOnBattery(caseName: string, battery: string): string {
  return `${caseName} on ${battery}`;
}

/** The written case that a case is, or goes as on a battery. */
export function writtenCase(caseName: string): string {
  return caseName.split(' ')[0]!;
}

/**
 * One case for each that an autonomy carries: everything that charges the battery is turned off at the instant at which
 * the case begins. A battery that nothing charges carries its cases as they are written, and has none.
 */
export function casesOnBattery(design: Design): readonly OnBattery[] {
  const made = new Map<string, OnBattery>();
  for (const { battery, carries } of design.autonomies) {
    const chargers = chargersOf(design, battery);
    if (chargers.length === 0) continue;
    const batteryName = design.components[battery]!.name;
    for (const { caseName, origin } of carries) {
      const name = nameOnBattery(caseName, batteryName);
      if (made.has(name)) continue;
      const lost = chargers.map((target): Turn => ({ sort: 'turn', target, state: 'off', origin }));
      const steps = [...lost, ...stepsOf(design, caseName)];
      made.set(name, { battery, of: caseName, case: { name, steps, origin: originOf(design, caseName, origin) } });
    }
  }
  return [...made.values()];
}

function originOf(design: Design, caseName: string, otherwise: Origin): Origin {
  return design.cases.find(({ name }) => name === caseName)?.origin ?? otherwise;
}

/** Turns and waits of a case and of those that it follows, each run to its end before the next begins. */
function stepsOf(design: Design, caseName: string): readonly Step[] {
  const chain: Case[] = [];
  let at = design.cases.find(({ name }) => name === caseName);
  while (at !== undefined && !chain.includes(at)) {
    chain.unshift(at);
    at = at.after === undefined ? undefined : design.cases[at.after];
  }
  return chain.flatMap((one, index) => {
    const steps = one.steps.filter(({ sort }) => sort !== 'expect');
    const rest = index + 1 === chain.length ? undefined : runOut(steps);
    return rest === undefined ? steps : [...steps, rest];
  });
}

/** A wait in which everything that goes back by itself has done so. */
function runOut(steps: readonly Step[]): Step | undefined {
  const times = steps.flatMap((step) => (step.sort === 'turn' && step.for !== undefined ? [step.for.most] : []));
  const longest = Math.max(0, ...times);
  return longest === 0 ? undefined : { sort: 'wait', seconds: exact(longest), origin: steps.at(-1)!.origin };
}
