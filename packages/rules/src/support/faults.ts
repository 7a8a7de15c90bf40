/** The single-fault table of a site, solved once for all rules that ask. */
import { type Design, type FaultTable, faultTable, faultTableSteps } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';

const KEPT = new WeakMap<Design, FaultTable>();

export function faultsOf(design: Design): FaultTable {
  const kept = KEPT.get(design);
  if (kept !== undefined) return kept;
  const made = faultTable(design);
  KEPT.set(design, made);
  return made;
}

/** Solves the faults of a design ahead of the rules, yielding so that the caller may give way or stop. */
export function* solveFaults(design: Design): Generator<void> {
  if (KEPT.has(design) || !asksForFaults(design)) return;
  KEPT.set(design, yield* faultTableSteps(design));
}

/** Whether a zone of the design is wired and some case could change it: nothing else is asked of the table. */
export function asksForFaults(design: Design): boolean {
  const wiring = wiringOf(design);
  return design.cases.length > 0 && ofKind(design, 'zone').some((zone) => wiring.isWired(zone.a));
}
