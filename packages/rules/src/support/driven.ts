/** Whether something is meant to be on at a moment, as told from what it gets and from the outputs in its circuit. */
import type { ComponentId, Value } from '@couplet/engine';
import { outputsOf } from '../circuit/circuits.ts';
import type { RuleContext } from '../rule.ts';
import { type Instant, mayBe } from './instants.ts';

/** Above this share of its full volts a part is on, whatever its outputs are said to do. */
const PLAINLY_ON = 0.3;
/** Below this share it gets nothing that could be meant. */
const PLAINLY_OFF = 0.05;

/**
 * True when the part is driven: it gets a good share of its full volts, or it gets a little and no output in its
 * circuit is off. What an output that is off lets through is leakage and is another rule's concern.
 * @param full Volts that it shall get; unknown: only the outputs decide.
 */
export function isDriven(
  context: RuleContext,
  at: Instant,
  component: ComponentId,
  volts: Value,
  full: number | undefined,
): boolean {
  const got = Math.abs(volts.usual);
  if (full !== undefined && got >= PLAINLY_ON * full) return true;
  if (got < PLAINLY_OFF * (full ?? 1)) return false;
  return outputsOf(context.design, component).every((output) => mayBe(at, output.id, 'on', 'pulsing'));
}

/** Outputs in the circuit of a part, all of which are off at the moment; empty where one is on or there is none. */
export function idleOutputs(context: RuleContext, at: Instant, component: ComponentId): readonly ComponentId[] {
  const outputs = outputsOf(context.design, component);
  const idle = outputs.every((output) => isOnly(at.moment.states(output.id), 'off'));
  return idle ? outputs.map((output) => output.id) : [];
}

/** A part of which the state is not known is in none. */
function isOnly(states: readonly string[], word: string): boolean {
  return states.length === 1 && states[0] === word;
}
