/** From what a cure means to the characters it changes: read off the trees of the files, which are parsed for it alone. */
import {
  type CoupletFile,
  createCoupletCoreServices,
  isAccept,
  isAssemblyBody,
  isBody,
  isBond,
  isCase,
  isComponent,
  isCoupletFile,
  isMember,
  isReference,
  isSpare,
  isTypeDeclaration,
  isWire,
  type Reference,
  referenceText,
  type Step,
  type TextPlace,
} from '@couplet/language';
import { type AstNode, AstUtils, type CstNode, CstUtils, URI } from 'langium';
import type { Candidate, CandidateEdit, Override } from '../finding.ts';
import { overriding } from './overriding.ts';
import { Lines, type TextEdit } from './texts.ts';

/** Reads trees of texts, each once. */
export class Trees {
  private readonly services = createCoupletCoreServices();
  private readonly known = new Map<string, { readonly text: string; readonly file: CoupletFile }>();

  of(uri: string, text: string): CoupletFile {
    const before = this.known.get(uri);
    if (before?.text === text) return before.file;
    const document = this.services.shared.workspace.LangiumDocumentFactory.fromString<CoupletFile>(
      text,
      URI.parse(uri),
    );
    const file = document.parseResult.value;
    this.known.set(uri, { text, file });
    return file;
  }
}

/** The edits of a candidate; undefined where one of them has no place in these texts. */
export function placed(candidate: Candidate, texts: ReadonlyMap<string, string>, trees: Trees): TextEdit[] | undefined {
  const all: TextEdit[] = [];
  for (const edit of candidate.edits) {
    const found = placedEdit(edit, texts, trees);
    if (found === undefined || found.length === 0) return undefined;
    all.push(...found);
  }
  return all;
}

function placedEdit(
  edit: CandidateEdit,
  texts: ReadonlyMap<string, string>,
  trees: Trees,
): readonly TextEdit[] | undefined {
  const { override, place } = edit;
  if (override !== undefined) return overridden(edit, override, texts, trees);
  if (edit.how === 'rename') {
    return [...texts].flatMap(([uri, text]) => renamed(trees.of(uri, text), uri, edit.from, edit.to));
  }
  if (edit.how === 'turn') return turned(edit.part, edit.terminals, texts, trees);
  const text = texts.get(place.uri);
  if (text === undefined) return undefined;
  if (edit.how === undefined || edit.how === 'replace') return [{ place, text: edit.text }];
  const file = trees.of(place.uri, text);
  const node = nodeAt(file, new Lines(text).offset(place.start));
  if (node === undefined) return undefined;
  switch (edit.how) {
    case 'within':
      return within(node, text, place.uri, edit.text);
    case 'below':
      return below(node, text, place.uri, edit.text);
    case 'strike':
      return struck(node, text, place.uri);
  }
}

/** Another value for one use of an assembly, said by its row. Whatever else an assembly says is the same for all uses. */
function overridden(
  edit: CandidateEdit,
  { path, row }: Override,
  texts: ReadonlyMap<string, string>,
  trees: Trees,
): readonly TextEdit[] | undefined {
  const { place } = edit;
  const text = texts.get(place.uri);
  const outer = texts.get(row.uri);
  if (text === undefined || outer === undefined || (edit.how !== undefined && edit.how !== 'replace')) return undefined;
  const lines = new Lines(text);
  const stretch = { start: lines.offset(place.start), end: lines.offset(place.end) };
  const node = nodeAt(trees.of(place.uri, text), stretch.start);
  const put = node && overriding(node, stretch, edit.text, path);
  const use = nodeAt(trees.of(row.uri, outer), new Lines(outer).offset(row.start));
  return put === undefined || use === undefined ? undefined : within(use, outer, row.uri, put);
}

function nodeAt(file: CoupletFile, offset: number): AstNode | undefined {
  const root = file.$cstNode;
  return root && CstUtils.findLeafNodeAtOffset(root, offset)?.astNode;
}

/** The statement of a file or an assembly that a node is in. */
function statementOf(node: AstNode): AstNode | undefined {
  let at: AstNode | undefined = node;
  while (at?.$container !== undefined && !isCoupletFile(at.$container) && !isAssemblyBody(at.$container)) {
    at = at.$container;
  }
  return at?.$container === undefined ? undefined : at;
}

function bodied(node: AstNode): AstNode | undefined {
  let at: AstNode | undefined = node;
  while (at !== undefined && !(isCase(at) || isComponent(at) || isMember(at) || isTypeDeclaration(at))) {
    at = at.$container;
  }
  return at;
}

function within(node: AstNode, text: string, uri: string, put: string): readonly TextEdit[] | undefined {
  const holder = bodied(node);
  const cst = holder?.$cstNode;
  if (holder === undefined || cst === undefined) return undefined;
  const body = isCase(holder) ? cst : 'body' in holder && isBody(holder.body) ? holder.body.$cstNode : undefined;
  if (body === undefined) return [{ place: at(uri, text, cst.end), text: ` { ${put} }` }];
  const brace = text.lastIndexOf('}', body.end - 1);
  if (brace < body.offset) return undefined;
  const lineStart = text.lastIndexOf('\n', brace - 1) + 1;
  const indent = text.slice(lineStart, brace);
  if (indent.trim() !== '') {
    const blank = text[brace - 1] === ' ' ? ' ' : '  ';
    return [{ place: at(uri, text, brace), text: `${blank}${put} ` }];
  }
  return [{ place: at(uri, text, lineStart), text: `${indent}  ${put}${newlineOf(text)}` }];
}

function below(node: AstNode, text: string, uri: string, put: string): readonly TextEdit[] | undefined {
  const statement = statementOf(node);
  const cst = statement?.$cstNode;
  if (statement === undefined || cst === undefined) return undefined;
  const lineStart = text.lastIndexOf('\n', cst.offset - 1) + 1;
  const indent = /^[ \t]*/.exec(text.slice(lineStart, cst.offset))?.[0] ?? '';
  const next = text.indexOf('\n', cst.end);
  const lines = put.split('\n').map((line) => `${indent}${line}`);
  const newline = newlineOf(text);
  if (next < 0) return [{ place: at(uri, text, text.length), text: `${newline}${lines.join(newline)}${newline}` }];
  return [{ place: at(uri, text, next + 1), text: lines.map((line) => `${line}${newline}`).join('') }];
}

function struck(node: AstNode, text: string, uri: string): readonly TextEdit[] | undefined {
  const cst = statementOf(node)?.$cstNode;
  if (cst === undefined) return undefined;
  const lineStart = text.lastIndexOf('\n', cst.offset - 1) + 1;
  const next = text.indexOf('\n', cst.end);
  const lines = new Lines(text);
  const alone = text.slice(lineStart, cst.offset).trim() === '';
  const from = alone ? lineStart : cst.offset;
  const to = alone && next >= 0 && text.slice(cst.end, next).trim() === '' ? next + 1 : cst.end;
  return [{ place: { uri, start: lines.position(from), end: lines.position(to) }, text: '' }];
}

/** What wires, bonds and cases call `from` they call `to`; what is marked spare as `to` is marked spare as `from`. */
function renamed(file: CoupletFile, uri: string, from: string, to: string): TextEdit[] {
  return [...AstUtils.streamAst(file)].filter(isReference).flatMap((reference) => {
    const statement = statementOf(reference);
    if (statement !== undefined && isSpare(statement)) return renamedSteps(reference, uri, to, from);
    const concerned =
      statement !== undefined && !isAccept(statement) && (isWire(statement) || isBond(statement) || isCase(statement));
    return concerned ? renamedSteps(reference, uri, from, to) : [];
  });
}

function renamedSteps(reference: Reference, uri: string, from: string, to: string): TextEdit[] {
  const last = to.slice(to.lastIndexOf('.') + 1);
  return reference.steps.flatMap((step: Step, index) => {
    const before = referenceText(reference, index);
    return step.parts.flatMap((part) => {
      const name = part.$refText.replace(/^"(.*)"$/, '$1');
      if (`${before}.${name}` !== from || part.$refNode === undefined) return [];
      return [{ place: placeOf(uri, part.$refNode), text: last }];
    });
  });
}

/** Its terminals exchanged where wires name them; else a chain of three with the part in its middle, its ends exchanged. */
function turned(
  part: string,
  terminals: readonly [string, string],
  texts: ReadonlyMap<string, string>,
  trees: Trees,
): TextEdit[] | undefined {
  const wires = [...texts].flatMap(([uri, text]) =>
    [...AstUtils.streamAst(trees.of(uri, text))].filter(isWire).map(({ elements }) => ({ uri, elements })),
  );
  const named = wires.flatMap(({ elements, uri }) => elements.flatMap((each) => exchanged(each, uri, part, terminals)));
  if (named.length > 0) return named;
  const chains = wires.filter(({ elements }) => elements.slice(1, -1).some((each) => referenceText(each) === part));
  const [only] = chains;
  const [first, , last] = only?.elements ?? [];
  if (chains.length !== 1 || only?.elements.length !== 3 || !first?.$cstNode || !last?.$cstNode) return undefined;
  return [
    { place: placeOf(only.uri, first.$cstNode), text: last.$cstNode.text },
    { place: placeOf(only.uri, last.$cstNode), text: first.$cstNode.text },
  ];
}

function exchanged(element: Reference, uri: string, part: string, [one, other]: readonly [string, string]): TextEdit[] {
  const last = element.steps.at(-1);
  if (last === undefined || referenceText(element, element.steps.length - 1) !== part) return [];
  return last.parts.flatMap(({ $refNode, $refText }) => {
    const text = $refText === one ? other : $refText === other ? one : undefined;
    return text === undefined || $refNode === undefined ? [] : [{ place: placeOf(uri, $refNode), text }];
  });
}

function placeOf(uri: string, { range }: CstNode): TextPlace {
  return { uri, start: range.start, end: range.end };
}

function at(uri: string, text: string, offset: number): TextPlace {
  const position = new Lines(text).position(offset);
  return { uri, start: position, end: position };
}

function newlineOf(text: string): string {
  return text.includes('\r\n') ? '\r\n' : '\n';
}
