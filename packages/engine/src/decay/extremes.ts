/**
 * Least and most of a figure over ranges of what it depends on, each with its corner.
 * A formula that moves one way with a variable is taken straight to that variable's end; only variables of which nothing
 * is known are tried out, and then the figure says that it was searched, not proven.
 */
import type { Corner, CornerPart, Figure, Value } from '../analysis/contract.ts';

/** A number that can lie anywhere from `least` to `most`, in `unit`; `what` names it in corners ('K1 coil'). */
export interface Ranged {
  readonly what: string;
  readonly unit: string;
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  /** A clause that says what was taken for granted. */
  readonly assumption?: string;
}

/** How the figure moves when the variable rises and all others stay; `none`: it does not hang on it. */
export type Direction = 'rises' | 'falls' | 'none' | 'unknown';

/** The direction of a cause that acts in two ways at once. */
export function together(one: Direction, other: Direction): Direction {
  if (one === other || other === 'none') return one;
  return one === 'none' ? other : 'unknown';
}

export interface Formula {
  /** Unit of the figure: 's', 'V', 'A', 'J', 'Ah'. */
  readonly unit: string;
  readonly variables: readonly { readonly of: Ranged; readonly direction: Direction }[];
  /** The figure at one value for each variable, in their order. Infinity stands for 'never' or 'unlimited'. */
  readonly at: (values: readonly number[]) => number;
  /** The figure at its least, where a specimen may behave in more than one way; `at` unless given. */
  readonly atLeast?: (values: readonly number[]) => number;
  /** Assumptions of the formula itself. */
  readonly assumptions?: readonly string[];
}

export type NotEvaluated = Extract<Figure, { sort: 'not-evaluated' }>;

/** What cannot be computed, with the reason in words. */
export function notEvaluated(reason: string): NotEvaluated {
  return { sort: 'not-evaluated', needs: [], reason };
}

/** A number without spread. */
export function fixed(what: string, unit: string, value: number, assumption?: string): Ranged {
  const spread = { what, unit, least: value, usual: value, most: value };
  return assumption === undefined ? spread : { ...spread, assumption };
}

/** A number with a spread: anything with least, usual and most, such as a datum of a design. */
export function ranged(
  what: string,
  unit: string,
  spread: { readonly least: number; readonly usual: number; readonly most: number; readonly assumption?: string },
): Ranged {
  const { least, usual, most, assumption } = spread;
  return { what, unit, least, usual, most, ...(assumption === undefined ? {} : { assumption }) };
}

/** The figure at the usual values, its extremes and their corners. */
export function extremesOf(formula: Formula): Value {
  const usualPoint = formula.variables.map(({ of }) => of.usual);
  const atLeast = formula.atLeast ?? formula.at;
  const low = extreme(formula, atLeast, -1);
  const high = extreme(formula, formula.at, 1);
  const clauses = formula.variables.flatMap(({ of, direction }) =>
    of.assumption === undefined || direction === 'none' ? [] : [of.assumption],
  );
  const usual = formula.at(usualPoint);
  return {
    sort: 'value',
    unit: formula.unit,
    // Rounding may leave a figure without spread a hair beyond its own corner.
    least: Math.min(low.figure, usual),
    usual,
    most: Math.max(high.figure, usual),
    leastCorner: cornerAt(formula, atLeast, low.point),
    mostCorner: cornerAt(formula, formula.at, high.point),
    proven: low.proven && high.proven,
    assumptions: [...new Set([...clauses, ...(formula.assumptions ?? [])])].sort(),
  };
}

interface Found {
  readonly point: readonly number[];
  readonly figure: number;
  readonly proven: boolean;
}

type At = (values: readonly number[]) => number;

/** `sign` −1 looks for the least, +1 for the most. */
function extreme(formula: Formula, figure: At, sign: 1 | -1): Found {
  const point = formula.variables.map(({ of, direction }) => {
    if (direction === 'unknown' || direction === 'none') return of.usual;
    return (direction === 'rises') === (sign === 1) ? of.most : of.least;
  });
  const doubtful = formula.variables.flatMap(({ of, direction }, index) =>
    direction === 'unknown' && of.least < of.most ? [index] : [],
  );
  if (doubtful.length === 0) return { point, figure: figure(point), proven: true };
  const search: Search = { formula, figure, sign, doubtful };
  return refined(search, doubtful.length <= GRID_MOST ? onGrid(search, point) : { point, figure: figure(point) });
}

interface Search {
  readonly formula: Formula;
  readonly figure: At;
  readonly sign: 1 | -1;
  readonly doubtful: readonly number[];
}

interface Candidate {
  readonly point: readonly number[];
  readonly figure: number;
}

/** Up to so many doubtful variables are tried at both ends and at their usual value, together. */
const GRID_MOST = 6;

function onGrid(search: Search, start: readonly number[]): Candidate {
  let best: Candidate = { point: start, figure: search.figure(start) };
  const trial = [...start];
  const walk = (depth: number): void => {
    const index = search.doubtful[depth];
    if (index === undefined) {
      best = better(search, best, trial);
      return;
    }
    const { least, usual, most } = search.formula.variables[index]!.of;
    for (const value of new Set([least, usual, most])) {
      trial[index] = value;
      walk(depth + 1);
    }
  };
  walk(0);
  return best;
}

function better(search: Search, best: Candidate, trial: readonly number[]): Candidate {
  const figure = search.figure(trial);
  return search.sign * figure > search.sign * best.figure ? { point: [...trial], figure } : best;
}

const ROUNDS = 2;
const SLICES = 4;
const CUTS = 12;

/** One variable after the other is moved to where the figure is extreme: slices first, then a shrinking bracket. */
function refined(search: Search, start: Candidate): Found {
  let best = start;
  for (let round = 0; round < ROUNDS; round++) {
    for (const index of search.doubtful) {
      const { least, most } = search.formula.variables[index]!.of;
      const width = (most - least) / SLICES;
      const trial = [...best.point];
      for (let slice = 0; slice <= SLICES; slice++) {
        trial[index] = least + slice * width;
        best = better(search, best, trial);
      }
      let step = width / 2;
      for (let cut = 0; cut < CUTS; cut++) {
        const centre = best.point[index]!;
        for (const value of [centre - step, centre + step]) {
          const moved = [...best.point];
          moved[index] = Math.min(most, Math.max(least, value));
          best = better(search, best, moved);
        }
        step /= 2;
      }
    }
  }
  return { ...best, proven: false };
}

/** The variables that are not at their usual value, those that moved the figure most first. */
function cornerAt(formula: Formula, figure: At, point: readonly number[]): Corner {
  const usual = formula.variables.map(({ of }) => of.usual);
  const base = figure(usual);
  const moved: { part: Omit<CornerPart, 'share'>; by: number }[] = [];
  formula.variables.forEach(({ of }, index) => {
    const value = point[index]!;
    if (value === of.usual) return;
    const alone = [...usual];
    alone[index] = value;
    const by = figure(alone) - base;
    moved.push({ part: { what: of.what, value, unit: of.unit }, by: Number.isNaN(by) ? 0 : Math.abs(by) });
  });
  const boundless = moved.filter(({ by }) => by === Number.POSITIVE_INFINITY).length;
  const sum = moved.reduce((total, { by }) => total + by, 0);
  const share = (by: number): number => {
    if (boundless > 0) return by === Number.POSITIVE_INFINITY ? 1 / boundless : 0;
    return sum === 0 ? 0 : by / sum;
  };
  return moved.map(({ part, by }) => ({ ...part, share: share(by) })).sort((one, other) => other.share - one.share);
}
