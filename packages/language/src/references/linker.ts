/** Langium's seams for names: linker, scopes for completion, names and their places, references and their index. */
import {
  type AstNode,
  type AstNodeDescription,
  AstUtils,
  Cancellation,
  type CstNode,
  CstUtils,
  DefaultAstNodeDescriptionProvider,
  DefaultLinker,
  DefaultNameProvider,
  DefaultReferenceDescriptionProvider,
  DefaultReferences,
  DefaultScopeComputation,
  type DocumentSegment,
  type FindReferencesOptions,
  GrammarUtils,
  interruptAndCheck,
  type LangiumDocument,
  type LinkingError,
  type LocalSymbols,
  type Reference,
  type ReferenceDescription,
  type ReferenceInfo,
  type Scope,
  type ScopeProvider,
  type Stream,
  stream,
  type URI,
  UriUtils,
} from 'langium';
import {
  type Component,
  type Given,
  isAssemblyBody,
  isComponent,
  isComponentName,
  isGiven,
  isMemberName,
  isProgram,
  isProperty,
  isQuantity,
  isReference as isReferenceNode,
  isState,
  isStep,
  isTypeDeclaration,
  isWordTerm,
  type Named,
  type Property,
  type TypeDeclaration,
} from '../generated/ast.ts';
import type { CoupletServices } from '../module.ts';
import { isBundledNode } from './library.ts';
import { topNames } from './names.ts';
import type { Resolver } from './resolver.ts';
import { eachReference, NODES_A_TURN, nodesOf } from './walk.ts';

/** A linking error that is the consequence of another one, and is not told. */
export interface CoupletLinkingError extends LinkingError {
  readonly silent?: boolean;
}

export class CoupletLinker extends DefaultLinker {
  private readonly resolver: () => Resolver;
  private readonly descriptions: CoupletServices['workspace']['AstNodeDescriptionProvider'];

  constructor(services: CoupletServices) {
    super(services);
    this.resolver = () => services.references.Resolver;
    this.descriptions = services.workspace.AstNodeDescriptionProvider;
  }

  override async link(document: LangiumDocument, token = Cancellation.CancellationToken.None): Promise<void> {
    let turn = 0;
    for (const node of nodesOf(document.parseResult.value)) {
      if (turn++ % NODES_A_TURN === 0) await interruptAndCheck(token);
      eachReference(node, (info) => this.doLink(info, document));
    }
  }

  override getCandidate(info: ReferenceInfo): AstNodeDescription | LinkingError {
    const target = this.resolver().target(info);
    if (typeof target !== 'string') return this.descriptions.createDescription(target, info.reference.$refText);
    const error: CoupletLinkingError = { ...this.createLinkingError(info), silent: target !== 'unknown' };
    return error;
  }
}

/** For completion: what could stand where a reference stands. The linker does not go through here. */
export class CoupletScopeProvider implements ScopeProvider {
  private readonly resolver: () => Resolver;
  private readonly descriptions: () => CoupletServices['workspace']['AstNodeDescriptionProvider'];

  constructor(services: CoupletServices) {
    this.resolver = () => services.references.Resolver;
    this.descriptions = () => services.workspace.AstNodeDescriptionProvider;
  }

  getScope(info: ReferenceInfo): Scope {
    const lookup = this.resolver().scope(info);
    const describe = (name: string, node: Named) => this.descriptions().createDescription(node, name);
    return {
      getElement(name) {
        const node = lookup.get(name);
        return node && describe(name, node);
      },
      getElements(name) {
        const node = lookup.get(name);
        return stream(node === undefined ? [] : [describe(name, node)]);
      },
      getAllElements: () => stream(lookup.entries()).map(([name, node]) => ({ ...describe(name, node), name })),
    };
  }
}

/** Descriptions are made once for a node: the same terminal is the target of many references. */
export class CoupletDescriptions extends DefaultAstNodeDescriptionProvider {
  private readonly made = new WeakMap<AstNode, AstNodeDescription>();

  override createDescription(node: AstNode, name: string | undefined, document?: LangiumDocument): AstNodeDescription {
    const known = this.made.get(node);
    if (known !== undefined) return known;
    const description = new NodeDescription(
      node,
      this.nameProvider.getName(node) ?? name ?? '',
      (document ?? AstUtils.getDocument(node)).uri,
      this.astNodeLocator,
      this.nameProvider,
    );
    this.made.set(node, description);
    return description;
  }
}

/** Its path and places are found out when somebody asks: a link needs none of them. */
class NodeDescription implements AstNodeDescription {
  readonly node: AstNode;
  readonly name: string;
  readonly type: string;
  readonly documentUri: URI;
  private readonly locator: CoupletServices['workspace']['AstNodeLocator'];
  private readonly names: CoupletServices['references']['NameProvider'];

  constructor(
    node: AstNode,
    name: string,
    documentUri: URI,
    locator: CoupletServices['workspace']['AstNodeLocator'],
    names: CoupletServices['references']['NameProvider'],
  ) {
    this.node = node;
    this.name = name;
    this.type = node.$type;
    this.documentUri = documentUri;
    this.locator = locator;
    this.names = names;
  }

  get path(): string {
    return this.locator.getAstNodePath(this.node);
  }

  get nameSegment(): DocumentSegment | undefined {
    return CstUtils.toDocumentSegment(this.names.getNameNode(this.node) ?? this.node.$cstNode);
  }

  get selectionSegment(): DocumentSegment | undefined {
    return CstUtils.toDocumentSegment(this.node.$cstNode);
  }
}

export class CoupletNameProvider extends DefaultNameProvider {
  override getName(node: AstNode): string | undefined {
    if (isProgram(node)) return node.setting;
    if (isWordTerm(node)) return node.reference?.head?.$refText;
    if (isQuantity(node)) return node.number;
    if (isState(node)) return node.word?.$refText;
    return super.getName(node);
  }

  override getNameNode(node: AstNode): CstNode | undefined {
    if (isProgram(node)) return GrammarUtils.findNodeForProperty(node.$cstNode, 'setting');
    if (isWordTerm(node)) return node.reference?.head?.$refNode;
    if (isQuantity(node)) return GrammarUtils.findNodeForProperty(node.$cstNode, 'number');
    if (isState(node)) return node.word?.$refNode;
    return super.getNameNode(node);
  }
}

/** What other files and the workspace's symbol search see of a file; the tables of names.ts do the linking. */
export class CoupletScopeComputation extends DefaultScopeComputation {
  override async collectExportedSymbols(document: LangiumDocument): Promise<AstNodeDescription[]> {
    const symbols: AstNodeDescription[] = [];
    for (const statement of AstUtils.streamContents(document.parseResult.value)) {
      if (isComponent(statement)) for (const name of statement.names) this.addExportedSymbol(name, symbols, document);
      else this.addExportedSymbol(statement, symbols, document);
    }
    return symbols;
  }

  override async collectLocalSymbols(): Promise<LocalSymbols> {
    return NO_SYMBOLS;
  }
}

const NO_SYMBOLS: LocalSymbols = { has: () => false, getStream: () => stream<AstNodeDescription>([]) };

/**
 * The index of references leaves out words that stand for themselves, and takes the parts of a name with hyphens as the
 * one name that they are.
 */
export class CoupletReferenceDescriptions extends DefaultReferenceDescriptionProvider {
  override async createDescriptions(
    document: LangiumDocument,
    token?: Cancellation.CancellationToken,
  ): Promise<ReferenceDescription[]> {
    const descriptions: ReferenceDescription[] = [];
    let turn = 0;
    for (const node of nodesOf(document.parseResult.value)) {
      if (turn++ % NODES_A_TURN === 0) await interruptAndCheck(token ?? Cancellation.CancellationToken.None);
      eachReference(node, ({ container, reference }) => {
        const description = this.describe(container, reference, document);
        if (description !== undefined) descriptions.push(description);
      });
    }
    for (const node of AstUtils.streamContents(document.parseResult.value)) {
      const rows = isTypeDeclaration(node) && isAssemblyBody(node.body) ? node.body.items : [node];
      for (const row of rows) {
        if (isComponent(row) && row.kind === 'assembly') descriptions.push(...this.givens(row, document));
      }
    }
    return descriptions;
  }

  /** The names of properties in the body of an assembly's use are those of what it is given. */
  private givens(use: Component, document: LangiumDocument): ReferenceDescription[] {
    const properties = use.body?.items.filter(isProperty) ?? [];
    return properties.flatMap((property) => {
      const given = givenOf(property);
      const segment = CstUtils.toDocumentSegment(GrammarUtils.findNodeForProperty(property.$cstNode, 'name'));
      if (given === undefined || segment === undefined) return [];
      const target = AstUtils.getDocument(given);
      return {
        sourceUri: document.uri,
        sourcePath: this.nodeLocator.getAstNodePath(property),
        targetUri: target.uri,
        targetPath: this.nodeLocator.getAstNodePath(given),
        segment,
        local: target === document,
      };
    });
  }

  private describe(
    container: AstNode,
    reference: Reference,
    document: LangiumDocument,
  ): ReferenceDescription | undefined {
    const target = reference.ref;
    const description = reference.$nodeDescription;
    const first = reference.$refNode;
    if (target === undefined || description === undefined || first === undefined) return undefined;
    if (standsForItself(container, target)) return undefined;
    const sort = { container, description, first, document, locator: this.nodeLocator };
    if (!isStep(container) || container.parts.length < 2) return new FoundReference(sort, first);
    const index = container.parts.indexOf(reference as (typeof container.parts)[number]);
    if (index < 0) return new FoundReference(sort, first);
    if (container.parts[index - 1]?.ref === target) return undefined;
    let last = index;
    while (container.parts[last + 1]?.ref === target) last++;
    return new FoundReference(sort, container.parts[last]?.$refNode ?? first);
  }
}

interface Found {
  readonly container: AstNode;
  readonly description: AstNodeDescription;
  readonly first: CstNode;
  readonly document: LangiumDocument;
  readonly locator: CoupletServices['workspace']['AstNodeLocator'];
}

/** The description of a reference. Its paths and places are found out when somebody asks: at most keys nobody does. */
class FoundReference implements ReferenceDescription {
  readonly local: boolean;
  readonly sourceUri: URI;
  readonly targetUri: URI;
  private readonly found: Found;
  private readonly last: CstNode;

  /** `last` is the part that the name ends with; with `found.first` it is the whole name. */
  constructor(found: Found, last: CstNode) {
    this.sourceUri = found.document.uri;
    this.targetUri = found.description.documentUri;
    this.local = this.sourceUri === this.targetUri || UriUtils.equals(this.sourceUri, this.targetUri);
    this.found = found;
    this.last = last;
  }

  get sourcePath(): string {
    return this.found.locator.getAstNodePath(this.found.container);
  }

  get targetPath(): string {
    return this.found.description.path;
  }

  get segment(): DocumentSegment {
    const { first } = this.found;
    const { last } = this;
    const range = { start: first.range.start, end: last.range.end };
    return { offset: first.offset, end: last.end, length: last.end - first.offset, range };
  }
}

/**
 * The assembly whose given a property in the body of a use is meant to be: that of the use, or by a dotted name that of a
 * use within it.
 */
export function assemblyOfGiven(property: Property): TypeDeclaration | undefined {
  const use = property.$container?.$container;
  if (!isComponent(use) || use.kind !== 'assembly') return undefined;
  const { owner } = property;
  if (owner === undefined) return use.type?.ref;
  const last = owner.steps.length === 0 ? owner.head?.ref : owner.steps.at(-1)?.parts.at(-1)?.ref;
  const inner = isComponentName(last) ? last.$container : undefined;
  return isComponent(inner) && inner.kind === 'assembly' ? inner.type?.ref : undefined;
}

/** What a property in the body of an assembly's use gives. */
export function givenOf(property: Property): Given | undefined {
  const body = assemblyOfGiven(property)?.body;
  const given = isAssemblyBody(body) ? topNames(body).things.first(property.name) : undefined;
  return isGiven(given) ? given : undefined;
}

/** Whether a reference is a plain word, or the declaration of the terminal or core that it leads to. */
export function standsForItself(container: AstNode, target: AstNode): boolean {
  return container === target || (isReferenceNode(container) && container.$container === target);
}

export class CoupletReferences extends DefaultReferences {
  /** A plain word has no declaration; the word that declares a terminal or core is its own. */
  override findDeclarations(source: CstNode): AstNode[] {
    return super.findDeclarations(source).flatMap((node) => {
      if (isProperty(node)) return node.name === 'screen' ? [node] : (givenOf(node) ?? []);
      return this.isPlainWord(node) ? [] : [node];
    });
  }

  override findReferences(target: AstNode, options: FindReferencesOptions): Stream<ReferenceDescription> {
    if (isBundledNode(target)) {
      return super.findReferences(target, { ...options, includeDeclaration: false });
    }
    return super.findReferences(target, options);
  }

  private isPlainWord(node: AstNode): boolean {
    if (isState(node)) return true;
    if (!isWordTerm(node) && !isQuantity(node)) return false;
    const unit = AstUtils.getContainerOfType(node, (each) => isComponent(each) || isTypeDeclaration(each));
    if (unit === undefined) return true;
    const name = this.nameProvider.getName(node);
    return name === undefined || this.resolver().members.ofUnit(unit).get(name) !== node;
  }

  private readonly resolver: () => Resolver;

  constructor(services: CoupletServices) {
    super(services);
    this.resolver = () => services.references.Resolver;
  }
}

/**
 * Whether a name may be changed: not what comes with the language, not one of several that `Z1 .. Z8` counts, not a word
 * that stands for itself.
 */
export function isRenamable(node: AstNode): boolean {
  if (isBundledNode(node) || isState(node) || isProperty(node) || isQuantity(node)) return false;
  return !(isMemberName(node) && node.last !== undefined);
}

/** A name as it must be written: quoted where it is not a plain word. `afterDot` admits names that are numbers. */
export function nameAsWritten(name: string, afterDot: boolean): string {
  const plain = afterDot ? /^[\p{L}\p{N}_]+(?:-[\p{L}\p{N}_]+)*$/u : /^[\p{L}_][\p{L}\p{N}_]*(?:-[\p{L}\p{N}_]+)*$/u;
  return plain.test(name) ? name : `"${name}"`;
}
