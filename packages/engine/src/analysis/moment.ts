/** A settled instant as callers see it: figures are found when asked for, and kept. */
import type { ComponentId, TerminalId } from '../design/components.ts';
import type { Change, Figure, Moment, States, ZoneReading } from './contract.ts';
import { type Doings, withChanges } from './doings.ts';
import { figureOf } from './figure.ts';
import { ampsOf, demandOf, meterOhms, voltsBetween, wattsOf } from './readings.ts';
import { settling } from './settle.ts';
import { statesOf, zoneClasses } from './states.ts';
import type { World } from './world.ts';

/** How a moment came about: what had been done at each settled instant from rest on, the moment itself last. */
export type History = readonly Doings[];

export class SettledMoment implements Moment {
  readonly time: number;
  readonly label: string;
  readonly world: World;
  private readonly history: History;
  private readonly changes: readonly Change[];
  private readonly again: ((changes: readonly Change[]) => World) | undefined;
  private readonly kept = new Map<string, Figure>();
  private readonly readings = new Map<ComponentId, ZoneReading>();

  /** `again` finds the same moment in a changed design, where settling step by step does not. */
  constructor(
    world: World,
    time: number,
    label: string,
    history: History,
    changes: readonly Change[] = [],
    again?: (changes: readonly Change[]) => World,
  ) {
    this.world = world;
    this.time = time;
    this.label = label;
    this.history = history;
    this.changes = changes;
    this.again = again;
  }

  states(component: ComponentId): States {
    return statesOf(this.world, component);
  }

  volts(a: TerminalId, b: TerminalId): Figure {
    return this.keep(`v${a}-${b}`, () => figureOf(this.world.design, voltsBetween(this.world, a, b), 'V'));
  }

  amps(component: ComponentId): Figure {
    return this.keep(`i${component}`, () => figureOf(this.world.design, ampsOf(this.world, component), 'A'));
  }

  demand(component: ComponentId): Figure {
    return this.keep(`d${component}`, () => figureOf(this.world.design, demandOf(this.world, component), 'A'));
  }

  watts(component: ComponentId): Figure {
    return this.keep(`w${component}`, () => figureOf(this.world.design, wattsOf(this.world, component), 'W'));
  }

  ohms(a: TerminalId, b: TerminalId): Figure {
    return this.keep(`r${a}-${b}`, () => figureOf(this.world.design, meterOhms(this.world, a, b), 'ohm'));
  }

  reading(zone: ComponentId): ZoneReading {
    const known = this.readings.get(zone);
    if (known !== undefined) return known;
    const made = this.makeReading(zone);
    this.readings.set(zone, made);
    return made;
  }

  vary(changes: readonly Change[]): Moment {
    const { design, shared } = this.world;
    const all = [...this.changes, ...changes];
    if (this.again !== undefined) {
      return new SettledMoment(this.again(all), this.time, this.label, this.history, all, this.again);
    }
    let world = this.world.rest ?? this.world;
    const rest = world;
    for (const [i, doings] of this.history.entries()) {
      world = finish(settling(shared, withChanges(design, doings, all), rest, i === 0 ? undefined : world)).world;
    }
    return new SettledMoment(world, this.time, this.label, this.history, all);
  }

  affected(): ReadonlySet<ComponentId> | 'all' {
    if (this.world.rest === undefined) return 'all';
    const parts = new Set<ComponentId>();
    const { doings, dirty, decisions, power } = this.world;
    const touched = [doings.turned, doings.forced, doings.altered, decisions, power];
    for (const list of touched) for (const id of list.keys()) parts.add(id);
    for (const island of dirty) {
      for (const { component } of island.elements) if (component.id >= 0) parts.add(component.id);
      for (const { element } of island.pins) parts.add(element.component.id);
    }
    for (const id of [...parts]) {
      const part = this.world.design.components[id]!;
      if (part.kind === 'contact') parts.add(part.driver);
      if (part.owner !== undefined) parts.add(part.owner);
    }
    return parts;
  }

  private keep(name: string, make: () => Figure): Figure {
    const known = this.kept.get(name);
    if (known !== undefined) return known;
    const made = make();
    this.kept.set(name, made);
    return made;
  }

  private makeReading(id: ComponentId): ZoneReading {
    const part = this.world.design.components[id]!;
    const { design } = this.world;
    if (part.kind !== 'zone') {
      const none: Figure = { sort: 'not-evaluated', needs: [], reason: 'not a zone' };
      return { volts: none, ohms: none, possible: [] };
    }
    const { volts, ohms, usual, possible } = zoneClasses(part, this.world);
    return {
      volts: figureOf(design, volts, 'V'),
      ohms: figureOf(design, ohms, 'ohm'),
      ...(usual === undefined ? {} : { usual }),
      possible,
    };
  }
}

/** Runs a generator to its end. */
export function finish<R>(steps: Generator<unknown, R>): R {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}
