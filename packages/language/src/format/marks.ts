/** What the tree of a statement says about its tokens, by their offsets, for the layout. */
import { type AstNode, AstUtils, type CstNode, GrammarUtils } from 'langium';
import {
  type Component,
  isAssemblyBody,
  isBody,
  isBond,
  isCase,
  isComponent,
  isConfirm,
  isGiven,
  isGroup,
  isMeasured,
  isMember,
  isMemberName,
  isPlace,
  isProperty,
  isQuantity,
  isSite,
  isTypeDeclaration,
  isWire,
  type Property,
} from '../generated/ast.ts';
import { PROPERTIES } from '../properties/table.ts';

/**
 * How a body may stand: `row`, on one line while it fits; `single`, on one line while it holds one property and fits;
 * `lines`, on lines of its own.
 */
export type BodyStyle = 'row' | 'single' | 'lines';

export interface Marks {
  /** Where items of bodies, steps of cases and readings begin. */
  readonly items: ReadonlySet<number>;
  /** By the offset of the opening brace. */
  readonly bodies: ReadonlyMap<number, BodyStyle>;
  /** Colons that stand between blanks: `type T : unit`. */
  readonly colons: ReadonlySet<number>;
  /** Numbers that name a terminal. */
  readonly names: ReadonlySet<number>;
  /** Texts that may begin a line, and those that do. */
  readonly texts: ReadonlyMap<number, 'may' | 'must'>;
  /** Where cores end that a chain goes through, other than the last thing in it. */
  readonly cores: ReadonlySet<number>;
  /** Tokens that are not written again. */
  readonly struck: ReadonlySet<number>;
}

export interface Context {
  /** Whether a name means a cable where the chain stands. */
  isCable(name: string, chain: AstNode): boolean;
  /** Components whose place the chains say as well. */
  readonly placedTwice: ReadonlySet<Component>;
}

export function marksOf(statement: AstNode, context: Context): Marks {
  const marks = new Marker();
  for (const node of AstUtils.streamAst(statement)) marks.note(node, context);
  return marks;
}

class Marker implements Marks {
  readonly items = new Set<number>();
  readonly bodies = new Map<number, BodyStyle>();
  readonly colons = new Set<number>();
  readonly names = new Set<number>();
  readonly texts = new Map<number, 'may' | 'must'>();
  readonly cores = new Set<number>();
  readonly struck = new Set<number>();

  note(node: AstNode, context: Context): void {
    if (isBody(node) || isAssemblyBody(node))
      this.body(node.$cstNode, node.items, styleOf(node.$container, node.items));
    if (isCase(node)) this.body(GrammarUtils.findNodeForKeyword(node.$cstNode, '{'), node.steps, 'lines');
    if (isMeasured(node)) this.body(GrammarUtils.findNodeForKeyword(node.$cstNode, '{'), node.readings, 'lines');
    if (isTypeDeclaration(node) || isComponent(node) || isGiven(node)) {
      const colon = GrammarUtils.findNodeForKeyword(node.$cstNode, ':');
      if (colon !== undefined) this.colons.add(colon.offset);
    }
    if (isSite(node)) this.continued(node, 'title', 'never');
    if (isBond(node)) this.continued(node, 'reason', 'never');
    if (node.$type === 'Accept') this.continued(node, 'reason', 'never');
    if (isDescribed(node)) this.continued(node, 'description', 'may');
    if (isMemberName(node)) this.memberName(node);
    if (isProperty(node)) this.propertyOfName(node);
    if (isWire(node) || isBond(node)) this.chain(node, context);
    if (isComponent(node) && context.placedTwice.has(node)) this.strikePlace(node);
  }

  private body(brace: CstNode | undefined, items: readonly AstNode[], style: BodyStyle): void {
    if (brace === undefined) return;
    this.bodies.set(brace.offset, style);
    for (const item of items) if (item.$cstNode !== undefined) this.items.add(item.$cstNode.offset);
  }

  /** The first of several texts may begin a line or not; each one behind it does. */
  private continued(node: AstNode, property: string, first: 'may' | 'never'): void {
    GrammarUtils.findNodesForProperty(node.$cstNode, property).forEach(({ offset }, i) => {
      if (i > 0) this.texts.set(offset, 'must');
      else if (first === 'may') this.texts.set(offset, first);
    });
  }

  private memberName(node: AstNode): void {
    for (const property of ['name', 'last']) {
      for (const { offset } of GrammarUtils.findNodesForProperty(node.$cstNode, property)) this.names.add(offset);
    }
  }

  private propertyOfName(node: Property): void {
    if (!NAMING.has(node.name)) return;
    for (const { terms } of node.values) {
      const [term] = terms;
      const alone = terms.length === 1 && isQuantity(term) && term.tolerances.length === 0 && term.stray === undefined;
      if (alone && term.$cstNode !== undefined) this.names.add(term.$cstNode.offset);
    }
  }

  private chain(node: AstNode & { elements: readonly AstNode[] }, context: Context): void {
    if (!isWire(node) && !isBond(node)) return;
    for (const { $cstNode, head, steps } of node.elements.slice(0, -1)) {
      const [step] = steps;
      const through = steps.length === 1 && step?.parts.length === 1;
      if (through && head !== undefined && $cstNode !== undefined && context.isCable(head.$refText, node)) {
        this.cores.add($cstNode.end);
      }
    }
  }

  private strikePlace(node: Component): void {
    const keyword = GrammarUtils.findNodeForKeyword(node.$cstNode, 'in');
    const place = node.place?.$cstNode;
    if (keyword === undefined || place === undefined) return;
    for (let offset = keyword.offset; offset < place.end; offset++) this.struck.add(offset);
  }
}

/** Properties whose values name terminals and never are quantities. */
const NAMING: ReadonlySet<string> = new Set(
  PROPERTIES.filter(
    ({ forms }) => forms.some(({ sort }) => sort === 'name') && forms.every(({ sort }) => sort !== 'quantity'),
  ).map((row) => row.name),
);

function isDescribed(node: AstNode): boolean {
  return (
    isPlace(node) ||
    isTypeDeclaration(node) ||
    isComponent(node) ||
    isConfirm(node) ||
    isCase(node) ||
    isGiven(node) ||
    isMember(node) ||
    node.$type === 'Autonomy'
  );
}

/** Members of a type and uses of an assembly are rows of a schedule. */
function styleOf(owner: AstNode | undefined, items: readonly AstNode[]): BodyStyle {
  if (isMember(owner) || isGroup(owner) || (isComponent(owner) && owner.kind === 'assembly')) return 'row';
  return items.length <= 1 && items.every(isProperty) ? 'single' : 'lines';
}
