/** Hover: figures of parts, meanings of properties, rules and words, and what a resistor's value looks like. */
import { type Component, isQuantityError, parseQuantity } from '@couplet/engine';
import {
  isBond,
  isComponent,
  isComponentName,
  isKind,
  isMember,
  isMemberKind,
  isMemberName,
  isPlace,
  isProgram,
  isProperty,
  isQuantity,
  isReference,
  isStep,
  isTypeDeclaration,
  isWire,
  type PropertyRow,
  placeOfProperty,
  placeOfValue,
  type Quantity,
  type Reference,
  referenceText,
} from '@couplet/language';
import { CATALOGUE, isRuleName } from '@couplet/rules';
import { type AstNode, type CstNode, CstUtils, type LangiumDocument } from 'langium';
import type { HoverProvider } from 'langium/lsp';
import type { Hover, HoverParams } from 'vscode-languageserver';
import { KIND_SAYS, MEMBER_SAYS, STATEMENT_SAYS } from '../completion/words.ts';
import { chainHover } from '../figures/chain-text.ts';
import { partHover } from '../figures/hover-text.ts';
import { plain } from '../figures/words.ts';
import type { CheckedSite, Sites } from '../sites/seam.ts';
import { partsNamed, partsUnder } from './parts-named.ts';
import { resistorWords } from './resistor-words.ts';

/** Where a chain itself is meant and not one of its parts. */
const CHAIN_SIGNS: ReadonlySet<string> = new Set(['wire', 'bond', '--']);

/** Parts of one name in several sites, or several parts of one declaration, that a hover tells of. */
const MOST_PARTS = 3;

export class CoupletHover implements HoverProvider {
  private readonly sites: () => Sites | undefined;

  constructor(sites: () => Sites | undefined) {
    this.sites = sites;
  }

  getHoverContent(document: LangiumDocument, { position }: HoverParams): Hover | undefined {
    const root = document.parseResult.value.$cstNode;
    if (root === undefined) return undefined;
    const offset = document.textDocument.offsetAt(position);
    const leaf = CstUtils.findLeafNodeAtOffset(root, offset) ?? CstUtils.findLeafNodeAtOffset(root, offset - 1);
    if (leaf === undefined) return undefined;
    const value = this.textFor(leaf, document.uri.toString());
    return value === undefined ? undefined : { contents: { kind: 'markdown', value }, range: leaf.range };
  }

  private textFor(leaf: CstNode, uri: string): string | undefined {
    const node = leaf.astNode;
    if (isQuantity(node)) return quantityText(node);
    if (isProperty(node) && leaf.text === node.name) return rowText(placeOfProperty(node).row);
    if (isProgram(node) && leaf.text === node.property) return undefined;
    if ((isWire(node) || isBond(node)) && CHAIN_SIGNS.has(leaf.text)) {
      return this.chainText(node.elements, uri) ?? wordText(leaf.text);
    }
    const found = this.partsUnder(leaf, uri);
    if (found.length > 0) {
      const coupled = found.map(({ part, site }) => site.analyses.at(part.id));
      return coupled.map(({ part, analysis }) => partHover(part, analysis)).join('\n\n---\n\n');
    }
    if (isRuleName(leaf.text)) return `**${leaf.text}**\n\n${plain(CATALOGUE[leaf.text].summary)}`;
    return declarationText(declared(leaf)) ?? wordText(leaf.text);
  }

  /** What flows in a chain, in the first site that knows its parts. */
  private chainText(elements: readonly Reference[], uri: string): string | undefined {
    for (const site of this.sites()?.sitesOf(uri) ?? []) {
      const parts = elements.flatMap((element) => {
        const full = referenceText(element);
        const before = referenceText({ ...element, steps: element.steps.slice(0, -1) });
        const [part] = [full, before].flatMap((name) => partsNamed(name, site, undefined, uri));
        return part ?? [];
      });
      const coupled = [...new Set(parts)].map(({ id }) => site.analyses.at(id));
      const [first] = coupled;
      const text =
        first &&
        chainHover(
          coupled.map(({ part }) => part),
          first.analysis,
        );
      if (text !== undefined) return text;
    }
    return undefined;
  }

  /** The parts of checked sites that a name stands for. */
  private partsUnder(leaf: CstNode, uri: string): { part: Component; site: CheckedSite }[] {
    const found = (this.sites()?.sitesOf(uri) ?? []).flatMap((site) =>
      partsUnder(leaf, site, uri).map((part) => ({ part, site })),
    );
    return found.slice(0, MOST_PARTS);
  }
}

/** What a name leads to, or what it declares. */
function declared(leaf: CstNode): AstNode | undefined {
  const node = leaf.astNode;
  if (isReference(node)) return node.head?.ref;
  if (isStep(node)) return [...node.parts, ...node.doubled].find((part) => part.$refNode === leaf)?.ref;
  if (isComponent(node) && node.type?.$refNode?.offset === leaf.offset) return node.type.ref;
  return node;
}

function declarationText(node: AstNode | undefined): string | undefined {
  if (isComponentName(node) && isComponent(node.$container)) {
    const { kind, type, description } = node.$container;
    return headed(node.name, `${kind}${type === undefined ? '' : ` of type ${type.$refText}`}`, description);
  }
  if (isMemberName(node) && isMember(node.$container)) {
    return headed(node.name, node.$container.kind, node.$container.description);
  }
  if (isTypeDeclaration(node)) return headed(node.name, `type of ${node.kind}`, node.description);
  if (isPlace(node)) return headed(node.name, 'place', node.description);
  return undefined;
}

function headed(name: string, what: string, description: readonly string[]): string {
  return [`**${plain(name)}** ${plain(what)}`, plain(description.join(' '))].filter((part) => part !== '').join(' · ');
}

function rowText(row: PropertyRow | undefined): string | undefined {
  if (row === undefined) return undefined;
  const lines = [`**${row.name}**`, plain(row.says)];
  if (row.default !== undefined)
    lines.push(plain(`Taken as ${row.default.text} where it is not given (${row.default.origin}).`));
  return lines.join('\n\n');
}

/** Ohms as colour bands; other values as they were understood, with the property's meaning. */
function quantityText(node: Quantity): string | undefined {
  if (node.number === undefined) return undefined;
  const read = parseQuantity(node.number);
  if (isQuantityError(read)) return undefined;
  const row = placeOfValue(node).row;
  const resistor = row?.name === '=' && row.on.includes('resistor');
  if (read.dimension === 'ohm' && resistor) return resistorWords(read.value, toleranceOf(node));
  return rowText(row);
}

/** A symmetrical tolerance in per cent, as a fraction. */
function toleranceOf(node: Quantity): number | undefined {
  const [only] = node.tolerances;
  if (node.tolerances.length !== 1 || only === undefined) return undefined;
  const per = /^(?:\+-|±)\s?(\d+(?:\.\d+)?)\s?%$/.exec(only);
  return per === null ? undefined : Number(per[1]) / 100;
}

function wordText(text: string): string | undefined {
  if (text in STATEMENT_SAYS) return STATEMENT_SAYS[text];
  if (isKind(text)) return KIND_SAYS[text];
  return isMemberKind(text) ? MEMBER_SAYS[text] : undefined;
}
