/** Loads and feeds of units against the volts they work at: what both ends of the range share. */
import type { ComponentOf, Value } from '@couplet/engine';
import { feedingOf } from '../circuit/feeding.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';
import { isDriven, onVolts } from './driven.ts';
import { evaluated, type Instant, instantsOf, lacks, type Worst, worstOf } from './instants.ts';

export type Fed = ComponentOf<'load'> | ComponentOf<'feed'>;

/** Loads and feeds with a wire at both ends. */
export function* fedParts(context: RuleContext): Generator<Fed> {
  const wiring = wiringOf(context.design);
  for (const component of context.design.components) {
    if (component.kind !== 'load' && component.kind !== 'feed') continue;
    if (wiring.isJoined(component.a, component.id) && wiring.isJoined(component.b, component.id)) yield component;
  }
}

/** The instant at which a part that is on sees its most extreme volts. Undefined where it is never on. */
export function extremeVolts(context: RuleContext, part: Fed, score: (value: Value) => number): Worst | undefined {
  const on = instantsOf(context.analysis, part.id).filter((at) => isOn(context, at, part));
  return worstOf(context, part.id, on, (at) => onVolts(context, at, part.id, part.a, part.b), score);
}

function isOn(context: RuleContext, at: Instant, part: Fed): boolean {
  const volts = evaluated(context, part.id, onVolts(context, at, part.id, part.a, part.b));
  if (volts === undefined) return false;
  return isDriven(context, at, part.id, volts, part.works?.least);
}

/** The range a part works in; a missing one is a gap. */
export function worksOf(
  context: RuleContext,
  part: Fed,
): { readonly least: number; readonly most: number } | undefined {
  if (part.works !== undefined) return part.works;
  lacks(context, part.id, 'works');
  return undefined;
}

/** What feeds a part, by name, with its least and most volts. */
export function sourceBehind(
  context: RuleContext,
  part: Fed | ComponentOf<'relay'>,
): { readonly name: string; readonly least: number; readonly most: number } | undefined {
  const own = wiringOf(context.design).partsOf(part.id)[0];
  if (own === undefined) return undefined;
  const { forward, backward } = feedingOf(context.design).sourcesOf(own);
  for (const id of [...forward, ...backward]) {
    const source = context.design.components[id];
    if (source?.kind === 'source' && source.volts !== undefined) {
      return { name: source.name, least: source.volts.least, most: source.volts.most };
    }
  }
  return undefined;
}
