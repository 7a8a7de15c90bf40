/**
 * An island in one state of its contacts, outputs and sources: a network whose laws have parameters, solved at
 * whatever corner is asked for. Solved corners are kept.
 */
import type { Element, Island, Lack, LawContext, Parameter, Shape } from '../build/index.ts';
import { hasSpread, valueAt } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { Law, Network, OperatingPoint, Outcome } from '../network/contract.ts';
import { solve } from '../network/index.ts';
import type { Ranged } from './range.ts';

/** Parameters that are moved together, because all of them push the same laws the same way. */
export interface Axis {
  readonly parameters: readonly Parameter[];
  /** Laws that it moves. */
  readonly laws: readonly number[];
}

/** Where each axis stands: −1 least, 0 usual, +1 most. */
export type Point = readonly number[];

export interface Solved {
  readonly outcome: Outcome;
  readonly volts: Float64Array;
  readonly amps: Float64Array;
  readonly group: Int32Array;
  readonly live: readonly boolean[];
  readonly undefinedAmps: ReadonlySet<number>;
  readonly residual: number;
  readonly pieces: Int32Array;
}

interface Piece {
  readonly element: Element;
  readonly a: number;
  readonly b: number;
  readonly parameters: readonly Parameter[];
  readonly aligned: boolean;
  readonly shape: (values: readonly number[]) => Shape;
}

/** What a state says besides its word: removed, bridged, or ohms scaled by a factor. */
export const ALTERED = '~';

export interface CircuitOptions {
  /** Keys of causes that must not be moved together with others. */
  readonly apart?: ReadonlySet<string>;
  readonly unlimited?: Element;
}

export class Circuit {
  readonly island: Island;
  readonly lacks: readonly Lack[];
  readonly assumptions: readonly string[];
  readonly axes: readonly Axis[];
  /** Law of each element, −1 where it is not connected in this state. */
  readonly lawOf: Int32Array;
  /** Law of each pin. */
  readonly pinLaw: Int32Array;
  private readonly pieces: Piece[] = [];
  private readonly axisOf: Int32Array[] = [];
  /** Ranges that were found for it, by the names of their gauges. */
  readonly figures = new Map<string, Ranged>();
  private readonly solved = new Map<string, Solved>();
  private usual: OperatingPoint | undefined;
  private readonly states: readonly string[];
  private readonly context: LawContext;
  private readonly options: CircuitOptions;

  /** `states` tells the state of each element of the island. */
  constructor(island: Island, states: readonly string[], context: LawContext, options: CircuitOptions = {}) {
    this.island = island;
    this.states = states;
    this.context = context;
    this.options = options;
    const missing: Lack[] = [];
    const assumptions = new Set<string>();
    this.lawOf = new Int32Array(island.elements.length).fill(-1);
    this.pinLaw = new Int32Array(island.pins.length).fill(-1);
    island.elements.forEach((element, i) => {
      const answer = answerOf(element, states[i]!, context, element === options.unlimited);
      if (answer.sort === 'lacks') missing.push(...answer.lacks);
      if (answer.sort === 'open' || answer.sort === 'law') for (const text of answer.assumptions) assumptions.add(text);
      if (answer.sort !== 'law') return;
      this.lawOf[i] = this.pieces.length;
      this.pieces.push({ ...answer, element, a: island.a[i]!, b: island.b[i]! });
    });
    island.pins.forEach((pin, i) => {
      const volts = stiffVolts(pin.element, context);
      this.pinLaw[i] = this.pieces.length;
      this.pieces.push({
        element: pin.element,
        a: pin.a,
        b: pin.b,
        parameters: [volts],
        aligned: true,
        shape: ([value]) => ({ sort: 'volts', volts: value! }),
      });
    });
    this.lacks = missing;
    this.axes = this.findAxes(options.apart);
    for (const piece of this.pieces) {
      for (const parameter of piece.parameters) {
        if (parameter.assumption !== undefined) assumptions.add(parameter.assumption);
      }
    }
    this.assumptions = [...assumptions].sort();
  }

  /** The operating point with every axis at `point`. Whole corners are remembered. */
  at(point: Point): Solved {
    const key = point.join();
    const known = this.solved.get(key);
    if (known !== undefined) return known;
    const { outcome, volts, amps, group, live, undefinedAmps, residual, pieces } = this.fresh(point);
    const made = { outcome, volts, amps, group, live, undefinedAmps, residual, pieces };
    if (this.solved.size < 2048) this.solved.set(key, made);
    return made;
  }

  atUsual(): Solved {
    return this.at(this.axes.map(() => 0));
  }

  /** As `at`, with the factors at hand for sensitivities; never kept. */
  fresh(point: Point): OperatingPoint {
    const network: Network = { nodes: this.island.nodes.length, laws: this.lawsAt(point) };
    const made = solve(network, this.usual?.pieces);
    this.usual ??= made;
    return made;
  }

  /** First-order change of volts and amperes when one axis moves by `step` from `point`. */
  lawsAt(point: Point, base?: readonly Law[], moved?: number): readonly Law[] {
    const touched = moved === undefined ? undefined : new Set(this.axes[moved]!.laws);
    return this.pieces.map((piece, k) => {
      if (base !== undefined && touched !== undefined && !touched.has(k)) return base[k]!;
      const axes = this.axisOf[k]!;
      const values = piece.parameters.map((parameter, i) => {
        const axis = axes[i]!;
        return axis < 0 ? parameter.usual : valueAt(parameter, point[axis]!);
      });
      return { ...piece.shape(values), a: piece.a, b: piece.b };
    });
  }

  /** The same circuit with some causes as axes of their own, by their keys. */
  apart(causes: ReadonlyMap<string, unknown>): Circuit {
    return new Circuit(this.island, this.states, this.context, { ...this.options, apart: new Set(causes.keys()) });
  }

  /** The same circuit with the limit of one element lifted. */
  lifting(unlimited: Element): Circuit {
    return new Circuit(this.island, this.states, this.context, { ...this.options, unlimited });
  }

  /** Whether a law takes constant watts. */
  get hasPower(): boolean {
    return this.lawsAt(this.axes.map(() => 0)).some((law) => law.sort === 'power');
  }

  /** Components that some laws belong to, without repeats. */
  componentsOf(laws: readonly number[]): readonly ComponentId[] {
    const ids = laws.filter((law) => law >= 0).map((law) => this.pieces[law]!.element.component.id);
    return [...new Set(ids)].filter((id) => id >= 0).sort((one, other) => one - other);
  }

  private findAxes(apart: ReadonlySet<string> | undefined): readonly Axis[] {
    const uses = new Map<Parameter, { laws: number[]; aligned: boolean }>();
    this.pieces.forEach((piece, k) => {
      for (const parameter of piece.parameters) {
        if (!hasSpread(parameter)) continue;
        const use = uses.get(parameter);
        if (use === undefined) uses.set(parameter, { laws: [k], aligned: piece.aligned });
        else uses.set(parameter, { laws: [...use.laws, k], aligned: use.aligned && piece.aligned });
      }
    });
    const groups = new Map<string, { parameters: Parameter[]; laws: number[] }>();
    for (const [parameter, { laws, aligned }] of uses) {
      const alone = !aligned || apart?.has(parameter.key) === true;
      const key = alone ? parameter.key : laws.join();
      const group = groups.get(key);
      if (group === undefined) groups.set(key, { parameters: [parameter], laws });
      else group.parameters.push(parameter);
    }
    const axes = [...groups.values()];
    const axisOf = new Map<Parameter, number>();
    axes.forEach((axis, i) => {
      for (const parameter of axis.parameters) axisOf.set(parameter, i);
    });
    for (const piece of this.pieces) {
      this.axisOf.push(Int32Array.from(piece.parameters, (parameter) => axisOf.get(parameter) ?? -1));
    }
    return axes;
  }
}

/** The volts of a pinned supply as a parameter; such a supply always says its volts. */
function stiffVolts(element: Element, { parameters }: LawContext): Parameter {
  const part = element.component;
  if (part.kind !== 'source' || part.volts === undefined) throw new Error('A pin is a source with volts');
  return parameters.of(part.id, 'volts', part.volts, 'V');
}

function answerOf(element: Element, state: string, context: LawContext, unlimited: boolean) {
  const cut = state.indexOf(ALTERED);
  const word = cut < 0 ? state : state.slice(0, cut);
  const alteration = cut < 0 ? '' : state.slice(cut + 1);
  if (alteration === 'removed') return { sort: 'open', assumptions: [] } as const;
  if (alteration === 'bridged') {
    return {
      sort: 'law',
      parameters: [],
      aligned: true,
      shape: () => ({ sort: 'ohms', ohms: 0 }) as const,
      assumptions: [],
    } as const;
  }
  const component = unlimited ? { ...element.component, limit: undefined, limits: undefined } : element.component;
  const answer = element.rule.law(component, word, context);
  if (answer.sort !== 'law' || !alteration.startsWith('x')) return answer;
  const factor = Number(alteration.slice(1));
  return { ...answer, shape: (values: readonly number[]) => scaled(answer.shape(values), factor) };
}

/** `factor` times the ohms; a load of constant watts or amperes takes that much less. */
function scaled(shape: Shape, factor: number): Shape {
  if (shape.sort === 'ohms') return { ...shape, ohms: shape.ohms * factor };
  if (shape.sort === 'power') return { ...shape, watts: shape.watts / factor };
  if (shape.sort === 'amps') return { ...shape, amps: shape.amps / factor };
  return shape;
}
