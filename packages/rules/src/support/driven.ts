/** Whether something is meant to be on at a moment, as told from what it gets and from the outputs in its circuit. */
import type { Change, ComponentId, Design, Figure, Moment, TerminalId, Value } from '@couplet/engine';
import { ofKind, outputsOf } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
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

/**
 * Volts across a part in the phase in which it is fed. While an output of its circuit pulses, the figures of the moment
 * hold both phases; then the output is taken as closed, and its greatest drop off the least volts.
 */
export function onVolts(
  context: RuleContext,
  at: Instant,
  component: ComponentId,
  a: TerminalId,
  b: TerminalId,
): Figure {
  const pulsing = outputsOf(context.design, component).filter((output) => mayBe(at, output.id, 'pulsing'));
  if (pulsing.length === 0) return at.moment.volts(a, b);
  const closed = at.moment.vary(pulsing.map((output) => ({ sort: 'bridge', component: output.id })));
  const volts = closed.volts(a, b);
  if (volts.sort !== 'value') return volts;
  let drop = 0;
  for (const output of pulsing) {
    const amps = closed.amps(output.id);
    const size = amps.sort === 'value' ? Math.max(Math.abs(amps.least), Math.abs(amps.most)) : 0;
    drop += (output.drop?.most ?? 0) + (output.ohms?.most ?? 0) * size;
  }
  return { ...volts, least: volts.least - drop, usual: volts.usual - drop };
}

const PULSING = new WeakMap<Design, readonly (readonly [ComponentId, ReadonlySet<ComponentId>])[]>();

/** Outputs that pulse at some time, each with what hangs on it. */
function pulsingIn(design: Design): readonly (readonly [ComponentId, ReadonlySet<ComponentId>])[] {
  const kept = PULSING.get(design);
  if (kept !== undefined) return kept;
  const pulsing = new Set<ComponentId>();
  for (const output of ofKind(design, 'output')) if (output.rest.word === 'pulsing') pulsing.add(output.id);
  for (const { steps } of design.cases) {
    for (const step of steps) if (step.sort === 'turn' && step.state === 'pulsing') pulsing.add(step.target);
  }
  const made = [...pulsing].map((id) => [id, downstreamOf(design, id)] as const);
  PULSING.set(design, made);
  return made;
}

/** The moment as it is; or, where an output that the component hangs on pulses, as it is in either phase. */
export function phasesOf(context: RuleContext, at: Instant, component: ComponentId): readonly Moment[] {
  const pulsing = pulsingIn(context.design)
    .filter(([output, reach]) => reach.has(component) && mayBe(at, output, 'pulsing'))
    .map(([output]) => output);
  if (pulsing.length === 0) return [at.moment];
  const all = (sort: 'bridge' | 'remove'): readonly Change[] => pulsing.map((output) => ({ sort, component: output }));
  return [at.moment.vary(all('bridge')), at.moment.vary(all('remove'))];
}
