/** What keeps the stored energy of a coil from harming what switches it. */
import type { ComponentId, Design, Origin, Output, Suppressor } from '@couplet/engine';
import { circuitComponents, circuitOf } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { show } from './words.ts';

/** Forward volts of a suppression diode at switch-off. Textbook value of a silicon diode at some current. */
const DIODE_VOLTS = 1;

export interface Clamp {
  /** Volts that the suppression adds to the supply at what switches it off. */
  readonly volts: number;
  readonly name: string;
  readonly says: string;
  readonly origin: Origin;
  readonly assumptions: readonly string[];
}

/** The greatest volts that suppression in the circuit of an output adds when it switches off. */
export function clampOf(design: Design, output: Output): Clamp | undefined {
  let most: Clamp | undefined;
  for (const id of circuitComponents(design, output.id)) {
    const component = design.components[id];
    if (component?.kind !== 'relay' && component?.kind !== 'load') continue;
    const clamp = clampAt(design, id, component.name, component.suppressor);
    if (clamp !== undefined && clamp.volts > (most?.volts ?? 0)) most = clamp;
  }
  return most;
}

function clampAt(design: Design, id: ComponentId, name: string, built: Suppressor | undefined): Clamp | undefined {
  const clamps: Clamp[] = [];
  const origin = built?.origin ?? -1;
  if (built?.sort === 'diode') {
    clamps.push({
      volts: DIODE_VOLTS,
      name,
      says: `${name} is suppressed by a diode`,
      origin,
      assumptions: [],
    });
  }
  if ((built?.sort === 'zener' || built?.sort === 'varistor') && built.volts !== undefined) {
    const says = `${name} is suppressed at ${show(built.volts.most, 'V')}`;
    clamps.push({ volts: built.volts.most, name, says, origin, assumptions: [] });
  }
  for (const diode of diodesAcross(design, id)) {
    const part = design.components[diode];
    if (part?.kind !== 'diode') continue;
    const says = `${part.name} is fitted across ${name}`;
    clamps.push({ volts: part.drop.most, name: part.name, says, origin: part.origin, assumptions: [] });
  }
  // The lowest clamp across a coil takes the current.
  return clamps.sort((one, other) => one.volts - other.volts)[0];
}

/** Diodes whose two ends are the two ends of a component's coil or load, whichever way round. */
export function diodesAcross(design: Design, component: ComponentId): readonly ComponentId[] {
  const found: ComponentId[] = [];
  for (const [from, to] of coilEnds(design, component)) {
    for (const near of wiringOf(design).partsAt(from)) {
      if (near.sort === 'diode' && (near.a === to || near.b === to)) found.push(near.component);
    }
  }
  return found;
}

/** Whether a capacitor, by itself or with a resistor in series, lies across a coil or load. */
function hasCapacitorAcross(design: Design, component: ComponentId): boolean {
  const wiring = wiringOf(design);
  for (const [from, to] of coilEnds(design, component)) {
    for (const first of wiring.partsAt(from)) {
      if (first.sort !== 'capacitor' && first.sort !== 'resistor') continue;
      const far = first.a === from ? first.b : first.a;
      if (far === to && first.sort === 'capacitor') return true;
      const second = first.sort === 'capacitor' ? 'resistor' : 'capacitor';
      if (wiring.partsAt(far).some((next) => next.sort === second && (next.a === to || next.b === to))) return true;
    }
  }
  return false;
}

/** The two nodes of each coil of a component, the one with fewer parts first: a rail's node may have thousands. */
function coilEnds(design: Design, component: ComponentId): readonly (readonly [from: NodeId, to: NodeId])[] {
  const wiring = wiringOf(design);
  return wiring
    .partsOf(component)
    .filter((part) => part.sort === 'consumer')
    .map((part) =>
      wiring.partsAt(part.a).length <= wiring.partsAt(part.b).length ? [part.a, part.b] : [part.b, part.a],
    );
}

/** Relays and loads with a coil in the circuit of a component. */
export function inductivePartsIn(design: Design, component: ComponentId): readonly ComponentId[] {
  return [...new Set(circuitOf(design, component).map((part) => part.component))].filter((id) =>
    isInductive(design, id),
  );
}

/** A relay coil, unless it is that of a timer, which is electronics; a load that declares an inductance. */
export function isInductive(design: Design, component: ComponentId): boolean {
  const what = design.components[component];
  if (what?.kind === 'relay') return what.timer === undefined;
  return what?.kind === 'load' && what.inductance !== undefined;
}

/** Suppression that is built in, or fitted across its terminals. */
export function isSuppressed(design: Design, component: ComponentId): boolean {
  const what = design.components[component];
  if (what?.kind !== 'relay' && what?.kind !== 'load') return true;
  if (what.suppressor !== undefined && what.suppressor.sort !== 'none') return true;
  return diodesAcross(design, component).length > 0 || hasCapacitorAcross(design, component);
}
