/**
 * Fitting errors that commissioning passes: every reading is as predicted, and the loop stands the wrong way all the
 * same. What a service fault does to it then is solved anew: both resistors at the panel's end read exactly right, and
 * a shorted pair leaves the zone normal for ever.
 */
import type { Fault, FaultRow, FaultSpread, FaultVariant, PassedError } from './contract.ts';
import { doingsOf, together } from './effects.ts';
import { cellsOf, type Judged } from './judged.ts';
import { classOf } from './rows.ts';
import type { Trials } from './trials.ts';

/** An error that was passed, while service faults are put on top of it. */
export interface Passed {
  readonly fault: Fault;
  readonly variant: FaultVariant;
  /** Service faults that are blind with it, each with the case that is lost. */
  readonly blind: Map<Fault, string>;
}

/** Takes note of a zone's row where it is a fitting error of the zone's own loop that reads as predicted. */
export function notePassed(judged: Judged, { fault, variant, ...row }: FaultRow): void {
  if (fault.group !== 'fitting' || !judged.loop.has(fault.component) || !readsAsPredicted(row, judged)) return;
  judged.passed.push({ fault, variant, blind: new Map() });
}

/**
 * Puts one way in which a service fault of the zone's own loop can stand on top of every error that was passed. What
 * drives the contacts of the loop is not asked: they are moved in either case.
 */
export function* putOnTop(judged: Judged, row: FaultRow, trials: Trials): Generator<void, void> {
  if (judged.passed.length === 0 || hardlyMoves(row, judged)) return;
  const { fault, variant } = row;
  if (!judged.loop.isTouched(doingsOf(trials.ground.design, variant))) return;
  for (const passed of judged.passed) {
    if (passed.blind.has(fault)) continue;
    const doings = together(trials.ground.design, passed.variant, variant);
    if (doings === undefined) continue;
    const effect = trials.within(doings) ?? (yield* trials.of(doings));
    // What is announced at rest is not blind, whatever the cases say.
    const { rest, cells } = cellsOf(judged, effect, ({ answer }) => answer === 'announced');
    const { class: name, caseName } = classOf(rest, cells, judged.columns);
    effect.forget();
    if (name === 'blind') passed.blind.set(fault, caseName!);
  }
}

/** Share of a reading by which the fault of another loop may move it through a common return. */
const HARDLY = 0.02;

/** A fault that lies elsewhere: the zone answers as it should, with next to the same readings. */
function hardlyMoves(row: FaultRow, { healthy }: Judged): boolean {
  if (row.class !== 'quiet') return false;
  return [row.rest, ...row.cells].every(({ ohms }, i) => {
    const sound = (i === 0 ? healthy.rest : healthy.cells[i - 1]!).ohms;
    if (ohms === undefined || sound === undefined) return ohms === sound;
    return ohms.usual === sound.usual || Math.abs(ohms.usual - sound.usual) <= HARDLY * sound.usual;
  });
}

/** The errors of a zone that were passed, each with the service faults that are blind with it and not without. */
export function passedErrors({ passed, rows }: Judged): readonly PassedError[] {
  const blindAnyway = new Set(rows.filter((row) => row.class === 'blind').map(({ fault }) => fault));
  return passed.map(({ fault, blind }) => ({
    fault,
    newlyBlind: [...blind]
      .filter(([other]) => !blindAnyway.has(other))
      .map(([other, caseName]) => ({ fault: other, caseName })),
  }));
}

/** What commissioning can tell: the class, and ohms beyond parts' tolerance and some room for joints. */
function readsAsPredicted(row: Pick<FaultRow, 'rest' | 'cells'>, { healthy }: Judged): boolean {
  return [row.rest, ...row.cells].every((cell, i) => {
    const wanted = i === 0 ? healthy.rest : healthy.cells[i - 1]!;
    return cell.usual === wanted.usual && fits(cell.ohms, wanted.ohms);
  });
}

/** Ohms of joints and of the meter's leads that a reading is allowed beyond the parts' tolerance; common practice. */
const JOINTS = 1;

function fits(read: FaultSpread | undefined, wanted: FaultSpread | undefined): boolean {
  if (read === undefined || wanted === undefined) return read === wanted;
  if (read.usual === wanted.usual) return true;
  return read.usual >= wanted.least - JOINTS && read.usual <= wanted.most + JOINTS;
}
