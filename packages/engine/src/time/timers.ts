/**
 * Timers: what their supply (A1-A2) and control (B1) are at an instant, and how they stand once everything has run out.
 * A timer whose control is not wired is started by its supply.
 */
import { DEAD, type Decision, type RelayState } from '../analysis/decision.ts';
import type { Ranged } from '../analysis/range.ts';
import { voltsBetween } from '../analysis/readings.ts';
import type { World } from '../analysis/world.ts';
import type { Lack } from '../build/index.ts';
import type { ComponentOf } from '../design/components.ts';

export type Timer = ComponentOf<'relay'> & { readonly timer: NonNullable<ComponentOf<'relay'>['timer']> };

export function isTimer(part: ComponentOf<'relay'>): part is Timer {
  return part.timer !== undefined;
}

/** Whether something is on at the usual figures, and whether every corner agrees. */
export interface Level {
  readonly on: boolean;
  readonly sure: boolean;
  readonly lacks: readonly Lack[];
  readonly reason?: string;
}

export interface TimerInputs {
  readonly supply: Level;
  /** Absent where nothing is wired to the control. */
  readonly control?: Level;
}

/** Share of the lower working volts at which electronics have certainly stopped. Common practice, no source. */
const STOPPED = 0.1;

export function hasControl(timer: Timer, world: World): boolean {
  const { control } = timer.timer;
  return control !== undefined && world.shared.model.isJoined(control);
}

/** `before` says whether each was on before: between the two guarantees it stays as it was. */
export function inputsOf(world: World, timer: Timer, before: { supply: boolean; control: boolean }): TimerInputs {
  const supply = levelOf(timer, voltsBetween(world, timer.coil.a, timer.coil.b), before.supply);
  if (!hasControl(timer, world)) return { supply };
  const { control, controlTo } = timer.timer;
  const volts = voltsBetween(world, control!, controlTo ?? timer.coil.b);
  return { supply, control: levelOf(timer, volts, before.control) };
}

function levelOf(timer: Timer, volts: Ranged, before: boolean): Level {
  if (volts.sort === 'no-connection') return { on: false, sure: true, lacks: [] };
  if (volts.sort === 'unknown') {
    return {
      on: before,
      sure: false,
      lacks: volts.lacks,
      ...(volts.reason === undefined ? {} : { reason: volts.reason }),
    };
  }
  const enough = timer.timer.works?.least ?? timer.operates?.most;
  if (enough === undefined) {
    return { on: before, sure: false, lacks: [{ component: timer.id, property: 'works' }] };
  }
  const none = timer.releases?.least ?? enough * STOPPED;
  const sign = volts.usual < 0 ? -1 : 1;
  const usual = sign * volts.usual;
  const [least, most] = sign > 0 ? [volts.least, volts.most] : [-volts.most, -volts.least];
  const on = before ? usual > none : usual >= enough;
  return { on, sure: on ? least >= enough : most <= none, lacks: [] };
}

/** Whether what starts the timer is there: its supply, and its control where it has one. */
export function isActive({ supply, control }: TimerInputs): boolean {
  return supply.on && (control?.on ?? true);
}

/** Where the contacts stand that do not act late. */
export function earlyState(inputs: TimerInputs): RelayState {
  return isActive(inputs) ? 'operated' : 'released';
}

/** What keeps a timer from being judged: an input that is not known, or its time. */
export function unknownOf({ supply, control }: TimerInputs): Pick<Decision, 'lacks' | 'reason'> {
  const lacks = [...supply.lacks, ...(control?.lacks ?? [])];
  const reason = supply.reason ?? control?.reason;
  return { lacks, ...(reason === undefined ? {} : { reason }) };
}

/** How a timer stands once everything has run out, its inputs being as they are. */
export function steadyTimer(world: World, timer: Timer, before: Decision): Decision {
  const was = before.early === 'operated' || before.usual === 'operated';
  const inputs = inputsOf(world, timer, { supply: was, control: was });
  const unknown = unknownOf(inputs);
  if (unknown.lacks.length > 0 || unknown.reason !== undefined) return { ...before, ...unknown };
  return { ...steadyDecision(timer, inputs), early: earlyState(inputs) };
}

function steadyDecision(timer: Timer, inputs: TimerInputs): Decision {
  const active = isActive(inputs);
  const sure = inputs.supply.sure && (inputs.control?.sure ?? true);
  const word = timer.timer.function.word;
  if (word === 'one-shot') return DEAD;
  if (word === 'pulsing' && active) return { usual: 'operated', possible: ['operated', 'released'], lacks: [] };
  const usual: RelayState = active ? 'operated' : 'released';
  const other: RelayState = active ? 'released' : 'operated';
  return { usual, possible: sure ? [usual] : [usual, other], lacks: [] };
}
