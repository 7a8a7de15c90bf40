/**
 * Volts that suppression across a coil holds against its current. Each branch blocks up to its own volts and is a
 * straight line above; branches lie in parallel. Volts count from A2 to A1, currents in the direction of the coil's.
 */

/** Nothing below `volts`, `ohms` above: a diode or clamp has volts, a resistor ohms, ohms 0 holds the volts. */
export interface ClampBranch {
  readonly volts: number;
  readonly ohms: number;
}

/** From `from` amperes upwards, until the next segment: volts + ohms × (i − from). */
export interface LawSegment {
  readonly from: number;
  readonly volts: number;
  readonly ohms: number;
}

/** Rising currents; without a segment nothing carries the current. */
export type SuppressionLaw = readonly LawSegment[];

/** Branches in parallel as one law of volts over current. A branch of infinite volts or ohms carries nothing. */
export function parallelLaw(branches: readonly ClampBranch[]): SuppressionLaw {
  const conducting = branches
    .map(({ volts, ohms }) => ({ volts: Math.max(0, volts), ohms: Math.max(0, ohms) }))
    .filter(({ volts, ohms }) => Number.isFinite(volts) && Number.isFinite(ohms))
    .sort((one, other) => one.volts - other.volts);
  const segments: LawSegment[] = [];
  let amps = 0;
  let reached = 0;
  let siemens = 0;
  for (const { volts, ohms } of conducting) {
    amps += siemens * (volts - reached);
    reached = volts;
    siemens += 1 / ohms;
    const next = { from: amps, volts, ohms: 1 / siemens };
    if (segments.at(-1)?.from === amps) segments.pop();
    segments.push(next);
    if (ohms === 0) break;
  }
  return segments;
}

/** Volts across the suppression at `amps`, Infinity where nothing carries them. */
export function lawVolts(law: SuppressionLaw, amps: number): number {
  const segment = law.findLast(({ from }) => from <= amps);
  if (segment === undefined) return amps > 0 ? Number.POSITIVE_INFINITY : 0;
  // An unlimited current through no ohms stays at the volts.
  return segment.ohms === 0 ? segment.volts : segment.volts + segment.ohms * (amps - segment.from);
}
