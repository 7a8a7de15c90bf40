/**
 * A network of two-terminal laws between nodes, and its operating point. This layer knows numbers only: no components.
 * Volts V, amperes A, ohms Ω, watts W. The current of a law counts positive from node `a` to node `b` through it.
 */

/**
 * A monotone polyline in the plane of volts (a minus b) and amperes (a to b): both never fall along it.
 * `points` has at least one [volts, amperes]; `before` and `after` are directions [dV ≥ 0, dI ≥ 0], not both 0, in
 * which the curve goes on for ever (before the first point it is walked backwards). A vertical piece (dV = 0) holds
 * volts, a level piece (dI = 0) holds amperes: diode, zener, limited source, current-limited output, constant-current
 * load are all curves.
 */
export interface Curve {
  readonly points: readonly (readonly [volts: number, amps: number])[];
  readonly before: readonly [dV: number, dI: number];
  readonly after: readonly [dV: number, dI: number];
}

export type Law =
  /** ohms ≥ 0; 0 merges the two nodes. */
  | { readonly sort: 'ohms'; readonly a: number; readonly b: number; readonly ohms: number }
  /** v(a) − v(b) = volts whatever the current. */
  | { readonly sort: 'volts'; readonly a: number; readonly b: number; readonly volts: number }
  /** The current from a to b whatever the volts. */
  | { readonly sort: 'amps'; readonly a: number; readonly b: number; readonly amps: number }
  | { readonly sort: 'curve'; readonly a: number; readonly b: number; readonly curve: Curve }
  /** Takes `watts` while its volts lie in least..most; below and above it is resistive with the ohms of that end. */
  | {
      readonly sort: 'power';
      readonly a: number;
      readonly b: number;
      readonly watts: number;
      readonly least: number;
      readonly most: number;
    };

export interface Network {
  /** Nodes are 0 .. nodes − 1. */
  readonly nodes: number;
  readonly laws: readonly Law[];
}

export type Outcome =
  | { readonly sort: 'solved' }
  /** Laws (indices) that hold different volts in parallel, or different currents in series. */
  | { readonly sort: 'contradictory'; readonly laws: readonly number[] }
  /**
   * A constant-power law whose range has no lower end asks for more than can be delivered to it; the most that the first
   * of them can get, in watts. (With a lower end it falls through that and is solved as a resistance: piece 0.)
   */
  | { readonly sort: 'no-solution'; readonly laws: readonly number[]; readonly deliverable?: number }
  /** An enforced bound was hit. */
  | { readonly sort: 'bound-reached'; readonly laws: readonly number[] };

export interface SolvedPoint {
  /**
   * 'solved' where every island is. An island that is not has 0 V and 0 A throughout, and each of its nodes is a group
   * of its own that is not live; the other islands hold their figures.
   */
  readonly outcome: Outcome;
  /** Volts of every node against the reference of its group; meaningless across groups. Never NaN when solved. */
  readonly volts: Float64Array;
  /**
   * Amperes of every law. Currents of 0 Ω laws are recovered by Kirchhoff; `undefinedAmps` names those in loops of laws
   * that hold volts (0 Ω, ideal volts, curves on a vertical piece): nothing says how a current divides there.
   */
  readonly amps: Float64Array;
  readonly undefinedAmps: ReadonlySet<number>;
  /**
   * Nodes with the same group have a defined voltage between them. Nodes without any path to a source (or tied to the
   * rest only through blocking laws) are groups of their own: nothing can be said of them but 'no connection'.
   */
  readonly group: Int32Array;
  /** True for groups in which a source, current or other driving law is present. */
  readonly live: readonly boolean[];
  /** Largest |Σ I| over nodes beyond the bound of 1e-9 × Σ|I| + 1e-15 A; 0 when Kirchhoff is satisfied everywhere. */
  readonly residual: number;
  /**
   * Pieces chosen, to start a neighbouring solve from. Of a curve: 0 before the first point, k between points k − 1 and
   * k. Of a power law: 0 below, 1 inside, 2 above its range.
   */
  readonly pieces: Int32Array;
  /** Number of linear solves this took. */
  readonly solves: number;
}

export interface OperatingPoint extends SolvedPoint {
  /**
   * First-order change of all node volts and law amperes when the laws become `laws` (same sorts, same nodes, same
   * order), every curve staying on its piece: one back-substitution with the factors at hand. For sensitivities.
   */
  shift(laws: readonly Law[]): { readonly volts: Float64Array; readonly amps: Float64Array };
}

/** Solves a network. `start` gives pieces to begin from. Never throws on what a user wrote. */
export type Solve = (network: Network, start?: Int32Array) => OperatingPoint;
