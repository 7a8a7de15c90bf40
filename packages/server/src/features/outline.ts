/** The outline: what a file declares, members below their type. */
import {
  isAssemblyBody,
  isBody,
  isCase,
  isComponent,
  isConfirm,
  isCoupletFile,
  isGiven,
  isMember,
  isNamedValue,
  isPlace,
  isSite,
  isTypeDeclaration,
} from '@couplet/language';
import { type AstNode, type CstNode, GrammarUtils, type LangiumDocument } from 'langium';
import type { DocumentSymbolProvider } from 'langium/lsp';
import { type DocumentSymbol, SymbolKind } from 'vscode-languageserver';

const KINDS: Readonly<Record<string, SymbolKind>> = {
  unit: SymbolKind.Module,
  relay: SymbolKind.Event,
  cable: SymbolKind.Interface,
  switch: SymbolKind.Event,
  supply: SymbolKind.Constant,
  battery: SymbolKind.Constant,
  zone: SymbolKind.Property,
  output: SymbolKind.Property,
  input: SymbolKind.Property,
};

export class Outline implements DocumentSymbolProvider {
  getSymbols(document: LangiumDocument): DocumentSymbol[] {
    const file = document.parseResult.value;
    return isCoupletFile(file) ? file.statements.flatMap((statement) => symbolsOf(statement)) : [];
  }
}

/** A statement may declare several things, or nothing. */
function symbolsOf(node: AstNode): DocumentSymbol[] {
  if (isComponent(node)) {
    const detail = said(node.kind, node.description);
    const children = membersOf(node.body);
    return node.names.flatMap((name) =>
      symbol(name, node.names.length === 1 ? node : name, KINDS[node.kind] ?? SymbolKind.Field, detail, children),
    );
  }
  if (isTypeDeclaration(node)) {
    return symbol(node, node, SymbolKind.Class, said(node.kind, node.description), membersOf(node.body));
  }
  if (isMember(node)) {
    const detail = said(node.kind, node.description);
    return node.names.flatMap((name) => symbol(name, node, KINDS[node.kind] ?? SymbolKind.Field, detail));
  }
  if (isPlace(node)) return symbol(node, node, SymbolKind.Namespace, said('place', node.description));
  if (isCase(node)) return symbol(node, node, SymbolKind.Method, said('case', node.description));
  if (isConfirm(node)) return symbol(node, node, SymbolKind.Operator, said('confirm', node.description));
  if (isNamedValue(node)) return symbol(node, node, SymbolKind.Number, node.value?.$cstNode?.text ?? '');
  if (isGiven(node)) return symbol(node, node, SymbolKind.TypeParameter, said(node.kind, node.description));
  if (isSite(node) && node.title.length > 0) return siteSymbol(node);
  return [];
}

function membersOf(body: AstNode | undefined): DocumentSymbol[] {
  return isBody(body) || isAssemblyBody(body) ? body.items.flatMap((item) => symbolsOf(item)) : [];
}

function symbol(
  named: AstNode & { name?: string; last?: string },
  whole: AstNode,
  kind: SymbolKind,
  detail: string,
  children: DocumentSymbol[] = [],
): DocumentSymbol[] {
  const nameNode = GrammarUtils.findNodeForProperty(named.$cstNode, 'name');
  if (named.name === undefined || named.name === '' || nameNode === undefined || whole.$cstNode === undefined)
    return [];
  const name = named.last === undefined ? named.name : `${named.name} .. ${named.last}`;
  return [made(name, kind, detail, whole.$cstNode, nameNode, children)];
}

function siteSymbol(site: AstNode & { title: string[] }): DocumentSymbol[] {
  const nameNode = GrammarUtils.findNodeForProperty(site.$cstNode, 'title');
  const title = site.title.join(' ');
  if (nameNode === undefined || site.$cstNode === undefined || title === '') return [];
  return [made(title, SymbolKind.Package, 'site', site.$cstNode, nameNode, [])];
}

function made(
  name: string,
  kind: SymbolKind,
  detail: string,
  whole: CstNode,
  nameNode: CstNode,
  children: DocumentSymbol[],
): DocumentSymbol {
  return { name, kind, detail, range: whole.range, selectionRange: nameNode.range, children };
}

/** `relay, High water`. */
function said(kind: string, description: readonly string[]): string {
  return [kind, description.join(' ')].filter((part) => part !== '').join(', ');
}
