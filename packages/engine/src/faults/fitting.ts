/**
 * Fitting errors that commissioning passes: every reading is as predicted, and the loop stands the wrong way all the
 * same. What a service fault does to it then is solved anew: both resistors at the panel's end read exactly right, and
 * a shorted pair leaves the zone normal for ever.
 */
import type { Fault, FaultRow, FaultSpread, FaultVariant, PassedError } from './contract.ts';
import { doingsOf, together } from './effects.ts';
import { cellsOf, type Judged, type Source } from './judged.ts';
import { classOf } from './rows.ts';
import { type Effect, LoopReader, type Trials } from './trials.ts';

/** An error that was passed, while service faults are put on top of it. */
export interface Passed {
  readonly fault: Fault;
  readonly variant: FaultVariant;
  /** Reads the loop with the error in it; absent where the loop is not plain. */
  readonly reader: LoopReader | undefined;
  /** Service faults that are blind with it, each with the case that is lost. */
  readonly blind: Map<Fault, string>;
}

/** Takes note of a zone's row where it is a fitting error of the zone's own loop that reads as predicted. */
export function notePassed(judged: Judged, row: FaultRow, trials: Trials): void {
  const { fault, variant } = row;
  if (fault.group !== 'fitting' || !readsAsPredicted(row, judged)) return;
  const loop = trials.loopOf(judged.zone);
  const island = trials.islandOf(judged.zone.id);
  if (island === undefined || trials.islandOf(fault.component) !== island) return;
  const reader =
    loop === undefined ? undefined : new LoopReader(trials.ground, loop, doingsOf(trials.ground.design, variant));
  judged.passed.push({ fault, variant, reader, blind: new Map() });
}

/** Puts one way in which a service fault can stand on top of every error of the zone that was passed. */
export function* putOnTop(
  judged: Judged,
  fault: Fault,
  variant: FaultVariant,
  effect: Effect,
  trials: Trials,
): Generator<void, void> {
  for (const passed of judged.passed) {
    if (passed.blind.has(fault)) continue;
    const doings = together(trials.ground.design, passed.variant, variant);
    if (doings === undefined) continue;
    const aside = passed.reader === undefined ? undefined : effect.beside(passed.reader);
    let both: Effect | undefined;
    const { zone } = judged;
    const settled = function* () {
      both ??= yield* trials.of(doings);
      return both;
    };
    const source: Source = {
      *readRest() {
        return aside?.readRest() ?? (yield* (yield* settled()).readRest(zone));
      },
      *readCase(index, instant) {
        const read = aside === undefined ? undefined : yield* aside.readCase(index, instant);
        return read ?? (yield* (yield* settled()).readCase(zone, index, instant));
      },
    };
    const { rest, cells } = yield* cellsOf(judged, source);
    const { class: name, caseName } = classOf(rest, cells, judged.columns);
    if (name === 'blind') passed.blind.set(fault, caseName!);
  }
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
function readsAsPredicted(row: FaultRow, { healthy }: Judged): boolean {
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
