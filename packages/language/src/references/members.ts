/** What may follow a dot: the members, terminals, cores, settings and cases of a thing. */
import { AstUtils } from 'langium';
import {
  type Body,
  type Component,
  type ComponentName,
  type CoupletFile,
  type Given,
  isAssemblyBody,
  isBody,
  isComponent,
  isComponentName,
  isGiven,
  isMember,
  isMemberName,
  isPlace,
  isProperty,
  isQuantity,
  isTypeDeclaration,
  isUse,
  isWordTerm,
  type MemberName,
  type Named,
  type TypeDeclaration,
} from '../generated/ast.ts';
import { type ContactForm, contactForms, ownProperty, poleTerminal, poleTerminalNames } from './contacts.ts';
import type { Library } from './library.ts';
import { EMPTY_LOOKUP, firstOf, inTables, type Lookup } from './lookup.ts';
import { bodyNames, Names, topNames } from './names.ts';
import type { SiteScopes } from './site-scopes.ts';

/** Kinds whose terminals depend on the form of their contacts. */
const WITH_CONTACTS = new Set(['relay', 'switch']);
/** Kinds whose own bodies replace the cores or terminals of their type rather than add to them. */
const REPLACED: Readonly<Record<string, string>> = { cable: 'cores', joint: 'terminals' };

export class Members {
  private readonly library: Library;
  private readonly sites: SiteScopes;

  constructor(library: Library, sites: SiteScopes) {
    this.library = library;
    this.sites = sites;
  }

  /** What a dot after `node` leads into; `text` is how the node was reached, for settings. */
  of(node: Named, text: string): Lookup {
    if (isComponentName(node)) return this.ofComponent(node, text);
    if (isTypeDeclaration(node)) return this.ofType(node);
    if (isMemberName(node)) return this.ofMember(node);
    if (isGiven(node)) return this.ofGiven(node);
    if (isUse(node)) return this.ofPrefix(AstUtils.getDocument(node).uri.toString(), node.name);
    if (isCore(node)) return this.places(node);
    return EMPTY_LOOKUP;
  }

  /** Members and terminals of a component itself and of its type, without settings: what its bodies can name. */
  ofUnit(unit: Component | TypeDeclaration): Lookup {
    const tables: Names[] = [];
    if (isBody(unit.body)) tables.push(bodyNames(unit.body));
    const type = isComponent(unit) ? unit.type?.ref : undefined;
    if (isBody(type?.body) && !replaces(unit.body, unit.kind)) tables.push(bodyNames(type.body));
    return firstOf(inTables(tables), this.ofKind(unit));
  }

  private ofComponent(name: ComponentName, text: string): Lookup {
    const component = name.$container;
    if (!isComponent(component)) return EMPTY_LOOKUP;
    if (component.kind === 'assembly') return this.ofType(component.type?.ref);
    return firstOf(this.ofUnit(component), this.settings(name, text));
  }

  /** Inside an assembly: its things and its cases. A unit's type: its members (for acceptances). */
  private ofType(type: TypeDeclaration | undefined): Lookup {
    if (type === undefined) return EMPTY_LOOKUP;
    if (!isAssemblyBody(type.body)) return this.ofUnit(type);
    const { things, cases } = topNames(type.body);
    return inTables([things, cases]);
  }

  /** The terminals that the kind itself has. */
  private ofKind(unit: Component | TypeDeclaration): Lookup {
    const own = inTables([this.library.terminals(unit.kind)]);
    return WITH_CONTACTS.has(unit.kind) ? firstOf(own, this.contacts(unit)) : own;
  }

  private contacts(unit: Component | TypeDeclaration): Lookup {
    const forms = formsOf(unit);
    const timer = unitProperty(unit, 'function') !== undefined;
    return {
      get: (name) => {
        const terminal = poleTerminal(name, forms, timer);
        return terminal && this.library.terminals(terminal.form).first(terminal.inLibrary);
      },
      entries: () =>
        poleTerminalNames(forms ?? ['changeover']).flatMap((name) => {
          const terminal = poleTerminal(name, forms, false);
          const node = terminal && this.library.terminals(terminal.form).first(terminal.inLibrary);
          return node === undefined ? [] : [[name, node] as const];
        }),
    };
  }

  /** `level."Beacon time"`: settings are declared by `program` statements of the same file, assembly or site. */
  private settings(component: ComponentName, text: string): Lookup {
    const near = AstUtils.getContainerOfType(component, isAssemblyBody);
    const uri = AstUtils.getDocument(component).uri.toString();
    const own = near ?? (AstUtils.findRootNode(component) as CoupletFile);
    const tables = [topNames(own).settings, ...this.sites.around(uri, 'settings')];
    const units = new Set([text, component.name]);
    return {
      get: (name) => {
        for (const table of tables) {
          for (const unit of units) {
            const found = table.first(`${unit}\n${name}`);
            if (found !== undefined) return found;
          }
        }
        return undefined;
      },
      *entries() {
        for (const table of tables) {
          for (const [key, nodes] of table.entries()) {
            const [unit = '', setting = ''] = key.split('\n');
            if (units.has(unit) && nodes[0] !== undefined) yield [setting, nodes[0]] as const;
          }
        }
      },
    };
  }

  /** `Z.return`: the terminals that a member's properties name, by those properties. */
  private ofMember(name: MemberName): Lookup {
    const member = name.$container;
    const body = isMember(member) ? member.body : undefined;
    if (body === undefined) return EMPTY_LOOKUP;
    const named = new Names();
    for (const item of body.items) {
      const term = isProperty(item) && item.owner === undefined ? item.values[0]?.terms[0] : undefined;
      if (!isProperty(item) || term === undefined || !MEMBER_TERMINALS.has(item.name)) continue;
      named.add(item.name, isWordTerm(term) ? (term.reference?.head?.ref ?? term) : term);
    }
    return inTables([named]);
  }

  private ofGiven(given: Given): Lookup {
    const kind = given.kind;
    const own = inTables([this.library.terminals(kind), this.library.terminals('given-member')]);
    if (!WITH_CONTACTS.has(kind)) return own;
    return firstOf(own, {
      get: (name) => {
        const terminal = poleTerminal(name, undefined);
        return terminal && this.library.terminals(terminal.form).first(terminal.inLibrary);
      },
      entries: () => [],
    });
  }

  private ofPrefix(uri: string, name: string | undefined): Lookup {
    const tables = name === undefined ? undefined : this.sites.under(uri, name);
    return tables === undefined ? EMPTY_LOOKUP : inTables([tables.things, tables.cases]);
  }

  /** The end of a core at a place. */
  private places(core: Named): Lookup {
    const near = AstUtils.getContainerOfType(core, isAssemblyBody);
    const uri = AstUtils.getDocument(core).uri.toString();
    const own = near ?? (AstUtils.findRootNode(core) as CoupletFile);
    const tables = [topNames(own).things, ...this.sites.around(uri, 'things'), this.library.top.things];
    return inTables(tables, (node) => isPlace(node) || isComponentName(node) || isGiven(node));
  }
}

/** Properties of members whose word is a terminal, and so can be asked for by name. */
const MEMBER_TERMINALS = new Set(['return', 'plus', 'minus', 'from', 'to', 'common', 'nc', 'no']);

/** A property as it counts for a component: its own, or its type's. */
export function unitProperty(unit: Component | TypeDeclaration, name: string) {
  const own = isBody(unit.body) ? ownProperty(unit.body, name) : undefined;
  if (own !== undefined || !isComponent(unit)) return own;
  const type = unit.type?.ref;
  return isBody(type?.body) ? ownProperty(type.body, name) : undefined;
}

/** Forms of the contacts of a relay or switch, one a pole; undefined where they are not given. */
export function formsOf(unit: Component | TypeDeclaration): readonly ContactForm[] | undefined {
  const property = unitProperty(unit, 'contacts');
  return property && contactForms(property.values);
}

/** Whether a node stands for a core: a word or number of `cores`, or `screen`. */
export function isCore(node: Named): boolean {
  if (isProperty(node)) return node.name === 'screen';
  if (!isWordTerm(node) && !isQuantity(node)) return false;
  const property = AstUtils.getContainerOfType(node, isProperty);
  return property?.name === 'cores';
}

function replaces(body: Component['body'] | TypeDeclaration['body'], kind: string): boolean {
  const name = REPLACED[kind];
  return name !== undefined && isBody(body) && ownProperty(body as Body, name) !== undefined;
}
