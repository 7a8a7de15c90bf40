/**
 * Where every reference leads. One function, `target`, says it for the linker; one, `scope`, lists what could stand
 * there, for completion and for the nearest name of a wrong one.
 */
import { type AstNode, AstUtils, type ReferenceInfo } from 'langium';
import {
  type AssemblyBody,
  type CoupletFile,
  isAccept,
  isAssemblyBody,
  isCase,
  isComponent,
  isComponentName,
  isExpect,
  isGiven,
  isMember,
  isMemberName,
  isNamedValue,
  isPlace,
  isProgram,
  isProperty,
  isReading,
  isReference,
  isState,
  isStep,
  isTurn,
  isTypeDeclaration,
  isUse,
  isValue,
  isWordTerm,
  type Named,
  type Reference,
  type State,
  type Step,
  type WordTerm,
} from '../generated/ast.ts';
import type { Target } from '../properties/row.ts';
import { takesQuantity, targetsOf, wordsOf } from '../properties/table.ts';
import type { Library } from './library.ts';
import { EMPTY_LOOKUP, firstOf, inTables, type Lookup } from './lookup.ts';
import { Members } from './members.ts';
import { referenceText, topNames } from './names.ts';
import { type PlaceOfValue, placeOfValue } from './places-of-values.ts';
import type { SiteScopes } from './site-scopes.ts';
import { readStep, stepPart } from './steps.ts';

/** Why a reference leads nowhere: its name is not known, or what stands before it already leads nowhere. */
export type Unresolved = 'unknown' | 'follows from another';

export class Resolver {
  readonly members: Members;
  private readonly library: Library;
  private readonly sites: SiteScopes;

  constructor(library: Library, sites: SiteScopes) {
    this.library = library;
    this.sites = sites;
    this.members = new Members(library, sites);
  }

  /** The node that a reference leads to. A plain word of a property or a state leads to itself. */
  target(info: ReferenceInfo): Named | Unresolved {
    const { container, reference } = info;
    const text = reference.$refText;
    if (isComponent(container)) return this.types(container).get(text) ?? 'unknown';
    if (isState(container)) return this.stateWord(container, text);
    if (isStep(container)) return this.stepTarget(container, reference);
    if (!isReference(container)) return 'unknown';
    if (isWordTerm(container.$container)) return this.termTarget(container.$container, text);
    return this.headScope(container).get(text) ?? this.poleHead(container, text) ?? 'unknown';
  }

  /** What could stand where a reference stands. */
  scope(info: ReferenceInfo): Lookup {
    const { container } = info;
    if (isComponent(container)) return this.types(container);
    if (isState(container)) return this.modes(container);
    if (isStep(container)) return this.beforeStep(container) ?? EMPTY_LOOKUP;
    if (!isReference(container)) return EMPTY_LOOKUP;
    if (isWordTerm(container.$container)) return this.termScope(container.$container);
    return this.headScope(container);
  }

  /** The members of what stands before a step; undefined where that leads nowhere. */
  beforeStep(step: Step): Lookup | undefined {
    const reference = step.$container;
    if (!isReference(reference)) return undefined;
    const index = reference.steps.indexOf(step);
    const previous = reference.steps[index - 1];
    const before = index <= 0 ? reference.head : previous?.parts.at(-1);
    const node = before?.ref;
    if (node === undefined) return undefined;
    return this.members.of(node, referenceText(reference, Math.max(index, 0)));
  }

  private stepTarget(step: Step, reference: ReferenceInfo['reference']): Named | Unresolved {
    const members = this.beforeStep(step);
    if (members === undefined) return 'follows from another';
    if (step.doubled.some((each) => each === reference)) return members.get(reference.$refText) ?? 'unknown';
    const found = stepPart(readStep(step, members), step, reference);
    return found ?? 'unknown';
  }

  /** Names of components, places and the like at a place in a file. */
  things(node: AstNode): Lookup {
    return this.kept('things', nearest(node), (own, uri) => {
      const { things } = topNames(own);
      const around = this.sites.around(uri, 'things');
      if (!isAssemblyBody(own)) return inTables([things, ...around, this.library.top.things]);
      // Inside an assembly names are its own; only named values reach in.
      return firstOf(inTables([things, this.library.top.things]), inTables(around, isNamedValue));
    });
  }

  private cases(node: AstNode): Lookup {
    return this.kept('cases', nearest(node), (own, uri) => {
      const around = isAssemblyBody(own) ? [] : this.sites.around(uri, 'cases');
      return inTables([topNames(own).cases, ...around, this.library.top.cases]);
    });
  }

  private types(node: AstNode): Lookup {
    return this.kept('types', AstUtils.findRootNode(node) as CoupletFile, (own, uri) =>
      inTables([topNames(own).types, ...this.sites.around(uri, 'types')]),
    );
  }

  /** A look-up is made once for a file or an assembly, until any document changes. */
  private kept(
    name: string,
    own: CoupletFile | AssemblyBody,
    make: (own: CoupletFile | AssemblyBody, uri: string) => Lookup,
  ): Lookup {
    const memo = this.sites.memo<Lookup>(name);
    const known = memo.get(own);
    if (known !== undefined) return known;
    const made = make(own, AstUtils.getDocument(own).uri.toString());
    memo.set(own, made);
    return made;
  }

  /** What the first name of a reference can be. */
  private headScope(reference: Reference): Lookup {
    const owner = reference.$container;
    if (isProperty(owner)) return this.ownMembers(reference);
    if (isReading(owner) || isCase(owner)) return this.caseScope(reference);
    if (isAccept(owner)) return firstOf(this.things(reference), this.types(reference));
    return this.things(reference);
  }

  private caseScope(reference: Reference): Lookup {
    return reference.steps.length === 0 ? this.cases(reference) : this.things(reference);
  }

  /** `Q1.rated: …` in a body: the members there; in the body of an assembly's use, what the assembly holds. */
  private ownMembers(reference: Reference): Lookup {
    const unit = AstUtils.getContainerOfType(reference, (node) => isComponent(node) || isTypeDeclaration(node));
    if (unit === undefined) return EMPTY_LOOKUP;
    if (unit.kind !== 'assembly') return this.members.ofUnit(unit);
    const type = isTypeDeclaration(unit) ? unit : unit.type?.ref;
    return type === undefined ? EMPTY_LOOKUP : this.members.of(type, '');
  }

  /** `11-14.carries: …`: a pole at the head of a property's name leads to its first terminal. */
  private poleHead(reference: Reference, text: string): Named | undefined {
    const cut = text.indexOf('-');
    if (!isProperty(reference.$container) || cut < 0) return undefined;
    const lookup = this.ownMembers(reference);
    return lookup.get(text.slice(cut + 1)) && lookup.get(text.slice(0, cut));
  }

  // ---- states ----

  private stateWord(state: State, text: string): Named | Unresolved {
    return this.modes(state).get(text) ?? state;
  }

  /** The modes of what is turned or expected: the only states that somebody declares. */
  private modes(state: State): Lookup {
    const owner = state.$container;
    const target = isTurn(owner) || isExpect(owner) ? owner.target : undefined;
    const node = target && lastNode(target);
    if (node === undefined || !isComponentName(node)) return EMPTY_LOOKUP;
    const members = this.members.of(node, '');
    const isMode = (each: Named | undefined) =>
      isMemberName(each) && isMember(each.$container) && each.$container.kind === 'mode';
    return {
      get: (name) => (isMode(members.get(name)) ? members.get(name) : undefined),
      *entries() {
        for (const entry of members.entries()) if (isMode(entry[1])) yield entry;
      },
    };
  }

  // ---- words of values ----

  private termTarget(term: WordTerm, text: string): Named | Unresolved {
    const place = placeOfValue(term);
    const reference = term.reference;
    if (reference === undefined) return term;
    if (reference.steps.length > 0) return this.termScope(term).get(text) ?? 'unknown';
    if (place.row !== undefined && wordsOf(place.row).includes(text)) return term;
    if (term.quantity !== undefined && !isValue(term.quantity.$container)) return term;
    const found = this.termScope(term).get(text);
    if (found !== undefined) return found;
    const quoted = reference.head?.$refNode?.text.startsWith('"') === true;
    return this.mustLead(place, quoted) ? 'unknown' : term;
  }

  /** Where only names and quantities can stand, a word that leads nowhere is an unknown name; elsewhere the check of values judges it. */
  private mustLead({ row, quantity }: PlaceOfValue, quoted: boolean): boolean {
    if (row === undefined) return quantity && !quoted;
    const targets = targetsOf(row);
    if (wordsOf(row).length > 0 || targets.includes('terminal') || targets.includes('core')) return false;
    return targets.length > 0 ? !(quoted && targets.includes('thing')) : takesQuantity(row) && !quoted;
  }

  private termScope(term: WordTerm): Lookup {
    const place = placeOfValue(term);
    const reference = term.reference as Reference;
    if (reference.steps.length > 0) {
      const unit = this.unitOf(place);
      return unit === undefined ? this.things(reference) : firstOf(this.things(reference), unit);
    }
    const lookups = (place.row === undefined ? [] : targetsOf(place.row)).map((target) =>
      this.targetScope(target, term, place),
    );
    if (place.quantity || (place.row !== undefined && takesQuantity(place.row))) {
      lookups.push(only(this.things(reference), (node) => isNamedValue(node) || isGiven(node)));
    }
    return firstOf(...lookups);
  }

  private targetScope(target: Target, term: WordTerm, place: PlaceOfValue): Lookup {
    const unit = this.unitOf(place) ?? EMPTY_LOOKUP;
    const reference = term.reference as Reference;
    switch (target) {
      case 'terminal':
      case 'core':
        return only(unit, (node) => !isMember(node.$container) || !NOT_TERMINALS.has(node.$container.kind));
      case 'return':
        return only(unit, (node) => !isMember(node.$container) || RETURNS.has(node.$container.kind));
      case 'rail':
        return only(unit, ofMemberKind('rail'));
      case 'scheme':
        return only(unit, ofMemberKind('scheme'));
      case 'feed':
        return firstOf(
          only(unit, (node) => ofMemberKind('supply')(node) || ofMemberKind('rail')(node)),
          only(this.things(reference), isSource),
        );
      case 'place':
        return only(this.things(reference), (node) => isPlace(node) || isComponentName(node) || isGiven(node));
      case 'case':
        return this.cases(reference);
      case 'thing':
        return firstOf(this.things(reference), unit);
    }
  }

  /** Members of the unit whose property a value is. */
  private unitOf(place: PlaceOfValue): Lookup | undefined {
    if (place.programmed !== undefined) {
      const head = place.programmed.head?.ref;
      return head !== undefined && isComponentName(head) ? this.members.of(head, '') : undefined;
    }
    return place.unit === undefined ? undefined : this.members.ofUnit(place.unit);
  }
}

const NOT_TERMINALS = new Set(['scheme', 'mode', 'supply', 'contact']);
const RETURNS = new Set(['common', 'terminal', 'rail', 'output', 'zone', 'input']);

/** The node that a whole reference leads to. */
export function lastNode(reference: Reference): Named | undefined {
  const last = reference.steps.at(-1);
  return last === undefined ? reference.head?.ref : last.parts.at(-1)?.ref;
}

/** The assembly or file whose statements a node stands among. */
function nearest(node: AstNode): CoupletFile | AssemblyBody {
  return AstUtils.getContainerOfType(node, isAssemblyBody) ?? (AstUtils.findRootNode(node) as CoupletFile);
}

function only(lookup: Lookup, admits: (node: Named) => boolean): Lookup {
  return {
    get: (name) => {
      const found = lookup.get(name);
      return found !== undefined && admits(found) ? found : undefined;
    },
    *entries() {
      for (const entry of lookup.entries()) if (admits(entry[1])) yield entry;
    },
  };
}

function ofMemberKind(kind: string): (node: Named) => boolean {
  return (node) => isMemberName(node) && isMember(node.$container) && node.$container.kind === kind;
}

function isSource(node: Named): boolean {
  if (isUse(node) || isProgram(node)) return false;
  const owner = node.$container;
  return isComponentName(node) && isComponent(owner) && (owner.kind === 'supply' || owner.kind === 'battery');
}
