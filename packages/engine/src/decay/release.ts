/**
 * How long a coil holds on after its switch has opened, how far its volts rise at the switch, and where its energy goes;
 * each with least, most and their corners.
 */
import type { Value } from '../analysis/contract.ts';
import { copperFactor } from '../tables/copper.ts';
import { decaySeconds, peakSwitchVolts, storedJoules, suppressionJoules } from './coil-decay.ts';
import { type Direction, extremesOf, type NotEvaluated, notEvaluated, type Ranged, together } from './extremes.ts';
import { type ClampBranch, lawVolts, parallelLaw, type SuppressionLaw } from './law.ts';
import { type RingState, ringJoules, ringPeakVolts, ringTimes } from './ring.ts';
import type { Suppression } from './suppression.ts';

/** A coil that is switched off. */
export interface SwitchedCoil {
  readonly name: string;
  /** Ω at 20 °C. */
  readonly ohms: Ranged;
  /** °C of the winding: ambient, and its own rise where it has been held in. A fixed 20 °C where it is not known to be copper. */
  readonly celsius: Ranged;
  /** H. */
  readonly henries: Ranged;
  /** V across the coil at the instant before the switch opens, its current having settled. */
  readonly volts: Ranged;
  /** V of the supply behind coil and switch; the coil's own volts unless given. */
  readonly supplyVolts?: Ranged;
}

export interface CoilDecay {
  readonly sort: 'decay';
  /** s until the coil's current has come down to the level, and stays there. */
  readonly seconds: Value;
  /** V across the switch at their most. Infinity: nothing carries the current. */
  readonly switchVolts: Value;
  /** V across the coil against its own direction. */
  readonly reverseVolts: Value;
  /** J in the coil at the opening, and those of them (with an rc element, also of its capacitor's) that heat the suppression. */
  readonly storedJoules: Value;
  readonly suppressionJoules: Value;
}

const INDUCTANCE_CONSTANT = 'inductance of the coil taken as constant: the movement of the armature is neglected';

/** One set of values: what the formulas work on. */
interface Instance {
  readonly ohms: number;
  readonly henries: number;
  readonly amps: number;
  /** Across the coil when the switch opens. */
  readonly volts: number;
  readonly supplyVolts: number;
  /** A that the level stands for. */
  readonly levelAmps: number;
  readonly path: { readonly law: SuppressionLaw } | { readonly ring: RingState };
}

/** The five things a coil's decay is asked for. */
type Asked = 'seconds' | 'switchVolts' | 'reverseVolts' | 'storedJoules' | 'suppressionJoules';

type Directions = Readonly<Record<Asked, Direction>>;

interface Problem {
  readonly variables: readonly { readonly of: Ranged; readonly directions: Directions }[];
  readonly at: (values: readonly number[]) => Instance;
  readonly assumptions: readonly string[];
}

function directions(
  seconds: Direction,
  switchVolts: Direction,
  reverseVolts: Direction,
  stored: Direction,
  suppression: Direction,
): Directions {
  return { seconds, switchVolts, reverseVolts, storedJoules: stored, suppressionJoules: suppression };
}

/*
 * With v(i) the suppression's volts and Vr the level (both referred to the coil): t = ∫ L di / (R i + v), from Vr/R20 to V/R.
 * It rises with L and V, falls with Vr and with any volt or ohm of the suppression; in e = R i the integrand is
 * L de / (R (e + v(e/R))), and since v is concave in i, R v(e/R) rises with R: t falls with R and with temperature.
 * Energy in the suppression: ∫ L i v / (R i + v) di from 0 to V/R.
 */
const VOLTS = directions('rises', 'rises', 'rises', 'rises', 'rises');
const OHMS = directions('falls', 'falls', 'falls', 'falls', 'falls');
const HENRIES = directions('rises', 'none', 'none', 'rises', 'rises');
const LEVEL = directions('falls', 'none', 'none', 'none', 'none');
const SUPPLY = directions('none', 'rises', 'none', 'none', 'none');
const CLAMP = directions('falls', 'rises', 'rises', 'none', 'rises');
/** A clamp across the switch leaves its volts less the supply's for the coil. */
const SUPPLY_OF_CLAMPED_SWITCH = directions('rises', 'rises', 'falls', 'none', 'falls');

/** A coil that swings with a capacitor: only scale is certain. */
const RING_OHMS = directions('unknown', 'unknown', 'unknown', 'falls', 'falls');
const RING_HENRIES = directions('unknown', 'unknown', 'unknown', 'rises', 'rises');
const RING_ELEMENT = directions('unknown', 'unknown', 'unknown', 'none', 'rises');

class Builder {
  readonly variables: { of: Ranged; directions: Directions }[] = [];

  /** The place of a variable's value; a cause that acts twice is one variable. */
  add(of: Ranged, moves: Directions): number {
    const known = this.variables.findIndex((each) => each.of === of);
    if (known === -1) return this.variables.push({ of, directions: moves }) - 1;
    const before = this.variables[known]!.directions;
    const both = (asked: Asked): Direction => together(before[asked], moves[asked]);
    this.variables[known]!.directions = directions(
      both('seconds'),
      both('switchVolts'),
      both('reverseVolts'),
      both('storedJoules'),
      both('suppressionJoules'),
    );
    return known;
  }
}

function problemOf(coil: SwitchedCoil, suppressions: readonly Suppression[], level: Ranged): Problem | string {
  const ring = suppressions.find((each) => each.sort === 'rc');
  if (ring !== undefined && suppressions.length > 1) {
    return `${coil.name} has an rc element and further suppression in parallel, which is not solved together`;
  }
  const unbounded = [
    coil.volts,
    coil.ohms,
    coil.celsius,
    coil.henries,
    coil.supplyVolts,
    ...(ring === undefined ? [] : [ring.ohms, ring.farads]),
  ].find((each) => each !== undefined && !(Number.isFinite(each.least) && Number.isFinite(each.most)));
  if (unbounded !== undefined) return `${unbounded.what} is without bound`;
  const clampedSwitch = suppressions.some((each) => each.sort === 'switch-clamp');
  const builder = new Builder();
  const volts = builder.add(coil.volts, VOLTS);
  const ohms = builder.add(coil.ohms, ring === undefined ? OHMS : RING_OHMS);
  const celsius = builder.add(coil.celsius, ring === undefined ? OHMS : RING_OHMS);
  const henries = builder.add(coil.henries, ring === undefined ? HENRIES : RING_HENRIES);
  const released = builder.add(level, LEVEL);
  const supply = builder.add(coil.supplyVolts ?? coil.volts, clampedSwitch ? SUPPLY_OF_CLAMPED_SWITCH : SUPPLY);
  const laws = suppressions.filter((each) => each.sort !== 'rc');
  const path = ring === undefined ? lawPath(builder, laws, supply) : ringPath(builder, ring);
  const assumptions = [INDUCTANCE_CONSTANT];
  if (suppressions.length === 0) assumptions.push(`current of ${coil.name} taken to stop at once: nothing carries it`);
  return {
    variables: builder.variables,
    assumptions,
    at: (values: readonly number[]) => {
      const cold = Math.max(0, values[ohms]!);
      const hot = cold * Math.max(0, copperFactor(values[celsius]!));
      const across = Math.max(0, values[volts]!);
      const state = {
        ohms: hot,
        henries: Math.max(0, values[henries]!),
        amps: across === 0 ? 0 : across / hot,
        volts: across,
        supplyVolts: values[supply]!,
        // The level scales with the coil's ohms as it warms, so the current at which it lies stays.
        levelAmps: values[released]! <= 0 ? 0 : values[released]! / cold,
      };
      return { ...state, path: path(values, state) };
    },
  };
}

type Path = (values: readonly number[], state: Omit<Instance, 'path' | 'levelAmps'>) => Instance['path'];

function ringPath(builder: Builder, { ohms, farads }: Extract<Suppression, { sort: 'rc' }>): Path {
  const series = builder.add(ohms, RING_ELEMENT);
  const capacitor = builder.add(farads, RING_ELEMENT);
  return (values, state) => ({
    ring: {
      ohms: state.ohms,
      henries: state.henries,
      amps: state.amps,
      seriesOhms: Math.max(0, values[series]!),
      farads: values[capacitor]!,
      capacitorVolts: state.volts,
    },
  });
}

type Across = Exclude<Suppression, { sort: 'rc' }>;

function lawPath(builder: Builder, suppressions: readonly Across[], supply: number): Path {
  const branches = suppressions.map((each) => branchOf(builder, each, supply));
  return (values) => ({ law: parallelLaw(branches.map((branch) => branch(values))) });
}

function branchOf(builder: Builder, across: Across, supply: number): (values: readonly number[]) => ClampBranch {
  if (across.sort === 'resistor') {
    const ohms = builder.add(across.ohms, CLAMP);
    return (values) => ({ volts: 0, ohms: values[ohms]! });
  }
  if (across.sort === 'switch-clamp') {
    const volts = builder.add(across.volts, CLAMP);
    return (values) => ({ volts: values[volts]! - values[supply]!, ohms: 0 });
  }
  const parts = [...('volts' in across ? [across.volts] : []), ...('drop' in across ? [across.drop] : [])];
  const volts = parts.map((part) => builder.add(part, CLAMP));
  const slope = 'slope' in across && across.slope !== undefined ? builder.add(across.slope, CLAMP) : undefined;
  return (values) => ({
    volts: volts.reduce((sum, index) => sum + values[index]!, 0),
    ohms: slope === undefined ? 0 : values[slope]!,
  });
}

function secondsOf(instance: Instance): number {
  if ('ring' in instance.path) return ringTimes(instance.path.ring, instance.levelAmps).last;
  return decaySeconds(instance, instance.path.law, instance.levelAmps);
}

/** At its least: a coil that swings may let go when its current first passes the level. */
function firstSecondsOf(instance: Instance): number {
  if ('ring' in instance.path) return ringTimes(instance.path.ring, instance.levelAmps).first;
  return secondsOf(instance);
}

const FORMULAS: Readonly<Record<Asked, { readonly unit: string; readonly of: (instance: Instance) => number }>> = {
  seconds: { unit: 's', of: secondsOf },
  switchVolts: {
    unit: 'V',
    of: (instance) =>
      'ring' in instance.path
        ? instance.supplyVolts + ringPeakVolts(instance.path.ring)
        : peakSwitchVolts(instance.supplyVolts, instance, instance.path.law),
  },
  reverseVolts: {
    unit: 'V',
    of: ({ path, amps }) => ('ring' in path ? ringPeakVolts(path.ring) : lawVolts(path.law, amps)),
  },
  storedJoules: { unit: 'J', of: storedJoules },
  suppressionJoules: {
    unit: 'J',
    of: (instance) =>
      'ring' in instance.path ? ringJoules(instance.path.ring) : suppressionJoules(instance, instance.path.law),
  },
};

function figure(problem: Problem, asked: Asked): Value {
  const { unit, of } = FORMULAS[asked];
  const at = (values: readonly number[]) => of(problem.at(values));
  return extremesOf({
    unit,
    at,
    ...(asked === 'seconds' ? { atLeast: (values: readonly number[]) => firstSecondsOf(problem.at(values)) } : {}),
    variables: problem.variables.map((each) => ({ of: each.of, direction: each.directions[asked] })),
    assumptions: problem.assumptions,
  });
}

/**
 * What follows when the switch of a coil opens. `level` is in V at 20 °C, from the one at which every specimen has let go
 * (least) to the one at which the first may (most); see `releaseLevel`. Without suppression the time is 0 and the volts at
 * the switch are without bound. Not evaluated where an rc element lies in parallel with other suppression, or where a datum of
 * the coil is without bound.
 */
export function coilDecay(
  coil: SwitchedCoil,
  suppressions: readonly Suppression[],
  level: Ranged,
): CoilDecay | NotEvaluated {
  const problem = problemOf(coil, suppressions, level);
  if (typeof problem === 'string') return notEvaluated(problem);
  return {
    sort: 'decay',
    seconds: figure(problem, 'seconds'),
    switchVolts: figure(problem, 'switchVolts'),
    reverseVolts: figure(problem, 'reverseVolts'),
    storedJoules: figure(problem, 'storedJoules'),
    suppressionJoules: figure(problem, 'suppressionJoules'),
  };
}

/**
 * Seconds from the opening of the switch until a relay's contacts have moved: its own release time, which holds for a
 * coil without suppression, and before it the decay of its current.
 */
export function releaseSeconds(
  coil: SwitchedCoil,
  suppressions: readonly Suppression[],
  level: Ranged,
  releaseTime: Ranged,
): Value | NotEvaluated {
  const problem = problemOf(coil, suppressions, level);
  if (typeof problem === 'string') return notEvaluated(problem);
  return extremesOf({
    unit: 's',
    variables: [
      { of: releaseTime, direction: 'rises' },
      ...problem.variables.map((each) => ({ of: each.of, direction: each.directions.seconds })),
    ],
    at: ([own, ...values]) => own! + secondsOf(problem.at(values)),
    atLeast: ([own, ...values]) => own! + firstSecondsOf(problem.at(values)),
    assumptions: [...problem.assumptions, `release time of ${coil.name} taken as that without suppression`],
  });
}

/**
 * The level at which a relay lets go, in V at 20 °C: certainly at `releases`, and not above what it is certainly held at
 * (`holds`); usual is `releases`, the only figure that is promised. Without `holds` a specimen may let go at once, at
 * `coilVolts`.
 */
export function releaseLevel(
  name: string,
  releases: { readonly least: number; readonly usual: number; readonly assumption?: string },
  holds: { readonly most: number; readonly assumption?: string } | undefined,
  coilVolts: Ranged,
): Ranged {
  const clauses = [releases.assumption, holds?.assumption].filter((clause) => clause !== undefined);
  return {
    what: `${name} lets go`,
    unit: 'V',
    least: releases.least,
    usual: releases.usual,
    most: Math.max(releases.usual, holds?.most ?? coilVolts.most),
    ...(clauses.length === 0 ? {} : { assumption: clauses.join('; ') }),
  };
}
