/** Names of a site. A file used under a name and every use of an assembly have a scope of their own below the site's. */
import type { ComponentId, PlaceId } from '@couplet/engine';
import type { AstNode } from 'langium';
import type { Confirm, Reference, TypeDeclaration, Value } from '../generated/ast.ts';
import type { Bag } from './bags.ts';
import type { UseId } from './origins.ts';
import type { Part } from './part.ts';

/** What a name stands for. `node` is where it is declared. */
export type Named =
  | { readonly sort: 'part'; readonly part: Part; readonly node: AstNode }
  | { readonly sort: 'place'; readonly id: PlaceId; readonly node: AstNode }
  | { readonly sort: 'value'; readonly values: readonly Value[]; readonly scope: Scope; readonly node: AstNode }
  | { readonly sort: 'alias'; readonly reference: Reference; readonly scope: Scope; readonly node: AstNode }
  | { readonly sort: 'space'; readonly scope: Scope; readonly place?: PlaceId; readonly node: AstNode }
  /** `component` is given once the zones are known. */
  | { readonly sort: 'confirm'; readonly confirm: Confirm; component?: ComponentId; readonly node: AstNode }
  /** A given that a use of an assembly does not give: it has been told. */
  | { readonly sort: 'missing'; readonly node: AstNode };

export class Scope {
  /** What stands before the names of this scope in the design: '' or 'B03.'. */
  readonly prefix: string;
  readonly parent: Scope | undefined;
  readonly names = new Map<string, Named>();
  readonly types = new Map<string, TypeDeclaration>();
  readonly caseNames = new Map<string, number>();
  /** Scopes of the files that this one uses under a name. */
  readonly spaces = new Map<string, Scope>();
  /** What a use of an assembly says of the components in it. */
  readonly overrides: Bag | undefined;
  /** The use of an assembly whose names these are. */
  readonly use: UseId | undefined;

  constructor(prefix = '', parent?: Scope, use?: UseId, overrides?: Bag) {
    this.prefix = prefix;
    this.parent = parent;
    this.use = use;
    this.overrides = overrides;
  }

  find(name: string): Named | undefined {
    return this.names.get(name) ?? this.parent?.find(name);
  }

  type(name: string): TypeDeclaration | undefined {
    return this.types.get(name) ?? this.parent?.type(name);
  }
}

/** The scope of the whole site. */
export function outermost(scope: Scope): Scope {
  let top = scope;
  while (top.parent !== undefined) top = top.parent;
  return top;
}
