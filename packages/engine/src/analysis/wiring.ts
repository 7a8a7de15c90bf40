/** The laws of an island in one state, with the parameters they depend on and the axes along which those move. */
import type { Answer, Element, Island, Lack, LawContext, Parameter, Shape } from '../build/index.ts';
import { hasSpread, valueAt } from '../build/index.ts';
import { lawsOf } from '../build/laws/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { Law } from '../network/contract.ts';

/** Parameters that are moved together, because all of them push the same laws the same way. */
export interface Axis {
  readonly parameters: readonly Parameter[];
  /** Laws that it moves. */
  readonly laws: readonly number[];
}

/** Where each axis stands: −1 least, 0 usual, +1 most. */
export type Point = readonly number[];

/** What a state says besides its word: removed, bridged, reversed, like another part, or ohms scaled by a factor. */
export const ALTERED = '~';

interface Piece {
  readonly element: Element;
  readonly a: number;
  readonly b: number;
  readonly parameters: readonly Parameter[];
  readonly aligned: boolean;
  readonly shape: (values: readonly number[]) => Shape;
  /** Laws that were made with every parameter at an end or in the middle, by the code of those places. */
  readonly laws: (Law | undefined)[];
}

/** Laws that one parameter moves, and the axis that it is on. */
interface Use {
  readonly laws: number[];
  aligned: boolean;
  axis: number;
}

/** Parameters of one piece up to which its laws are kept. */
const MOST_KEPT = 4;

export interface WiringOptions {
  /** Keys of causes that must not be moved together with others. */
  readonly apart?: ReadonlySet<string>;
  /** An element whose limit is lifted. */
  readonly unlimited?: Element;
}

const NO_LACKS: readonly Lack[] = [];
const NO_CLAUSES: readonly string[] = [];

export class Wiring {
  readonly lacks: readonly Lack[];
  readonly axes: readonly Axis[];
  /** Law of each element, −1 where it is not connected in this state. */
  readonly lawOf: readonly number[];
  /** Law of each pin. */
  readonly pinLaw: readonly number[];
  private readonly pieces: Piece[] = [];
  private readonly axisOf: (readonly number[])[] = [];
  private readonly clauses: string[] = [];

  constructor(island: Island, states: readonly string[], context: LawContext, options: WiringOptions) {
    const missing: Lack[] = [];
    this.lawOf = island.elements.map((element, i) => {
      const answer = stateLaw(element, states[i]!, context, element === options.unlimited);
      if (answer.sort === 'lacks') {
        missing.push(...answer.lacks);
        return -1;
      }
      this.clauses.push(...answer.assumptions);
      if (answer.sort === 'open') return -1;
      const [a, b] = states[i]!.endsWith(REVERSED) ? [island.b[i]!, island.a[i]!] : [island.a[i]!, island.b[i]!];
      return this.pieces.push({ ...answer, element, a, b, laws: [] }) - 1;
    });
    this.pinLaw = island.pins.map(
      ({ element, a, b }) =>
        this.pieces.push({
          element,
          a,
          b,
          parameters: [stiffVolts(element, context)],
          aligned: true,
          shape: ([volts]) => ({ sort: 'volts', volts: volts! }),
          laws: [],
        }) - 1,
    );
    for (const { parameters } of this.pieces) {
      for (const { assumption } of parameters) if (assumption !== undefined) this.clauses.push(assumption);
    }
    this.lacks = missing.length === 0 ? NO_LACKS : missing;
    this.axes = this.findAxes(options.apart);
  }

  /** Clauses of what was assumed, sorted, without repeats. */
  get assumptions(): readonly string[] {
    return this.clauses.length === 0 ? NO_CLAUSES : [...new Set(this.clauses)].sort();
  }

  /** The laws at a point. With `base`, laws that the axis `moved` does not touch are taken from there. */
  lawsAt(point: Point, base?: readonly Law[], moved?: number): readonly Law[] {
    if (base !== undefined && moved !== undefined) {
      const laws = [...base];
      for (const k of this.axes[moved]!.laws) laws[k] = this.lawAt(k, point);
      return laws;
    }
    const laws = new Array<Law>(this.pieces.length);
    for (let k = 0; k < laws.length; k++) laws[k] = this.lawAt(k, point);
    return laws;
  }

  /** Corners of a circuit share the laws that their places have in common. */
  private lawAt(k: number, point: Point): Law {
    const piece = this.pieces[k]!;
    const axes = this.axisOf[k]!;
    let code = 0;
    if (axes.length > MOST_KEPT) return this.makeLaw(piece, axes, point);
    for (let i = 0; i < axes.length; i++) {
      const axis = axes[i]!;
      const t = axis < 0 ? 0 : point[axis]!;
      if (t !== 0 && t !== 1 && t !== -1) return this.makeLaw(piece, axes, point);
      code = 3 * code + t + 1;
    }
    const known = piece.laws[code];
    if (known !== undefined) return known;
    const made = this.makeLaw(piece, axes, point);
    piece.laws[code] = made;
    return made;
  }

  private makeLaw(piece: Piece, axes: readonly number[], point: Point): Law {
    const values = piece.parameters.map((parameter, i) => {
      const axis = axes[i]!;
      return axis < 0 ? parameter.usual : valueAt(parameter, point[axis]!);
    });
    return { ...piece.shape(values), a: piece.a, b: piece.b };
  }

  /** Components that some laws belong to, without repeats. */
  componentsOf(laws: readonly number[]): readonly ComponentId[] {
    const ids = laws.filter((law) => law >= 0).map((law) => this.pieces[law]!.element.component.id);
    return [...new Set(ids)].filter((id) => id >= 0).sort((one, other) => one - other);
  }

  private findAxes(apart: ReadonlySet<string> | undefined): readonly Axis[] {
    const uses = new Map<Parameter, Use>();
    this.pieces.forEach((piece, k) => {
      for (const parameter of piece.parameters) {
        if (!hasSpread(parameter)) continue;
        const use = uses.get(parameter);
        if (use === undefined) uses.set(parameter, { laws: [k], aligned: piece.aligned, axis: -1 });
        else {
          use.laws.push(k);
          use.aligned &&= piece.aligned;
        }
      }
    });
    const axes: { parameters: Parameter[]; laws: readonly number[] }[] = [];
    /** Axes of several causes, by the first of their laws. */
    const together: number[][] = [];
    for (const [parameter, use] of uses) {
      const { laws, aligned } = use;
      const first = laws[0]!;
      const alone = !aligned || apart?.has(parameter.key) === true;
      const known = alone ? undefined : together[first]?.find((axis) => isSame(axes[axis]!.laws, laws));
      use.axis = known ?? axes.length;
      if (known !== undefined) axes[known]!.parameters.push(parameter);
      else axes.push({ parameters: [parameter], laws });
      if (known !== undefined || alone) continue;
      if (together[first] === undefined) together[first] = [use.axis];
      else together[first].push(use.axis);
    }
    for (const piece of this.pieces) {
      this.axisOf.push(piece.parameters.map((parameter) => uses.get(parameter)?.axis ?? -1));
    }
    return axes;
  }
}

function isSame(one: readonly number[], other: readonly number[]): boolean {
  return one.length === other.length && one.every((law, i) => law === other[i]);
}

/** The volts of a pinned supply as a parameter; such a supply always says its volts. */
function stiffVolts(element: Element, { parameters }: LawContext): Parameter {
  const part = element.component;
  if (part.kind !== 'source' || part.volts === undefined) throw new Error('A pin is a source with volts');
  return parameters.of(part.id, 'volts', part.volts, 'V');
}

const REVERSED = `${ALTERED}reversed`;

const REMOVED: Answer = { sort: 'open', assumptions: [] };
const BRIDGED: Answer = {
  sort: 'law',
  parameters: [],
  aligned: true,
  shape: () => ({ sort: 'ohms', ohms: 0 }),
  assumptions: [],
};

/** The law of an element in a state, alterations included. */
export function stateLaw(element: Element, state: string, context: LawContext, unlimited = false): Answer {
  const cut = state.indexOf(ALTERED);
  const word = cut < 0 ? state : state.slice(0, cut);
  const alteration = cut < 0 ? '' : state.slice(cut + 1);
  if (alteration === 'removed') return REMOVED;
  if (alteration === 'bridged') return BRIDGED;
  if (alteration.startsWith('=')) {
    const other = context.design.components[Number(alteration.slice(1))]!;
    const { rule } = element;
    const own =
      other.kind === element.component.kind ? rule : lawsOf(other.kind).find(({ role }) => role === rule.role);
    return own === undefined ? REMOVED : own.law(other, word, context);
  }
  const component = unlimited ? { ...element.component, limit: undefined, limits: undefined } : element.component;
  const answer = element.rule.law(component, word, context);
  if (answer.sort !== 'law' || !alteration.startsWith('x')) return answer;
  const factor = Number(alteration.slice(1));
  return { ...answer, shape: (values: readonly number[]) => scaled(answer.shape(values), factor) };
}

/** `factor` times the ohms; a load of constant watts or amperes, and what follows a curve, takes that much less. */
function scaled(shape: Shape, factor: number): Shape {
  if (shape.sort === 'ohms') return { ...shape, ohms: shape.ohms * factor };
  if (shape.sort === 'power') return { ...shape, watts: shape.watts / factor };
  if (shape.sort === 'amps') return { ...shape, amps: shape.amps / factor };
  if (shape.sort === 'curve') {
    const { points, before, after } = shape.curve;
    const less = ([volts, amps]: readonly [number, number]): [number, number] => [volts, amps / factor];
    return { ...shape, curve: { points: points.map(less), before: less(before), after: less(after) } };
  }
  return shape;
}
