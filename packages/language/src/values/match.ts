/** Whether a value fits a property, and if not, what would. */
import { type Dimension, dimensionRow, wantDimension } from '@couplet/engine';
import { isGiven, isNamedValue, type Named } from '../generated/ast.ts';
import type { Form, PropertyRow, Target } from '../properties/row.ts';
import {
  type Amount,
  type Evaluated,
  evaluate,
  QUANTITY_GIVENS,
  type Stands,
  type ValueError,
  type Word,
} from './evaluate.ts';
import { either, meant, nearest } from './words.ts';

/** Every dimension that the forms of a row admit, to suggest units by. */
export function dimensionsOf(row: PropertyRow): readonly Dimension[] {
  return row.forms.flatMap((form): readonly Dimension[] => {
    switch (form.sort) {
      case 'quantity':
      case 'half-open':
      case 'pair':
      case 'word with quantity':
        return form.dimensions;
      case 'via':
        return [...form.value, ...form.behind];
      case 'at':
        return [...form.value, ...form.condition];
      default:
        return [];
    }
  });
}

/** What is wrong with a value as one of a row's; undefined where it fits one of the forms. */
export function misfit(value: Evaluated, row: PropertyRow): ValueError | undefined {
  if (row.forms.some((form) => fits(value, form))) return undefined;
  switch (value.sort) {
    case 'amount':
      return amountMisfit(value, row);
    case 'word':
      return wordMisfit(value, row);
    case 'stands':
      return standsMisfit(value, row);
    case 'pair':
      return pairMisfit(value, row);
    case 'half-open': {
      const forms = row.forms.filter((form) => form.sort === 'half-open');
      const dimensions = forms.flatMap((form) => form.dimensions);
      if (dimensions.length > 0) return dimensionError(value, dimensions);
      return formError(value, row);
    }
  }
}

/** Which of the row's forms a value takes, by its index; -1 where none. */
export function formIndex(value: Evaluated, row: PropertyRow): number {
  return row.forms.findIndex((form) => fits(value, form));
}

function fits(value: Evaluated, form: Form): boolean {
  if (form.sort === 'any') return true;
  switch (value.sort) {
    case 'amount':
      if (form.sort === 'quantity') {
        if (!form.dimensions.includes(value.dimension)) return false;
        return form.spread === undefined || value.form === (form.spread === 'range' ? 'range' : 'single');
      }
      return form.sort === 'count' && isCount(value, form.least);
    case 'half-open':
      return form.sort === 'half-open' && form.dimensions.includes(value.dimension);
    case 'pair':
      return pairFits(value, form);
    case 'stands':
      return 'dimensions' in form && form.sort !== 'word with quantity' && dimensionFits(value, form.dimensions);
    case 'word':
      return wordFits(value, form);
  }
}

function wordFits(value: Word, form: Form): boolean {
  const bare = value.quantity === undefined && value.duration === undefined && value.state === undefined;
  switch (form.sort) {
    case 'word':
      return bare && !value.quoted && !value.dotted && form.words.includes(value.text);
    case 'word with quantity':
      return (
        form.words.includes(value.text) &&
        value.quantity !== undefined &&
        form.dimensions.includes(value.quantity.dimension)
      );
    case 'name':
      return bare;
    case 'case for a time': {
      const { duration } = value;
      if (value.quantity !== undefined) return false;
      const timed = duration?.sort === 'stands' || (duration?.sort === 'amount' && duration.dimension === 's');
      return value.duration === undefined || timed;
    }
    case 'name with state':
      return value.quantity === undefined && value.duration === undefined;
    case 'text':
      return bare && value.quoted;
    default:
      return false;
  }
}

function pairFits(value: Extract<Evaluated, { sort: 'pair' }>, form: Form): boolean {
  const [operator, left, right] = pairForm(form);
  return value.operator === operator && dimensionFits(value.left, left) && dimensionFits(value.right, right);
}

function pairForm(form: Form): readonly [string, readonly Dimension[], readonly Dimension[]] {
  if (form.sort === 'via') return ['via', form.value, form.behind];
  if (form.sort === 'at') return ['@', form.value, form.condition];
  return form.sort === 'pair' ? ['/', form.dimensions, form.dimensions] : ['', [], []];
}

function dimensionFits(value: Amount | Stands, wanted: readonly Dimension[]): boolean {
  if (value.sort === 'amount') return wanted.includes(value.dimension);
  const dimension = standsFor(value.target);
  return dimension === undefined || wanted.includes(dimension);
}

/** The dimension of what a name stands for, where that can be told. */
function standsFor(target: Named): Dimension | undefined {
  if (isGiven(target)) return QUANTITY_GIVENS.get(target.kind);
  if (!isNamedValue(target) || target.value === undefined) return undefined;
  const { value } = evaluate(target.value);
  return value?.sort === 'amount' ? value.dimension : undefined;
}

function isCount(value: Amount, least: number): boolean {
  return (
    value.dimension === 'number' && value.form === 'single' && Number.isInteger(value.usual) && value.usual >= least
  );
}

function amountMisfit(value: Amount, row: PropertyRow): ValueError {
  const count = row.forms.find((form) => form.sort === 'count');
  if (count !== undefined) {
    const message = `'${row.name}' is a whole number${count.least > 0 ? ` from ${count.least} up` : ''}`;
    return { code: value.dimension === 'number' ? 'form-wrong' : 'dimension-wrong', message, node: value.node };
  }
  const quantities = row.forms.filter((form) => form.sort === 'quantity');
  const dimensions = quantities.flatMap((form) => form.dimensions);
  if (dimensions.includes(value.dimension)) {
    const range = quantities.some((form) => form.spread === 'range');
    const message = range
      ? `a range is needed here, such as ${RANGES[value.dimension] ?? '1k1 .. 3k9'}, or a limit with below or above`
      : `'${row.name}' is a single value without tolerance or range`;
    return { code: 'spread-wrong', message, node: value.node };
  }
  if (dimensions.length > 0) return dimensionError(value, dimensions);
  return formError(value, row);
}

/** Ranges as examples. */
const RANGES: Partial<Record<Dimension, string>> = { ohm: '1k1 .. 3k9', V: '1 V .. 2 V' };

/** Words that mean one of a property's own. */
const MEANS: Readonly<Record<string, string>> = { true: 'yes', false: 'no', none: 'no' };

function wordMisfit(value: Word, row: PropertyRow): ValueError {
  const words = row.forms.flatMap((form) =>
    form.sort === 'word' || form.sort === 'word with quantity' ? form.words : [],
  );
  const distinct = [...new Set(words)];
  if (value.quantity !== undefined && distinct.includes(value.text)) {
    const form = row.forms.find((each) => each.sort === 'word with quantity' && each.words.includes(value.text));
    if (form?.sort === 'word with quantity') return dimensionError(value.quantity, form.dimensions);
    return { code: 'form-wrong', message: `'${value.text}' stands alone here, without a quantity`, node: value.node };
  }
  if (distinct.includes(value.text) && value.state !== undefined) return strayState(value);
  if (distinct.length > 0) {
    const other = MEANS[value.text.toLowerCase()];
    const suggestion = other !== undefined && distinct.includes(other) ? other : nearest(value.text, distinct);
    const quantity = dimensionsOf(row).length > 0 && row.forms.some((form) => form.sort === 'quantity');
    const more = quantity ? `, or ${either(exampleWords(dimensionsOf(row)))}` : '';
    const message = `'${row.name}' is ${either(distinct)}${more}; '${value.text}' is none of them.${meant(suggestion)}`;
    return { code: 'word-wrong', message, node: value.node, suggestion };
  }
  if (value.state !== undefined && row.forms.some((form) => form.sort === 'name')) return strayState(value);
  return formError(value, row);
}

function strayState(value: Word): ValueError {
  const node = value.node.state ?? value.node;
  return { code: 'comma-missing', message: `'${value.state}' does not belong here: values are parted by commas`, node };
}

function standsMisfit(value: Stands, row: PropertyRow): ValueError {
  const dimension = standsFor(value.target);
  const dimensions = dimensionsOf(row);
  if (dimension === undefined || dimensions.length === 0) return formError(value, row);
  const message = `'${row.name}' needs ${either(dimensions.map((each) => dimensionRow(each).words))}; '${value.node.$cstNode?.text}' is ${dimensionRow(dimension).words}`;
  return { code: 'dimension-wrong', message, node: value.node };
}

function pairMisfit(value: Extract<Evaluated, { sort: 'pair' }>, row: PropertyRow): ValueError {
  for (const form of row.forms) {
    const [operator, left, right] = pairForm(form);
    if (value.operator !== operator) continue;
    for (const [side, wanted] of [
      [value.left, left],
      [value.right, right],
    ] as const) {
      if (side.sort === 'amount' && !wanted.includes(side.dimension)) return dimensionError(side, wanted);
    }
  }
  return formError(value, row);
}

function dimensionError(
  value: { readonly dimension: Dimension; readonly node: Evaluated['node']; readonly usual?: number },
  wanted: readonly Dimension[],
): ValueError {
  const parsed = { value: value.usual ?? 0, dimension: value.dimension, unit: '', form: 'plain' } as const;
  const error = wantDimension(parsed, [...new Set(wanted)]);
  const code = error?.code === 'unit-missing' ? 'unit-missing' : 'dimension-wrong';
  if (code === 'unit-missing') {
    const needs = error?.message.replace(/^needs (.*) with its unit/, 'this needs $1');
    const message = `a unit is missing after ${value.node.$cstNode?.text}: ${needs}`;
    return { code, message, node: value.node, suggestion: error?.suggestion };
  }
  const message = `this ${error?.message ?? 'does not fit'}`
    .replace(/^this needs/, 'This needs')
    .replace('; this is', ', not');
  return { code, message, node: value.node };
}

const TARGET_WORDS: Readonly<Record<Target, string>> = {
  terminal: 'a terminal, as printed on the unit',
  return: 'a common or terminal of the unit',
  rail: 'a rail of the unit',
  feed: 'a supply of the unit',
  scheme: 'a scheme of the unit',
  place: 'a place',
  case: 'a case',
  core: 'the name of a core',
  thing: 'a component or member',
};

function formError(value: Evaluated, row: PropertyRow): ValueError {
  return { code: 'form-wrong', message: `'${row.name}' is ${formWords(row)}`, node: value.node };
}

/** What a property takes, as a phrase: 'a voltage, such as 12 V, or a word …'. For messages, hover and the reference. */
export function formWords(row: PropertyRow): string {
  return either(row.forms.map((form) => wordsOfForm(form)));
}

function wordsOfForm(form: Form): string {
  switch (form.sort) {
    case 'quantity':
      if (form.spread === 'range') return `a range such as ${form.dimensions.map((each) => RANGES[each]).join(' or ')}`;
      return either(exampleWords(form.dimensions));
    case 'half-open':
      return `a limit such as below ${example(form.dimensions)} or above ${example(form.dimensions)}`;
    case 'via':
      return `a source such as ${example(form.value)} via ${example(form.behind)}`;
    case 'at':
      return `${either(form.value.map((each) => dimensionRow(each).words))} under a condition, such as ${example(form.value)} @ ${example(form.condition)}`;
    case 'pair':
      return `two values such as ${example(form.dimensions)} / ${example(form.dimensions)}`;
    case 'count':
      return form.least > 0 ? `a whole number from ${form.least} up` : 'a whole number';
    case 'word':
      return either(form.words);
    case 'word with quantity':
      return `${either(form.words)} with a value, such as ${form.words[0]} ${form.dimensions[0] === 'number' ? 2 : example(form.dimensions)}`;
    case 'name':
      return TARGET_WORDS[form.target];
    case 'case for a time':
      return 'a case and a time, such as rest for 24 h';
    case 'name with state':
      return 'a name with a state, such as panel.Z4 alarm';
    case 'text':
      return 'a text in quotes';
    case 'any':
      return 'anything';
  }
}

function exampleWords(dimensions: readonly Dimension[]): string[] {
  return dimensions.map((each) => `${dimensionRow(each).words}, such as ${dimensionRow(each).example}`);
}

function example(dimensions: readonly Dimension[]): string {
  return dimensionRow(dimensions[0] as Dimension).example;
}
