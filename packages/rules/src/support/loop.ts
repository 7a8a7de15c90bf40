/** Zones and what is read of them. */
import type { Band, ComponentOf, Moment, Value, Zone, ZoneReading } from '@couplet/engine';
import { componentOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { RuleContext } from '../rule.ts';
import { evaluated, type Instant } from './instants.ts';

export const NORMAL = 'normal';

/** Zones with a wire at their hot terminal. */
export function* wiredZones(context: RuleContext): Generator<Zone> {
  const wiring = wiringOf(context.design);
  for (const zone of ofKind(context.design, 'zone')) if (wiring.isWired(zone.a)) yield zone;
}

/** A class as one word: `alarm`, `alarm+masked`. */
export function className(band: Band): string {
  return band.classes.join('+');
}

/** The band that holds a value: it holds its lower edge and not its upper. */
export function bandAt(zone: Zone, value: number): Band | undefined {
  return (
    zone.scheme?.bands.find(
      (band) => value >= (band.from ?? Number.NEGATIVE_INFINITY) && value < (band.to ?? Number.POSITIVE_INFINITY),
    ) ?? (value === Number.POSITIVE_INFINITY ? zone.scheme?.bands.find((band) => band.to === undefined) : undefined)
  );
}

/** The reading in the unit in which the bands of the zone are given. */
export function measured(context: RuleContext, zone: Zone, reading: ZoneReading): Value | undefined {
  return evaluated(context, zone.id, zone.scheme?.unit === 'V' ? reading.volts : reading.ohms);
}

/** The class that a case expects of a zone at any line, when it names one. */
export function expectedClasses(at: Instant, zone: Zone): readonly string[] {
  const words: string[] = [];
  for (const { expect } of at.of.verdicts) {
    if (expect.subject.sort !== 'component' || expect.subject.component !== zone.id) continue;
    if (expect.predicate.sort === 'state' && expect.predicate.word !== 'any') words.push(expect.predicate.word);
  }
  return words;
}

/** Whether the zone may read normal at a moment, at its usual figures or at a corner. */
export function mayBeNormal(moment: Moment, zone: Zone): boolean {
  return moment.reading(zone.id).possible.includes(NORMAL);
}

export function isNormal(moment: Moment, zone: Zone): boolean {
  return moment.reading(zone.id).usual === NORMAL;
}

export function returnName(context: RuleContext, zone: Zone): string {
  return context.design.terminals[zone.b]?.name ?? 'its return';
}

/** The cable that a core belongs to. */
export function cableOf(context: RuleContext, core: ComponentOf<'core'>): ComponentOf<'cable'> | undefined {
  return componentOf(context.design, core.cable, 'cable');
}
