/**
 * What is written of a component, in layers: its type, its own body, what an assembly's use overrides, what is programmed.
 * A later layer is asked first. Layers of types are built once and shared by all components of the type.
 */
import type { AstNode } from 'langium';
import type {
  Body,
  BodyItem,
  Group,
  Member,
  MemberKind,
  MemberName,
  Property,
  Reference,
  Value,
} from '../generated/ast.ts';
import type { Scope } from './scope.ts';

/** The values of one property, with the node to point at and the scope in which names in them are looked up. */
export interface Entry {
  readonly values: readonly Value[];
  readonly node: AstNode;
  readonly scope: Scope;
}

/** A member as declared: `Z1 .. Z8` makes eight of them over one bag. */
export interface MemberSpec {
  readonly kind: MemberKind;
  readonly name: string;
  readonly node: MemberName;
  readonly declaration: Member;
  readonly bag: Bag;
}

export class Bag {
  readonly base: Bag | undefined;
  private readonly own = new Map<string, Entry>();
  private inner: Map<string, Bag> | undefined;
  private declared: Map<string, MemberSpec> | undefined;
  private memberList: readonly MemberSpec[] | undefined;
  private groupNodes: Map<string, Group> | undefined;

  constructor(base?: Bag) {
    this.base = base;
  }

  /** What is said of a property. '=' is also said by `rating` in a body. */
  get(name: string): Entry | undefined {
    const own = this.own.get(name) ?? (name === '=' ? this.own.get('rating') : undefined);
    return own ?? this.base?.get(name);
  }

  set(name: string, entry: Entry): void {
    this.own.set(name, entry);
  }

  /** Everything that is said, in the order in which it was first written. */
  all(): Map<string, Entry> {
    const entries = this.base?.all() ?? new Map<string, Entry>();
    for (const [name, entry] of this.own) entries.set(name, entry);
    return entries;
  }

  /** The bag of a member, pole or inner component, whichever layer knows it. */
  within(name: string): Bag | undefined {
    return this.inner?.get(name) ?? this.declared?.get(name)?.bag ?? this.base?.within(name);
  }

  /** The bag of a member, pole or inner component in this very layer, over what lower layers say. */
  withinHere(name: string): Bag {
    this.inner ??= new Map();
    let bag = this.inner.get(name);
    if (bag === undefined) {
      bag = new Bag(this.within(name));
      this.inner.set(name, bag);
    }
    return bag;
  }

  /** Names of the inner bags of this layer. */
  innerNames(): Iterable<string> {
    return this.inner?.keys() ?? [];
  }

  group(name: string): Group | undefined {
    return this.groupNodes?.get(name) ?? this.base?.group(name);
  }

  /** Members of all layers, those of the lowest first. A member declared again takes the place of the former. */
  members(): readonly MemberSpec[] {
    const below = this.base?.members() ?? [];
    if (this.declared === undefined) return below;
    if (this.memberList === undefined) {
      const specs = new Map(below.map((spec) => [spec.name, spec]));
      for (const spec of this.declared.values()) specs.set(spec.name, spec);
      this.memberList = [...specs.values()];
    }
    return this.memberList;
  }

  /** Takes in the items of a body. */
  read(items: readonly (BodyItem | AstNode)[], scope: Scope): void {
    for (const item of items) {
      if (item.$type === 'Member') this.addMembers(item as Member, scope);
      else if (item.$type === 'Group') this.addGroup(item as Group);
    }
    for (const item of items) {
      if (item.$type === 'Property') this.addProperty(item as Property, scope);
    }
  }

  private addMembers(declaration: Member, scope: Scope): void {
    const bag = new Bag();
    bag.read(bodyItems(declaration.body), scope);
    this.declared ??= new Map();
    this.memberList = undefined;
    for (const node of declaration.names) {
      for (const name of countedUp(node)) {
        this.declared.set(name, { kind: declaration.kind, name, node, declaration, bag });
      }
    }
  }

  private addGroup(group: Group): void {
    this.groupNodes ??= new Map();
    this.groupNodes.set(group.role === undefined ? group.name : `as ${group.role}`, group);
  }

  private addProperty(property: Property, scope: Scope): void {
    if (property.name === undefined) return;
    let bag: Bag = this;
    for (const name of property.owner === undefined ? [] : dottedNames(property.owner)) bag = bag.withinHere(name);
    bag.set(property.name, { values: property.values, node: property, scope });
  }
}

export function bodyItems(body: Body | undefined): readonly BodyItem[] {
  return body?.items ?? [];
}

/** `a.b-c` as ['a', 'b-c']. */
export function dottedNames(reference: Reference): string[] {
  const names = [reference.head?.$refText ?? ''];
  for (const step of reference.steps) names.push(step.parts.map((part) => part.$refText).join('-'));
  return names;
}

/** Members that one declaration may make at most: more is a slip of the pen. */
const MOST_COUNTED = 1024;

/** `Z1 .. Z8` as Z1, Z2 … Z8; the name alone where it does not count up. */
export function countedUp(node: Pick<MemberName, 'name' | 'last'>): string[] {
  if (node.name === undefined) return [];
  const first = /^(.*?)(\d+)$/.exec(node.name);
  const last = /^(.*?)(\d+)$/.exec(node.last ?? '');
  if (first === null || last === null || first[1] !== last[1]) return [node.name];
  const from = Number(first[2]);
  const to = Number(last[2]);
  if (to < from || to - from >= MOST_COUNTED) return [node.name];
  const width = first[2]?.startsWith('0') ? (first[2]?.length ?? 0) : 0;
  return Array.from({ length: to - from + 1 }, (_, i) => `${first[1]}${String(from + i).padStart(width, '0')}`);
}
