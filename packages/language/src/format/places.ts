/**
 * `in` that says once more what a chain says. Resistors, diodes and capacitors take their place from the chain. Where
 * everything that one of them is joined to is put in the same place by its own statement, in the same file or assembly,
 * the part's own `in` is redundant; cores beside it say nothing either way. Where a neighbour is declared in another
 * file, has no `in`, or takes its place from a chain itself, the text alone does not decide, and `in` stays.
 */
import type { AstNode } from 'langium';
import {
  type AssemblyItem,
  type Component,
  isAssemblyBody,
  isBond,
  isComponent,
  isTypeDeclaration,
  isWire,
  type Reference,
  type Statement,
} from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';
import type { Context } from './marks.ts';

const TAKES_PLACE_FROM_CHAIN: ReadonlySet<string> = new Set(['resistor', 'diode', 'capacitor']);
/** Parts that a chain names alone. */
const NAMED_ALONE: ReadonlySet<string> = new Set(['load', 'fuse', 'switch', 'joint']);
/** Their ends lie elsewhere, or what is in them does. */
const NOT_IN_ONE_PLACE: ReadonlySet<string> = new Set(['cable', 'assembly']);

/** Looks through the statements of a file. `strikes`: whether a redundant `in` is looked for at all. */
export function contextOf(statements: readonly Statement[], strikes: boolean): Context {
  const outer = declaredIn(statements);
  const inner = new Map<AstNode, Declared>();
  const placedTwice = new Set<Component>();
  if (strikes) findPlacedTwice(statements, outer, placedTwice);
  for (const statement of statements) {
    if (!isTypeDeclaration(statement) || !isAssemblyBody(statement.body)) continue;
    const declared = declaredIn(statement.body.items);
    inner.set(statement.body, declared);
    if (strikes) findPlacedTwice(statement.body.items, declared, placedTwice);
  }
  return {
    placedTwice,
    isCable(name, chain) {
      const own = chain.$container === undefined ? undefined : inner.get(chain.$container);
      return (own?.get(name) ?? outer.get(name))?.kind === 'cable';
    },
  };
}

type Items = readonly (Statement | AssemblyItem)[];
/** Components by name; undefined where a name is given twice. */
type Declared = ReadonlyMap<string, Component | undefined>;

function declaredIn(items: Items): Declared {
  const declared = new Map<string, Component | undefined>();
  for (const item of items) {
    if (!isComponent(item)) continue;
    for (const { name } of item.names) declared.set(name, declared.has(name) ? undefined : item);
  }
  return declared;
}

function findPlacedTwice(items: Items, declared: Declared, found: Set<Component>): void {
  /** By name: whether a chain says the place that the part's statement says, and nothing in the file may say another. */
  const said = new Map<string, boolean>();
  for (const chain of items) {
    if (!isWire(chain) && !isBond(chain)) continue;
    for (const [i, element] of chain.elements.entries()) {
      const name = element.head?.$refText;
      const part = name === undefined ? undefined : declared.get(name);
      if (name === undefined || part?.place === undefined || !TAKES_PLACE_FROM_CHAIN.has(part.kind)) continue;
      const own = referenceText(part.place);
      for (const neighbour of [chain.elements[i - 1], chain.elements[i + 1]]) {
        if (neighbour === undefined || isAnywhere(neighbour, declared)) continue;
        said.set(name, placeOf(neighbour, declared) === own && said.get(name) !== false);
      }
    }
  }
  for (const item of items) {
    if (isComponent(item) && item.names.length > 0 && item.names.every(({ name }) => said.get(name) === true)) {
      found.add(item);
    }
  }
}

/** Earth is everywhere, and the end of a core goes by what it is joined to. */
function isAnywhere({ head, steps }: Reference, declared: Declared): boolean {
  const name = head?.$refText ?? '';
  if (steps.length === 0) return name === 'earth' && !declared.has(name);
  return steps.length === 1 && declared.get(name)?.kind === 'cable';
}

/** The place that its own statement gives the part beside another one; parts that take theirs from a chain give none. */
function placeOf({ head, steps }: Reference, declared: Declared): string | undefined {
  const part = declared.get(head?.$refText ?? '');
  if (part?.place === undefined || TAKES_PLACE_FROM_CHAIN.has(part.kind) || NOT_IN_ONE_PLACE.has(part.kind)) {
    return undefined;
  }
  return steps.length > 0 || NAMED_ALONE.has(part.kind) ? referenceText(part.place) : undefined;
}
