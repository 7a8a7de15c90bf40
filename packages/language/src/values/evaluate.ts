/**
 * Written values as quantities, ranges, pairs and words, with what is wrong with them. Numbers are in the dimension's
 * own unit (see `Dimension`). Nothing here knows of properties; `values/match.ts` holds a value against a row. What the
 * names in a value mean is asked of `Names`: the checks leave them standing, lowering reads on where they lead.
 */
import {
  type Dimension,
  type HalfOpen,
  halfOpenAbove,
  halfOpenBelow,
  isQuantityError,
  type Quantity as Parsed,
  parseQuantity,
  rangeOf,
  type SpreadError,
  spreadOfSingle,
  toleranceOf,
  type WrittenValue,
  withTolerance,
} from '@couplet/engine';
import { type AstNode, type CstNode, GrammarUtils } from 'langium';
import {
  isGiven,
  isNamedValue,
  isProgram,
  isQuantity,
  type Named,
  type Quantity,
  type Reference,
  type Term,
  type Value,
  type WordTerm,
} from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';

/** A quantity alone, with its tolerance, or as a range of two or three. */
export interface Amount extends WrittenValue {
  readonly sort: 'amount';
  readonly node: AstNode;
}

/** `below X`, `above X`; `from` and `to` in the dimension's unit. */
export interface HalfAmount extends HalfOpen {
  readonly sort: 'half-open';
  readonly side: 'below' | 'above';
  readonly dimension: Dimension;
  readonly node: AstNode;
}

/** `10 A @ 30 V`, `5 V via 4k7`, `0.5 s / 0.5 s`. */
export interface Pair {
  readonly sort: 'pair';
  readonly operator: '@' | 'via' | '/';
  readonly left: Amount | Stands;
  readonly right: Amount | Stands;
  readonly node: AstNode;
}

/** A word, a text or a name, with what may follow it. */
export interface Word {
  readonly sort: 'word';
  /** As it is typed; a name with dots with its quotes. */
  readonly text: string;
  /** The same without quotes. */
  readonly word: string;
  readonly quoted: boolean;
  /** It has dots, so that it can only be a name. */
  readonly dotted: boolean;
  readonly reference: Reference;
  /** Where it leads, where that is known; the word itself where it stands for itself. */
  readonly target: Named | undefined;
  readonly quantity?: Amount;
  readonly duration?: Evaluated;
  readonly state?: string;
  readonly node: WordTerm;
}

/** A name in a quantity's place: of a `value`, of a setting, of a given of an assembly. */
export interface Stands {
  readonly sort: 'stands';
  readonly target: Named;
  readonly node: WordTerm;
}

export type Evaluated = Amount | HalfAmount | Pair | Word | Stands;

export interface ValueError {
  readonly code: ValueErrorCode;
  readonly message: string;
  /** The stretch of text that is wrong; the node's own where absent. */
  readonly cst?: CstNode | { readonly from: CstNode; readonly to: CstNode };
  readonly node: AstNode;
  /** What to write there instead. */
  readonly suggestion?: string;
}

export type ValueErrorCode =
  | 'value-unreadable'
  | 'unit-unknown'
  | 'unit-missing'
  | 'dimension-wrong'
  | 'spread-wrong'
  | 'comma-missing'
  | 'word-wrong'
  | 'form-wrong';

export interface Evaluation {
  /** Absent where the value could not be read at all. */
  readonly value?: Evaluated;
  readonly errors: readonly ValueError[];
}

/** What the names in values mean. */
export interface Names {
  /** Where a word leads. */
  target(node: WordTerm): Named | undefined;
  /** What a name alone has in its place; undefined where it is a word of its own. */
  meant(node: WordTerm, target: Named | undefined): Evaluated | undefined;
}

/** Names of linked trees: those of values, settings and givens stand for quantities that are read elsewhere. */
const LINKED: Names = {
  target: ({ reference }) => {
    const last = reference?.steps.at(-1);
    return last === undefined ? reference?.head?.ref : last.parts.at(-1)?.ref;
  },
  meant: (node, target) => {
    if (target === undefined) return undefined;
    const stands = isNamedValue(target) || (isProgram(target) && target.setting !== undefined) || isLength(target);
    return stands ? { sort: 'stands', target, node } : undefined;
  },
};

/** Reads a value. `expected` only steers which unit is suggested for an unknown one. */
export function evaluate(value: Value, expected: readonly Dimension[] = [], names: Names = LINKED): Evaluation {
  const errors: ValueError[] = [];
  const reader = new ValueReader(expected, errors, names);
  return { value: reader.value(value), errors };
}

/** Texts of quantities repeat a great deal in a site; what they read as does not change. */
const readBefore = new Map<string, Parsed>();
const MOST_KEPT = 10_000;

function parsed(text: string, expected: readonly Dimension[]): ReturnType<typeof parseQuantity> {
  const known = readBefore.get(text);
  if (known !== undefined) return known;
  const result = parseQuantity(text, expected);
  if (isQuantityError(result)) return result;
  if (readBefore.size >= MOST_KEPT) readBefore.clear();
  readBefore.set(text, result);
  return result;
}

/** The signs of a tolerance. */
const SIGNS = /^(\+\/?-|[±+\-–−])\s?/;

class ValueReader {
  private readonly expected: readonly Dimension[];
  private readonly errors: ValueError[];
  private readonly names: Names;

  constructor(expected: readonly Dimension[], errors: ValueError[], names: Names) {
    this.expected = expected;
    this.errors = errors;
    this.names = names;
  }

  value(value: Value): Evaluated | undefined {
    const operators = value.operators.map((operator) => (operator === 'at' ? '@' : operator));
    const joins = operators.flatMap((operator, i) => (operator === '..' ? [] : [i]));
    const [join] = joins;
    if (join === undefined) return this.range(value, value.terms);
    if (joins.length > 1) {
      const second = operators[joins[1] as number] as string;
      return this.fail(value, 'form-wrong', `a value has one of '@', 'via' and '/', not '${second}' as well`);
    }
    const left = this.range(value, value.terms.slice(0, join + 1));
    const right = this.range(value, value.terms.slice(join + 1));
    if (left === undefined || right === undefined) return undefined;
    const operator = operators[join] as Pair['operator'];
    const odd = [left, right].find((side) => side.sort !== 'amount' && side.sort !== 'stands');
    if (odd !== undefined) return this.fail(odd.node, 'form-wrong', `'${operator}' stands between two quantities`);
    return { sort: 'pair', operator, left: left as Amount, right: right as Amount, node: value };
  }

  private range(node: Value, terms: readonly Term[]): Evaluated | undefined {
    const [first] = terms;
    if (first === undefined) return undefined;
    if (terms.length === 1) return this.term(first);
    const parts: Parsed[] = [];
    let stands: Stands | undefined;
    for (const term of terms) {
      if (isQuantity(term)) {
        const [loose] = term.tolerances;
        if (loose !== undefined)
          return this.fail(term, 'spread-wrong', 'an end of a range has no tolerance of its own');
        const part = this.quantity(term);
        if (part === undefined) return undefined;
        parts.push(part);
        continue;
      }
      const word = this.word(term);
      if (word?.sort === 'stands') stands = word;
      else if (word?.sort === 'amount' && word.form !== 'range' && word.form !== 'three') {
        parts.push({ value: word.usual, dimension: word.dimension, unit: '', form: 'plain' });
      } else return this.fail(term, 'form-wrong', "'..' stands between two quantities");
    }
    if (stands !== undefined) return stands;
    const range = rangeOf(parts);
    if ('error' in range) {
      const bare = terms.find((_, i) => parts[i]?.dimension === 'number');
      return this.spreadError(range.error.code === 'unit-missing' ? (bare ?? node) : node, range.error);
    }
    return { ...range, sort: 'amount', node: terms.length === node.terms.length ? node : (terms[0] as Term) };
  }

  private term(term: Term): Evaluated | undefined {
    return isQuantity(term) ? this.amount(term) : this.word(term);
  }

  private amount(node: Quantity): Amount | undefined {
    const nominal = this.quantity(node);
    if (nominal === undefined) return undefined;
    const bare: Amount = {
      ...spreadOfSingle(nominal.value, 'exact'),
      sort: 'amount',
      dimension: nominal.dimension,
      form: 'single',
      node,
    };
    if (node.tolerances.length === 0) return bare;
    return this.toleranced(node, nominal);
  }

  private toleranced(node: Quantity, nominal: Parsed): Amount | undefined {
    let minus: Parsed | undefined;
    let plus: Parsed | undefined;
    for (const [index, text] of node.tolerances.entries()) {
      const cst = () => GrammarUtils.findNodesForProperty(node.$cstNode, 'tolerances')[index];
      const both = /^(\+\/?-|±)/.test(text);
      const up = !both && text.startsWith('+');
      const taken = both ? (minus ?? plus) : up ? plus : minus;
      if (taken !== undefined) {
        return this.fail(node, 'spread-wrong', 'a tolerance is written +-1%, or as -15% +20%', cst());
      }
      const size = parsed(text.replace(SIGNS, ''), ['ratio', nominal.dimension]);
      if (isQuantityError(size)) return this.quantityError(node, size.error, cst());
      if (both || up) plus = size;
      if (both || !up) minus = size;
    }
    const nothing = minus ?? plus;
    if (nothing === undefined) return undefined;
    const tolerance = toleranceOf(nominal, minus ?? { ...nothing, value: 0 }, plus ?? { ...nothing, value: 0 });
    if ('error' in tolerance) {
      const [cst] = GrammarUtils.findNodesForProperty(node.$cstNode, 'tolerances');
      return this.spreadError(node, tolerance.error, cst);
    }
    const spread = withTolerance(nominal.value, tolerance);
    return { ...spread, sort: 'amount', dimension: nominal.dimension, form: 'tolerance', tolerance, node };
  }

  private quantity(node: Quantity): Parsed | undefined {
    if (node.number === undefined) return undefined;
    const alone = parsed(node.number, this.expected);
    if (isQuantityError(alone)) {
      return this.quantityError(node, alone.error, GrammarUtils.findNodeForProperty(node.$cstNode, 'number'));
    }
    return node.stray === undefined ? alone : this.strayed(node, alone);
  }

  /** A unit that more than one blank parts from its number comes as a word of its own. */
  private strayed(node: Quantity, alone: Parsed): Parsed | undefined {
    const cst = GrammarUtils.findNodeForProperty(node.$cstNode, 'number');
    const stray = GrammarUtils.findNodeForProperty(node.$cstNode, 'stray');
    const tolerance = node.tolerances.at(-1)?.replace(SIGNS, '');
    if (tolerance !== undefined && /^[\d.]+$/.test(tolerance)) {
      // `+-1 percent`: the word is the unit of the tolerance.
      const size = parseQuantity(`${tolerance} ${node.stray}`, ['ratio', alone.dimension]);
      const [sign] = GrammarUtils.findNodesForProperty(node.$cstNode, 'tolerances').slice(-1);
      const stretch = sign !== undefined && stray !== undefined ? { from: sign, to: stray } : stray;
      if (isQuantityError(size)) return this.quantityError(node, size.error, stretch);
    }
    if (alone.dimension !== 'number' || node.tolerances.length > 0) {
      return this.fail(
        node,
        'comma-missing',
        `'${node.stray}' does not belong here: values are parted by commas`,
        stray,
      );
    }
    const together = parseQuantity(`${node.number} ${node.stray}`, this.expected);
    if (!isQuantityError(together)) return together;
    const stretch = cst !== undefined && stray !== undefined ? { from: cst, to: stray } : stray;
    return this.quantityError(node, together.error, stretch);
  }

  private word(node: WordTerm): Evaluated | undefined {
    const { reference } = node;
    const head = reference?.head;
    if (reference === undefined || head === undefined) return undefined;
    const text = head.$refText;
    const quoted = head.$refNode?.text.startsWith('"') === true;
    if (node.quantity !== undefined && (text === 'below' || text === 'above') && !quoted) {
      const edge = this.quantity(node.quantity);
      if (edge === undefined) return undefined;
      const open = text === 'below' ? halfOpenBelow(edge.value) : halfOpenAbove(edge.value);
      return { ...open, sort: 'half-open', side: text, dimension: edge.dimension, node };
    }
    const dotted = reference.steps.length > 0;
    const target = this.names.target(node);
    const bare = node.quantity === undefined && node.duration === undefined && node.state === undefined;
    const meant = bare ? this.names.meant(node, target) : undefined;
    if (meant !== undefined) return meant;
    const { duration, quantity } = node;
    return {
      sort: 'word',
      text: dotted ? (reference.$cstNode?.text ?? text) : text,
      word: referenceText(reference),
      quoted,
      dotted,
      reference,
      target,
      quantity: quantity === undefined ? undefined : this.amount(quantity),
      duration: duration === undefined ? undefined : new ValueReader(['s'], this.errors, this.names).value(duration),
      state: node.state?.word?.$refText,
      node,
    };
  }

  private quantityError(
    node: AstNode,
    error: { readonly code: string; readonly message: string; readonly suggestion?: string },
    cst: ValueError['cst'],
  ): undefined {
    const code = error.code === 'unit-unknown' || error.code === 'unit-missing' ? error.code : 'value-unreadable';
    this.errors.push({ code, message: error.message, suggestion: error.suggestion, node, cst });
    return undefined;
  }

  private spreadError(node: AstNode, error: SpreadError, cst?: CstNode): undefined {
    const code = error.code === 'unit-missing' ? 'unit-missing' : 'spread-wrong';
    this.errors.push({ code, message: error.message, node, cst });
    return undefined;
  }

  private fail(node: AstNode, code: ValueErrorCode, message: string, cst?: CstNode): undefined {
    this.errors.push({ code, message, node, cst });
    return undefined;
  }
}

/** A given that stands for a quantity. */
function isLength(node: Named | undefined): boolean {
  return isGiven(node) && QUANTITY_GIVENS.has(node.kind);
}

/** What a given may ask for that is a quantity, with its dimension. */
export const QUANTITY_GIVENS: ReadonlyMap<string, Dimension> = new Map([
  ['length', 'm'],
  ['time', 's'],
  ['volts', 'V'],
  ['current', 'A'],
  ['resistance', 'ohm'],
  ['size', 'mm2'],
]);
