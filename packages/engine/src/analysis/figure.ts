/** Ranges as figures: with the corners that they stand at, found when somebody asks. */

import type { Lack } from '../build/index.ts';
import { valueAt } from '../build/index.ts';
import type { Design } from '../design/design.ts';
import type { Corner, CornerPart, Figure, Need, Value } from './contract.ts';
import { effectOf, type Ranged, type Spot } from './range.ts';

export function needsOf(design: Design, lacks: readonly Lack[]): readonly Need[] {
  const seen = new Set<string>();
  const needs: Need[] = [];
  for (const { component, property } of lacks) {
    const key = `${component} ${property}`;
    if (seen.has(key)) continue;
    seen.add(key);
    needs.push({ component, property, origin: design.components[component]!.origin });
  }
  return needs;
}

export function figureOf(design: Design, range: Ranged, unit: string): Figure {
  if (range.sort === 'no-connection') return range;
  if (range.sort === 'unknown') {
    const needs = needsOf(design, range.lacks);
    return { sort: 'not-evaluated', needs, ...(range.reason === undefined ? {} : { reason: range.reason }) };
  }
  const { least, usual, most, proven, assumptions } = range;
  let leastCorner: Corner | undefined;
  let mostCorner: Corner | undefined;
  const value: Value = {
    sort: 'value',
    unit,
    least,
    usual,
    most,
    proven,
    assumptions,
    get leastCorner() {
      leastCorner ??= cornerOf(range.leastAt);
      return leastCorner;
    },
    get mostCorner() {
      mostCorner ??= cornerOf(range.mostAt);
      return mostCorner;
    },
  };
  return value;
}

/**
 * The causes that make a figure extreme, most influential first: how far the figure moves when one of them alone goes
 * to its other end, as a share of all. Causes that do not matter are left out.
 */
export function cornerOf(spots: readonly Spot[]): Corner {
  const found = new Map<string, { part: Omit<CornerPart, 'share'>; effect: number }>();
  for (const { circuit, at, measure } of spots) {
    const places = new Map<string, number>();
    circuit.axes.forEach((axis, i) => {
      for (const parameter of axis.parameters) places.set(parameter.key, at[i]!);
    });
    const single = circuit.apart(places);
    const point = single.axes.map((axis) => places.get(axis.parameters[0]!.key) ?? 0);
    const here = measure(single.at(point));
    if (here === undefined) continue;
    single.axes.forEach((axis, i) => {
      const effect = effectOf(single, measure, point, i, here);
      if (effect === 0) return;
      const parameter = axis.parameters[0]!;
      const value = valueAt(parameter, point[i]!);
      const part = { what: parameter.what, value: parameter.shown?.(value) ?? value, unit: parameter.unit };
      const known = found.get(parameter.key);
      if (known === undefined) found.set(parameter.key, { part, effect });
      else known.effect += effect;
    });
  }
  const effects = [...found.values()].sort((one, other) => other.effect - one.effect);
  const total = effects.reduce((sum, { effect }) => sum + (Number.isFinite(effect) ? effect : 0), 0);
  return effects
    .map(({ part, effect }) => ({ ...part, share: Number.isFinite(effect) ? effect / total : 1 }))
    .filter(({ share }) => share >= LEAST_SHARE);
}

/** Causes below this share of the whole effect are not worth naming. */
const LEAST_SHARE = 1e-4;
