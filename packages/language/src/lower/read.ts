/**
 * Values as lowering takes them: names that stand for values are read on where they lead. What cannot be read is left out
 * here: the checks of values tell it at its place.
 */
import { type SingleMeaning, spreadOfAmbient, spreadOfSingle } from '@couplet/engine';
import type { Reference, Value } from '../generated/ast.ts';
import {
  type Amount,
  type Evaluated,
  evaluate,
  type HalfAmount,
  type Names,
  type Pair,
  type Word,
} from '../values/evaluate.ts';
import type { Scope } from './scope.ts';

export type { Amount, Word } from '../values/evaluate.ts';

/** Two values: under a condition, behind a resistance, or one beside the other. */
export interface PairRead extends Pair {
  readonly left: Amount;
  readonly right: Amount;
}

export type Read = Amount | HalfAmount | Word | PairRead;

/** What a name in a value's place stands for, where it stands for a value: `value LIM = 10.5 V`, `level."Beacon time"`. */
export type NamedValues = (reference: Reference, scope: Scope) => { value: Value; scope: Scope } | undefined;

/** How often one named value may lead to another. */
const MOST_STEPS = 16;

export function readValue(value: Value, scope: Scope, named: NamedValues): Read | undefined {
  const { value: read } = evaluate(value, [], namesIn(scope, named, 0));
  if (read === undefined || read.sort === 'stands') return undefined;
  if (read.sort !== 'pair') return read;
  return isAmounts(read) ? read : undefined;
}

function namesIn(scope: Scope, named: NamedValues, steps: number): Names {
  return {
    target: () => undefined,
    meant({ reference }): Evaluated | undefined {
      if (reference === undefined || steps >= MOST_STEPS) return undefined;
      const meant = named(reference, scope);
      return meant && evaluate(meant.value, [], namesIn(meant.scope, named, steps + 1)).value;
    },
  };
}

function isAmounts(pair: Pair): pair is PairRead {
  return pair.left.sort === 'amount' && pair.right.sort === 'amount';
}

/** Least, usual and most that an amount means in a property where a single value means `meaning`. */
export function spreadOf(
  amount: Amount,
  meaning: SingleMeaning = 'exact',
): { least: number; usual: number; most: number } {
  if (amount.form === 'single') return spreadOfSingle(amount.usual, meaning);
  return { least: amount.least, usual: amount.usual, most: amount.most };
}

/** As `spreadOf`, for a temperature of surroundings. */
export function ambientOf(amount: Amount): { least: number; usual: number; most: number } {
  return amount.form === 'range' ? spreadOfAmbient(amount.least, amount.most) : spreadOf(amount);
}
