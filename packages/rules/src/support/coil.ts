/** A coil at its temperature. */
import { type Analysis, type Corner, copperFactor, type Datum, type Relay } from '@couplet/engine';
import type { RuleContext } from '../rule.ts';
import { lacks, restOf } from './instants.ts';

/** Kelvin that a coil warms by when nothing says how much. Common practice, no source. */
const ASSUMED_RISE = 30;

export interface CoilHeat {
  readonly celsius: number;
  /** Ohms and pick-up volts over those at 20 °C. */
  readonly factor: number;
  readonly assumptions: readonly string[];
}

/** Ambient of a component's place, or of the site. */
export function ambientOf(context: RuleContext, relay: Relay): Datum | undefined {
  const place = relay.place === undefined ? undefined : context.design.places[relay.place];
  return place?.ambient ?? context.design.site.ambient;
}

/**
 * The coil at its hottest: the most of the ambient, and its own rise where it is held in at rest.
 * Source: IEC 61810-1 (pick-up at the hot coil); 0.00393/K for copper.
 */
export function hotCoil(context: RuleContext, relay: Relay): CoilHeat | undefined {
  const ambient = ambientOf(context, relay);
  if (ambient === undefined) {
    lacks(context, relay.id, 'ambient');
    return undefined;
  }
  const assumptions = ambient.assumption === undefined ? [] : [ambient.assumption];
  if (!isHeldAtRest(context.analysis, relay)) return heat(ambient.most, assumptions);
  if (relay.rise !== undefined) {
    return heat(ambient.most + relay.rise.most, [...assumptions, ...assumptionOf(relay.rise)]);
  }
  const said = `${relay.name} warms by ${ASSUMED_RISE} °C when held in`;
  return heat(ambient.most + ASSUMED_RISE, [...assumptions, said]);
}

/** The coil at its coldest: unheated at the least of the ambient. */
export function coldCoil(context: RuleContext, relay: Relay): CoilHeat | undefined {
  const ambient = ambientOf(context, relay);
  if (ambient === undefined) {
    lacks(context, relay.id, 'ambient');
    return undefined;
  }
  return heat(ambient.least, assumptionOf(ambient));
}

function heat(celsius: number, assumptions: readonly string[]): CoilHeat {
  return { celsius, factor: copperFactor(celsius), assumptions };
}

export function assumptionOf(datum: Datum | undefined): readonly string[] {
  return datum?.assumption === undefined ? [] : [datum.assumption];
}

function isHeldAtRest(analysis: Analysis, relay: Relay): boolean {
  return restOf(analysis)?.states(relay.id).includes('operated') ?? false;
}

/** Temperature of the coil in a corner: that of its surroundings and its own rise, as far as they moved the figure. */
export function celsiusIn(context: RuleContext, corner: Corner, relay: Relay): number | undefined {
  const around = corner.find((part) => part.unit === 'degC' && part.what.endsWith('ambient'));
  const rise = corner.find((part) => part.unit === 'degC' && part.what.startsWith(relay.name));
  if (around === undefined && rise === undefined) return undefined;
  const ambient = around?.value ?? ambientOf(context, relay)?.usual;
  return ambient === undefined ? undefined : ambient + (rise?.value ?? 0);
}
