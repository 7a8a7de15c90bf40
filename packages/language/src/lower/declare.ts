/** What the files of a site declare: names, parts with what is written of them, and the blocks of statements to lower. */
import type { PlaceId } from '@couplet/engine';
import type { AstNode } from 'langium';
import {
  type AssemblyItem,
  type Component,
  type ComponentName,
  type Given,
  isAssemblyBody,
  isBody,
  isComponent,
  isConfirm,
  isGiven,
  isNamedValue,
  isPlace,
  isProperty,
  isTypeDeclaration,
  isUse,
  isWordTerm,
  type Place,
  type Statement,
  type TypeDeclaration,
} from '../generated/ast.ts';
import { Bag, bodyItems, type Entry } from './bags.ts';
import { Facts } from './facts.ts';
import type { Part } from './part.ts';
import { textOf } from './parts/builder.ts';
import { ambientOf } from './read.ts';
import { placeOf, resolve } from './resolve.ts';
import { type Named, outermost, Scope } from './scope.ts';
import type { Site } from './site.ts';

/** Statements that are lowered in one scope: those of a file, or of an assembly for one use of it. */
export interface Block {
  readonly items: readonly (Statement | AssemblyItem)[];
  readonly scope: Scope;
}

/** Assemblies in assemblies: deeper ones hold themselves. */
const MOST_DEPTH = 16;

export class Declarations {
  readonly blocks: Block[] = [];
  /** The scopes of all uses of an assembly. */
  readonly usesOf = new Map<TypeDeclaration, Scope[]>();
  private readonly site: Site;
  private readonly typeBags = new Map<TypeDeclaration, Bag>();
  private readonly scopeOfType = new Map<TypeDeclaration, Scope>();

  constructor(site: Site) {
    this.site = site;
  }

  /** Takes in the files of a site, each with the scope it counts in: what all of them declare, the components of some. */
  read(files: readonly Block[], own: readonly Block[]): void {
    for (const block of files) this.declareSimple(block);
    for (const block of own) this.declareComponents(block, 0);
    for (const part of this.site.parts) this.place(part);
  }

  /** Places, values, types: what components may refer to. */
  private declareSimple({ items, scope }: Block): void {
    for (const item of items) {
      if (isPlace(item)) this.declarePlace(item, scope);
      else if (isNamedValue(item) && item.value !== undefined) {
        this.name(scope, item.name, { sort: 'value', values: [item.value], scope, node: item });
      } else if (isConfirm(item)) this.name(scope, item.name, { sort: 'confirm', confirm: item, node: item });
      else if (isTypeDeclaration(item)) this.declareType(item, scope);
      else if (isUse(item) && item.name !== undefined) {
        const inner = scope.spaces.get(item.name);
        if (inner !== undefined) this.name(scope, item.name, { sort: 'space', scope: inner, node: item });
      }
    }
  }

  /** Types are known under their own names in the whole site, also where their file is used under a name. */
  private declareType(type: TypeDeclaration, scope: Scope): void {
    const { types } = outermost(scope);
    if (type.name === undefined || types.has(type.name)) return;
    types.set(type.name, type);
    this.scopeOfType.set(type, scope);
  }

  private declareComponents(block: Block, depth: number): void {
    this.blocks.push(block);
    for (const item of block.items) {
      if (isComponent(item)) this.declareComponent(item, block.scope, depth);
    }
  }

  /** The first of several things with one name counts; that there are several is told elsewhere. */
  private name(scope: Scope, name: string | undefined, named: Named): void {
    if (name !== undefined && !scope.names.has(name)) scope.names.set(name, named);
  }

  private declarePlace(node: Place, scope: Scope): void {
    if (node.name === undefined || scope.names.has(node.name)) return;
    const bag = new Bag();
    bag.read(bodyItems(node.body), scope);
    const facts = new Facts(this.site.reader, bag, 'place', this.site.origins.of(node));
    const id = this.site.place({
      name: scope.prefix + node.name,
      description: textOf(node.description),
      ambient: ambientDatum(facts),
      wet: facts.given('wet'),
      origin: facts.origin,
    });
    scope.names.set(node.name, { sort: 'place', id, node });
  }

  private declareComponent(declaration: Component, scope: Scope, depth: number): void {
    if (declaration.kind === undefined) return;
    const bag = this.bagOf(declaration, scope);
    const several = declaration.names.length > 1;
    for (const node of declaration.names) {
      if (node.name === undefined || scope.names.has(node.name)) continue;
      const over = scope.overrides?.within(node.name);
      const own = over === undefined ? (several ? new Bag(bag) : bag) : layered(over, bag);
      if (declaration.kind === 'assembly') this.expand(declaration, node, own, scope, depth);
      else this.addPart(declaration, node, own, scope);
    }
  }

  private addPart(declaration: Component, node: ComponentName, bag: Bag, scope: Scope): void {
    const part: Part = {
      kind: declaration.kind,
      name: scope.prefix + node.name,
      node,
      declaration,
      scope,
      bag,
      points: new Map(),
      id: -1,
      spot: -1,
    };
    this.site.parts.push(part);
    scope.names.set(node.name, { sort: 'part', part, node });
  }

  /** What is written of a component: its own body over its type, its rating under '='. */
  private bagOf(declaration: Component, scope: Scope): Bag {
    const bag = new Bag(this.typeBag(declaration, scope));
    bag.read(bodyItems(declaration.body), scope);
    if (declaration.rating.length > 0) bag.set('=', { values: declaration.rating, node: declaration, scope });
    return bag;
  }

  private typeBag(declaration: Component, scope: Scope): Bag | undefined {
    const name = declaration.type?.$refText;
    const type = name === undefined ? undefined : scope.type(name);
    if (type === undefined || type.kind !== declaration.kind) return undefined;
    let bag = this.typeBags.get(type);
    if (bag === undefined) {
      bag = new Bag();
      const own = this.scopeOfType.get(type) ?? scope;
      const items = isBody(type.body) ? type.body.items : (type.body?.items.filter(isProperty) ?? []);
      bag.read(items, own);
      this.typeBags.set(type, bag);
    }
    return bag;
  }

  // ---- assemblies ----

  private expand(declaration: Component, node: ComponentName, bag: Bag, scope: Scope, depth: number): void {
    const type = declaration.type === undefined ? undefined : scope.type(declaration.type.$refText);
    if (type === undefined || !isAssemblyBody(type.body)) return;
    if (depth >= MOST_DEPTH) {
      this.site.report('assembly-in-itself', node, `${node.name}: the assembly ${type.name} holds itself.`);
      return;
    }
    const around = this.scopeOfType.get(type) ?? scope;
    const name = scope.prefix + node.name;
    const use = this.site.origins.addUse({ name, node, declaration, type }, scope.use);
    const inner = new Scope(`${name}.`, around, use, bag);
    const place = this.placeOfUse(declaration, node, scope);
    scope.names.set(node.name, { sort: 'space', scope: inner, place, node });
    inner.names.set('here', { sort: 'place', id: place, node });
    const uses = this.usesOf.get(type);
    if (uses === undefined) this.usesOf.set(type, [inner]);
    else uses.push(inner);
    for (const item of type.body.items) {
      if (isGiven(item)) this.give(item, node, type, bag, inner);
    }
    const block = { items: type.body.items, scope: inner };
    this.site.origins.within(inner.use, () => {
      this.declareSimple(block);
      this.declareComponents(block, depth + 1);
    });
  }

  /** The place a use is in; without `in` a place of its own. */
  private placeOfUse(declaration: Component, node: ComponentName, scope: Scope): PlaceId {
    const given = placeOf(this.site, resolve(this.site, declaration.place, scope));
    if (given !== undefined) return given;
    const description = textOf(declaration.description);
    return this.site.place({ name: scope.prefix + node.name, description, origin: this.site.origins.of(node) });
  }

  private give(given: Given, node: ComponentName, type: TypeDeclaration, bag: Bag, inner: Scope): void {
    if (given.name === undefined) return;
    const entry = bag.get(given.name);
    if (entry === undefined) {
      const message = `${node.name} does not give '${given.name}' (${given.kind}), which ${type.name} asks for.`;
      this.site.report('given-missing', node, message, {
        related: [{ node: given, message: `${type.name} asks for it here.` }],
      });
      inner.names.set(given.name, { sort: 'missing', node: given });
      return;
    }
    inner.names.set(given.name, meaningOf(entry, given));
  }

  // ---- places of parts ----

  private place(part: Part): void {
    const { site } = this;
    const reference = part.declaration.place;
    const place = reference === undefined ? undefined : placeOf(site, resolve(site, reference, part.scope));
    part.place = place;
    part.spot = place === undefined ? site.spots.fresh() : site.spots.at(place);
  }
}

/** What a use of an assembly says of an inner component, over what the assembly says of it. */
function layered(over: Bag, under: Bag): Bag {
  const bag = new Bag(under);
  for (const [name, entry] of over.all()) bag.set(name, entry);
  for (const name of over.innerNames()) {
    const inner = over.within(name);
    if (inner === undefined) continue;
    for (const [property, entry] of inner.all()) bag.withinHere(name).set(property, entry);
  }
  return bag;
}

/** A given stands for a component or member, for a named value, or for a value. */
function meaningOf(entry: Entry, node: AstNode): Named {
  const term = entry.values.length === 1 ? entry.values[0]?.terms[0] : undefined;
  if (isWordTerm(term) && term.reference !== undefined && term.quantity === undefined) {
    return { sort: 'alias', reference: term.reference, scope: entry.scope, node };
  }
  return { sort: 'value', values: entry.values, scope: entry.scope, node };
}

export function ambientDatum(facts: Facts) {
  const amount = facts.amount('ambient', 'degC');
  if (amount === undefined) return undefined;
  const spread = ambientOf(amount);
  const origin = facts.at(amount.node);
  if (amount.form !== 'range') return { ...spread, origin };
  const usual = spread.usual === 20 ? '20 degC' : 'the middle of its range';
  return { ...spread, origin, assumption: `usual ambient taken as ${usual}` };
}
