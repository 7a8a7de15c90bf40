/**
 * An island in one state of its contacts, outputs and sources, solved at whatever corner is asked for. Ranges that
 * were found are kept for good; laws and solved corners only while the circuit is being asked about.
 */
import type { Element, Island, Lack, LawContext } from '../build/index.ts';
import type { ComponentId } from '../design/components.ts';
import type { Law, Network, OperatingPoint, Outcome, SolvedPoint } from '../network/contract.ts';
import { solve, solvePoint } from '../network/index.ts';
import type { Ranged } from './range.ts';
import { type Axis, type Point, Wiring, type WiringOptions } from './wiring.ts';

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

/** Keeps what the circuits know that were asked last, and lets that of others go. */
export class CornerMemory {
  private readonly recent: (Circuit | undefined)[];
  private next = 0;

  constructor(circuits: number) {
    this.recent = new Array(circuits).fill(undefined);
  }

  admit(circuit: Circuit): void {
    this.recent[this.next]?.forget();
    this.recent[this.next] = circuit;
    this.next = (this.next + 1) % this.recent.length;
  }
}

export interface CircuitOptions extends WiringOptions {
  readonly memory: CornerMemory;
}

/** Solved corners of one circuit that are kept at a time. */
const MOST_CORNERS = 2048;

export class Circuit {
  readonly island: Island;
  /** Ranges that were found for it, by the names of their gauges. */
  readonly figures = new Map<string, Ranged>();
  private readonly states: readonly string[];
  private readonly context: LawContext;
  private readonly options: CircuitOptions;
  private wiring: Wiring | undefined;
  private solved: Map<number | string, Solved> | undefined;
  private usual: Solved | undefined;
  private keptLacks: readonly Lack[] | undefined;
  private keptAssumptions: readonly string[] | undefined;
  private keptAxes: readonly Axis[] | undefined;
  /** True: every node. */
  private liveNodes: true | readonly boolean[] | undefined;
  private sound: boolean | undefined;

  /** `states` tells the state of each element of the island. */
  constructor(island: Island, states: readonly string[], context: LawContext, options: CircuitOptions) {
    this.island = island;
    this.states = states;
    this.context = context;
    this.options = options;
  }

  /** Data without which the island cannot be solved in this state. */
  get lacks(): readonly Lack[] {
    this.keptLacks ??= this.wired().lacks;
    return this.keptLacks;
  }

  get assumptions(): readonly string[] {
    this.keptAssumptions ??= this.wired().assumptions;
    return this.keptAssumptions;
  }

  get axes(): readonly Axis[] {
    this.keptAxes ??= this.wired().axes;
    return this.keptAxes;
  }

  /** Whether the operating point at the usual figures was found and is sound. */
  get isSound(): boolean {
    if (this.sound === undefined) {
      const { outcome, residual } = this.atUsual();
      this.sound = outcome.sort === 'solved' && residual === 0;
    }
    return this.sound;
  }

  /** Whether anything drives the part of the island that a local node lies in, at the usual figures. */
  isLive(node: number): boolean {
    if (this.liveNodes === undefined) {
      const { live, group } = this.atUsual();
      const nodes = this.island.nodes.map((_, n) => live[group[n]!] === true);
      this.liveNodes = nodes.every((one) => one) ? true : nodes;
    }
    return this.liveNodes === true || this.liveNodes[node] === true;
  }

  /** Law of each element, −1 where it is not connected in this state. */
  get lawOf(): readonly number[] {
    return this.wired().lawOf;
  }

  /** Law of each pin. */
  get pinLaw(): readonly number[] {
    return this.wired().pinLaw;
  }

  /** The operating point with every axis at `point`. Corners are remembered for a while. */
  at(point: Point): Solved {
    const key = keyOf(point);
    if (key === USUAL) return this.atUsual();
    const known = this.solved?.get(key);
    if (known !== undefined) return known;
    const made = this.slim(this.solveAt(point));
    this.solved ??= new Map();
    if (this.solved.size < MOST_CORNERS) this.solved.set(key, made);
    return made;
  }

  /** The operating point at the usual figures. */
  atUsual(): Solved {
    this.usual ??= this.slim(this.solveAt(this.axes.map(() => 0)));
    return this.usual;
  }

  /** As `at`, with the factors at hand for sensitivities; never kept. */
  fresh(point: Point): OperatingPoint {
    return this.solveLaws(this.lawsAt(point));
  }

  private solveAt(point: Point): SolvedPoint {
    return solvePoint({ nodes: this.island.nodes.length, laws: this.lawsAt(point) }, this.usual?.pieces);
  }

  /** Laws between the island's nodes, solved. */
  solveLaws(laws: readonly Law[]): OperatingPoint {
    const network: Network = { nodes: this.island.nodes.length, laws };
    return solve(network, this.usual?.pieces);
  }

  /** Laws at the usual figures by element and then by pin; absent where there is no connection. */
  usualLaws(): readonly (Law | undefined)[] {
    const laws = this.lawsAt(this.axes.map(() => 0));
    return [...this.lawOf, ...this.pinLaw].map((law) => (law < 0 ? undefined : laws[law]));
  }

  lawsAt(point: Point, base?: readonly Law[], moved?: number): readonly Law[] {
    return this.wired().lawsAt(point, base, moved);
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
    return this.usualLaws().some((law) => law?.sort === 'power');
  }

  /** Whether all laws are straight lines. */
  get isLinear(): boolean {
    return this.usualLaws().every((law) => law?.sort !== 'power' && law?.sort !== 'curve');
  }

  componentsOf(laws: readonly number[]): readonly ComponentId[] {
    return this.wired().componentsOf(laws);
  }

  /** Lets laws and solved corners go; they can be made again. */
  forget(): void {
    this.wiring = undefined;
    this.solved = undefined;
    this.usual = undefined;
  }

  private wired(): Wiring {
    if (this.wiring === undefined) {
      this.wiring = new Wiring(this.island, this.states, this.context, this.options);
      this.options.memory.admit(this);
    }
    return this.wiring;
  }

  /** What is worth keeping of an operating point; what is as at the usual figures is kept once. */
  private slim(made: SolvedPoint): Solved {
    const { outcome, volts, amps, residual } = made;
    const like = this.usual;
    const same = like !== undefined && equal(like.pieces, made.pieces) && equal(like.group, made.group);
    const { group, live, undefinedAmps, pieces } = same ? like : made;
    return { outcome, volts, amps, group, live, undefinedAmps, residual, pieces };
  }
}

const USUAL = 0;
/** Axes whose ends and middles one number can tell apart. */
const MOST_DIGITS = 30;

/** Tells points apart: 0 where every axis is in its middle. */
function keyOf(point: Point): number | string {
  let key = 0;
  for (let i = 0; i < point.length; i++) {
    const t = point[i]!;
    if (point.length > MOST_DIGITS || (t !== 0 && t !== 1 && t !== -1)) {
      return point.every((other) => other === 0) ? USUAL : point.join();
    }
    // Balanced ternary: every row of −1, 0 and 1 is a number of its own.
    key = 3 * key + t;
  }
  return key;
}

function equal(one: Int32Array, other: Int32Array): boolean {
  if (one.length !== other.length) return false;
  for (let i = 0; i < one.length; i++) if (one[i] !== other[i]) return false;
  return true;
}
