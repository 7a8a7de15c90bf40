/**
 * Tables of the names that a file, an assembly or a body declares, by hash map. They are made once for a tree and kept
 * beside it; a tree that is parsed again is another tree. They hold nothing of other files.
 */
import type { AstNode } from 'langium';
import {
  type AssemblyBody,
  type Body,
  type CoupletFile,
  isAssemblyBody,
  isCase,
  isComponent,
  isConfirm,
  isGiven,
  isGroup,
  isMember,
  isNamedValue,
  isPlace,
  isProgram,
  isProperty,
  isQuantity,
  isTypeDeclaration,
  isUse,
  isWordTerm,
  type MemberName,
  type Named,
  type Program,
  type Property,
  type Reference,
} from '../generated/ast.ts';
import { subjectOfBody } from '../properties/subjects.ts';
import { propertyRow, targetsOf } from '../properties/table.ts';

/** Several things may wrongly have one name; the first one is the one that references lead to. */
export class Names {
  private readonly byName = new Map<string, Named[]>();

  add(name: string | undefined, node: Named): void {
    if (name === undefined) return;
    const nodes = this.byName.get(name);
    if (nodes === undefined) this.byName.set(name, [node]);
    else nodes.push(node);
  }

  has(name: string): boolean {
    return this.byName.has(name);
  }

  first(name: string): Named | undefined {
    return this.byName.get(name)?.[0];
  }

  all(name: string): readonly Named[] {
    return this.byName.get(name) ?? [];
  }

  entries(): IterableIterator<[string, Named[]]> {
    return this.byName.entries();
  }

  /** Whether another table has as many things under each name, the names in the same order. */
  isLike(other: Names): boolean {
    if (this.byName.size !== other.byName.size) return false;
    const theirs = other.byName.entries();
    for (const [name, nodes] of this.byName) {
      const [otherName, otherNodes] = theirs.next().value as [string, Named[]];
      if (name !== otherName || nodes.length !== otherNodes.length) return false;
    }
    return true;
  }

  /** Puts the things of one table into the places of those of another one that is like it; both are parts of this one. */
  exchange(before: Names, now: Names): void {
    for (const [name, nodes] of now.byName) {
      const mine = this.byName.get(name);
      const old = before.all(name);
      if (mine === undefined) continue;
      for (const [i, node] of nodes.entries()) {
        const at = mine.indexOf(old[i] as Named);
        if (at >= 0) mine[at] = node;
      }
    }
  }
}

export interface TopNames {
  /** Components, places, values, confirmations, prefixes and givens. */
  readonly things: Names;
  readonly types: Names;
  readonly cases: Names;
  /** `program` statements with a setting of their own, by `settingKey`. */
  readonly settings: Names;
}

const topTables = new WeakMap<AstNode, TopNames>();
const bodyTables = new WeakMap<AstNode, Names>();

/** What the statements of a file or of an assembly declare. */
export function topNames(container: CoupletFile | AssemblyBody): TopNames {
  const known = topTables.get(container);
  if (known !== undefined) return known;
  const names: TopNames = { things: new Names(), types: new Names(), cases: new Names(), settings: new Names() };
  for (const node of isAssemblyBody(container) ? container.items : container.statements) {
    if (isComponent(node)) for (const name of node.names) names.things.add(name.name, name);
    else if (isTypeDeclaration(node)) names.types.add(node.name, node);
    else if (isCase(node)) names.cases.add(node.name, node);
    else if (isProgram(node) && node.setting !== undefined) names.settings.add(settingKey(node), node);
    else if (isPlace(node) || isNamedValue(node) || isConfirm(node) || isGiven(node) || isUse(node)) {
      names.things.add(node.name, node);
    }
  }
  topTables.set(container, names);
  return names;
}

/** The key of a setting: the unit as the statement names it, and the setting. */
export function settingKey(program: Program): string {
  return `${referenceText(program.target)}\n${program.setting}`;
}

/**
 * What the body of a component or type declares: members, the terminals that their properties name, cores, numbered
 * terminals of a joint.
 */
export function bodyNames(body: Body): Names {
  const known = bodyTables.get(body);
  if (known !== undefined) return known;
  const names = new Names();
  bodyTables.set(body, names);
  addMembers(body, names);
  addDeclared(body, names);
  return names;
}

/** A member that stands in another one is misplaced, or the brace before it is missing: its name counts all the same. */
function addMembers(body: Body, names: Names): void {
  for (const item of body.items) {
    if (!isMember(item)) continue;
    for (const name of item.names) for (const each of countedNames(name)) names.add(each, name);
    if (item.body !== undefined) addMembers(item.body, names);
  }
}

/** `Z1 .. Z8` is eight names. The last number counts up, with its leading zeros. */
export function countedNames(member: MemberName): readonly string[] {
  if (member.name === undefined) return [];
  if (member.last === undefined) return [member.name];
  const first = /^(.*?)(\d+)$/.exec(member.name);
  const last = /^(.*?)(\d+)$/.exec(member.last);
  if (first === null || last === null || first[1] !== last[1]) return [member.name, member.last];
  const [, stem = '', digits = ''] = first;
  const from = Number(digits);
  const to = Number(last[2]);
  if (to < from || to - from >= MOST_COUNTED) return [member.name, member.last];
  const width = digits.startsWith('0') ? digits.length : 0;
  return Array.from({ length: to - from + 1 }, (_, i) => stem + String(from + i).padStart(width, '0'));
}

/** More members than that in one statement are a slip of the pen. */
export const MOST_COUNTED = 1000;

/** A reference, or its first steps, as it would be written. */
export function referenceText(reference: Reference | undefined, count = Number.POSITIVE_INFINITY): string {
  if (reference === undefined) return '';
  const steps = reference.steps.slice(0, count).map((step) => {
    const parts = step.parts.map((part) => part.$refText).join('-');
    return `.${[parts, ...step.doubled.map((part) => part.$refText)].join('+')}`;
  });
  return (reference.head?.$refText ?? '') + steps.join('');
}

function addDeclared(body: Body, names: Names): void {
  for (const item of body.items) {
    if (isProperty(item)) addProperty(item, body, names);
    else if ((isMember(item) || isGroup(item)) && item.body !== undefined) addDeclared(item.body, names);
  }
}

function addProperty(property: Property, body: Body, names: Names): void {
  const subject = subjectOfBody(body);
  if (subject === undefined || property.owner !== undefined) return;
  if (subject === 'cable') addCores(property, names);
  if (subject === 'joint' && property.name === 'terminals') addNumbered(property, names);
  const row = propertyRow(subject, property.name);
  if (row === undefined || !targetsOf(row).includes('terminal')) return;
  for (const value of property.values) {
    const term = value.terms[0];
    if (value.terms.length !== 1 || term === undefined) continue;
    const name = declaredName(term);
    if (name !== undefined && !names.has(name)) names.add(name, term);
  }
}

/** The name that a term gives to a terminal or core, undefined where it cannot be one. */
export function declaredName(term: Named): string | undefined {
  if (isQuantity(term)) return term.tolerances.length === 0 && term.stray === undefined ? term.number : undefined;
  if (!isWordTerm(term) || term.reference === undefined || term.reference.steps.length > 0) return undefined;
  if (term.quantity !== undefined || term.duration !== undefined || term.state !== undefined) return undefined;
  return term.reference.head?.$refText;
}

function addCores(property: Property, names: Names): void {
  if (property.name === 'screen') {
    if (property.values[0]?.$cstNode?.text !== 'no') names.add('screen', property);
    return;
  }
  if (property.name !== 'cores') return;
  const only = property.values.length === 1 ? property.values[0]?.terms[0] : undefined;
  if (isQuantity(only)) {
    addNumbered(property, names);
    return;
  }
  for (const value of property.values) {
    const term = value.terms[0];
    if (term !== undefined) names.add(declaredName(term), term);
  }
}

function addNumbered(property: Property, names: Names): void {
  const term = property.values[0]?.terms[0];
  if (!isQuantity(term)) return;
  const count = /^\d+$/.test(term.number) ? Number(term.number) : 0;
  for (let i = 1; i <= Math.min(count, MOST_COUNTED); i++) names.add(String(i), term);
}
