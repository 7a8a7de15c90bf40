/** What faults do, as the analysis takes it. */
import { type Doings, NOTHING_DONE, withChanges } from '../analysis/doings.ts';
import type { Design } from '../design/design.ts';
import type { Fault, FaultVariant } from './contract.ts';

export function doingsOf(design: Design, variant: FaultVariant): Doings {
  return withChanges(design, NOTHING_DONE, variant.changes);
}

/** Two faults at once; `undefined` where both change the same part, so that neither stands by itself. */
export function together(design: Design, one: FaultVariant, other: FaultVariant): Doings | undefined {
  const first = doingsOf(design, one);
  const second = doingsOf(design, other);
  for (const part of [...second.altered.keys(), ...second.forced.keys()]) {
    if (first.altered.has(part) || first.forced.has(part)) return undefined;
  }
  return withChanges(design, first, other.changes);
}

/** 'W1.GN shorted to W1.YE at pit', with the end where it matters. */
export function nameOfVariant(fault: Fault, variant: FaultVariant): string {
  return variant.where === undefined || fault.variants.length < 2 ? fault.name : `${fault.name} ${variant.where}`;
}
