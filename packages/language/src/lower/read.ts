/** Written values as numbers and words. What cannot be read is left out here: the checks of values tell it at its place. */
import {
  type Dimension,
  isQuantityError,
  type Quantity as ParsedQuantity,
  parseQuantity,
  rangeOf,
  type SingleMeaning,
  spreadOfAmbient,
  spreadOfSingle,
  toleranceOf,
  type WrittenValue,
  withTolerance,
} from '@couplet/engine';
import type { AstNode } from 'langium';
import type { Quantity, Reference, State, Term, Value, WordTerm } from '../generated/ast.ts';
import { dottedNames } from './bags.ts';
import type { Scope } from './scope.ts';

/** A quantity, with tolerance or as a range. */
export interface Amount extends WrittenValue {
  readonly sort: 'amount';
  readonly node: AstNode;
}

/** `below X`, `above X`. */
export interface HalfAmount {
  readonly sort: 'open';
  readonly side: 'below' | 'above';
  readonly edge: number;
  readonly dimension: Dimension;
  readonly node: AstNode;
}

/** A word, a text or a name, with what may stand behind it. */
export interface WordRead {
  readonly sort: 'word';
  /** With its dots, as written without quotes. */
  readonly word: string;
  readonly reference: Reference;
  readonly quantity?: Amount;
  readonly duration?: Value;
  readonly state?: State;
  readonly node: AstNode;
}

/** Two values: under a condition, behind a resistance, or one beside the other. */
export interface PairRead {
  readonly sort: 'pair';
  readonly operator: '@' | 'via' | '/';
  readonly left: Amount;
  readonly right: Amount;
  readonly node: AstNode;
}

export type Read = Amount | HalfAmount | WordRead | PairRead;

/** What a name in a value's place stands for, where it stands for a value: `value LIM = 10.5 V`, `level."Beacon time"`. */
export type NamedValues = (reference: Reference, scope: Scope) => { value: Value; scope: Scope } | undefined;

/** How often one named value may lead to another. */
const MOST_STEPS = 16;

export function readValue(value: Value, scope: Scope, named: NamedValues, steps = 0): Read | undefined {
  const split = value.operators.findIndex((operator) => operator !== '..');
  if (split < 0) return readRange(value, value.terms, scope, named, steps);
  const left = readRange(value, value.terms.slice(0, split + 1), scope, named, steps);
  const right = readRange(value, value.terms.slice(split + 1), scope, named, steps);
  if (left?.sort !== 'amount' || right?.sort !== 'amount') return undefined;
  const operator = value.operators[split];
  if (operator === 'via' || operator === '/') return { sort: 'pair', operator, left, right, node: value };
  return { sort: 'pair', operator: '@', left, right, node: value };
}

function readRange(
  node: Value,
  terms: readonly Term[],
  scope: Scope,
  named: NamedValues,
  steps: number,
): Read | undefined {
  const [first] = terms;
  if (first === undefined) return undefined;
  if (terms.length === 1) return readTerm(first, scope, named, steps);
  const parts: ParsedQuantity[] = [];
  for (const term of terms) {
    const part = readTerm(term, scope, named, steps);
    if (part?.sort !== 'amount' || part.form === 'range' || part.form === 'three') return undefined;
    parts.push({ value: part.usual, dimension: part.dimension, unit: '', form: 'plain' });
  }
  const range = rangeOf(parts);
  return 'error' in range ? undefined : { sort: 'amount', ...range, node };
}

function readTerm(term: Term, scope: Scope, named: NamedValues, steps: number): Read | undefined {
  if (term.$type === 'Quantity') return readQuantity(term);
  return readWord(term, scope, named, steps);
}

function readWord(term: WordTerm, scope: Scope, named: NamedValues, steps: number): Read | undefined {
  if (term.reference === undefined) return undefined;
  const word = dottedNames(term.reference).join('.');
  if (term.quantity !== undefined) {
    const quantity = readQuantity(term.quantity);
    if (quantity === undefined) return undefined;
    if (word === 'below' || word === 'above') {
      return { sort: 'open', side: word, edge: quantity.usual, dimension: quantity.dimension, node: term };
    }
    return { sort: 'word', word, reference: term.reference, quantity, node: term };
  }
  const { duration, state } = term;
  if (duration === undefined && state === undefined && steps < MOST_STEPS) {
    const meant = named(term.reference, scope);
    if (meant !== undefined) return readValue(meant.value, meant.scope, named, steps + 1);
  }
  return { sort: 'word', word, reference: term.reference, duration, state, node: term };
}

/** Texts of quantities repeat a great deal in a site; what they read as does not change. */
const readBefore = new Map<string, ParsedQuantity | undefined>();
const MOST_KEPT = 10_000;

function parsed(text: string): ParsedQuantity | undefined {
  if (readBefore.has(text)) return readBefore.get(text);
  const result = parseQuantity(text);
  const quantity = isQuantityError(result) ? undefined : result;
  if (readBefore.size >= MOST_KEPT) readBefore.clear();
  readBefore.set(text, quantity);
  return quantity;
}

export function readQuantity(node: Quantity): Amount | undefined {
  if (node.number === undefined) return undefined;
  // A unit that more than one blank parts from its number comes as a word of its own.
  const nominal = parsed(node.stray === undefined ? node.number : `${node.number} ${node.stray}`);
  if (nominal === undefined) return undefined;
  const { dimension } = nominal;
  const tolerances = node.tolerances ?? [];
  if (tolerances.length === 0) {
    const { value } = nominal;
    return { sort: 'amount', least: value, usual: value, most: value, dimension, form: 'single', node };
  }
  let minus: ParsedQuantity = { ...nominal, value: 0 };
  let plus = minus;
  for (const text of tolerances) {
    const [, sign, size = ''] = /^(\+-|\+\/-|±|[-+–−])\s?(.*)$/.exec(text) ?? [];
    const part = parsed(size);
    if (part === undefined) return undefined;
    if (sign === '+') plus = part;
    else if (sign === '-' || sign === '–' || sign === '−') minus = part;
    else plus = minus = part;
  }
  // A side that is not written has no deviation, whatever the other one counts in.
  if (minus.value === 0) minus = { ...plus, value: 0 };
  if (plus.value === 0) plus = { ...minus, value: 0 };
  const tolerance = toleranceOf(nominal, minus, plus);
  if ('error' in tolerance) return undefined;
  const spread = withTolerance(nominal.value, tolerance);
  return { sort: 'amount', ...spread, dimension, form: 'tolerance', tolerance, node };
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
