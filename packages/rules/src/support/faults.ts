/** The single-fault table of a site, solved once for all rules that ask. */
import { type Design, type FaultTable, type FaultTableOptions, faultTable, faultTableSteps } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { isDamp } from './damp.ts';

const WHOLE = new WeakMap<Design, FaultTable>();
const CLASSES = new WeakMap<Design, FaultTable>();

/** Every cell of the table, for those who show it. */
export function faultsOf(design: Design): FaultTable {
  const kept = WHOLE.get(design);
  if (kept !== undefined) return kept;
  const made = faultTable(design);
  WHOLE.set(design, made);
  return made;
}

/** As `faultsOf`, ahead of it, yielding so that the caller may give way or stop. */
export function* solveAllFaults(design: Design): Generator<void> {
  if (!WHOLE.has(design)) WHOLE.set(design, yield* faultTableSteps(design));
}

/** Every class of the table and what it hangs on, which is all that rules judge by; see `FaultTableOptions.classesOnly`. */
export function faultClassesOf(design: Design): FaultTable {
  const kept = WHOLE.get(design) ?? CLASSES.get(design);
  if (kept !== undefined) return kept;
  const made = faultTable(design, judging(design));
  CLASSES.set(design, made);
  return made;
}

/** Solves what rules ask of the faults of a design ahead of them, yielding so that the caller may give way or stop. */
export function* solveFaults(design: Design): Generator<void> {
  if (WHOLE.has(design) || CLASSES.has(design) || !asksForFaults(design)) return;
  CLASSES.set(design, yield* faultTableSteps(design, judging(design)));
}

/** Leakage is judged where it is to be expected. */
function judging(design: Design): FaultTableOptions {
  return { classesOnly: true, leakageAt: (zone) => isDamp(design, componentOf(design, zone, 'zone')!) };
}

/** Whether a zone of the design is wired and some case could change it: nothing else is asked of the table. */
export function asksForFaults(design: Design): boolean {
  const wiring = wiringOf(design);
  return design.cases.length > 0 && ofKind(design, 'zone').some((zone) => wiring.isWired(zone.a));
}
