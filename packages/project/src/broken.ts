/**
 * What a language error leaves half said. One mistake gives one message: what the rules would say of parts whose wiring
 * or data stand in a statement with an error follows from that error, and is held back until it is mended.
 */
import { type ComponentId, type Design, writtenCase } from '@couplet/engine';
import {
  type CoupletFile,
  isBond,
  isCase,
  isComponent,
  isReference,
  isUse,
  isWire,
  referenceText,
  type TextPlace,
} from '@couplet/language';
import { type AstNode, AstUtils, CstUtils, type LangiumDocument } from 'langium';
import type { ProjectFinding } from './finding.ts';

export interface Broken {
  /** There is an error at all. */
  readonly any: boolean;
  /** Parts that a statement with an error declares or joins, by name as it is written there; a use of an assembly as 'B03.'. */
  readonly names: ReadonlySet<string>;
  /** Cases with an error in them: what they lead to is not known. */
  readonly cases: ReadonlySet<string>;
  /** Some joining is not read: what seems open may be joined by it. */
  readonly wiring: boolean;
}

/** `errors` are those of the language, of these documents and of their `use` statements. */
export function brokenParts(
  documents: readonly LangiumDocument<CoupletFile>[],
  errors: readonly ProjectFinding[],
): Broken {
  const names = new Set<string>();
  const cases = new Set<string>();
  let wiring = false;
  const byUri = new Map(documents.map((document) => [document.uri.toString(), document]));
  for (const { place, severity } of errors) {
    const document = byUri.get(place.uri);
    if (severity !== 'error' || document === undefined) continue;
    const statement = statementAt(document, place.start);
    // What stands in a file that is not there may join anything.
    if (statement === undefined || isUse(statement)) wiring = true;
    else if (isWire(statement) || isBond(statement)) {
      wiring = true;
      for (const node of AstUtils.streamAst(statement)) if (isReference(node)) names.add(referenceText(node));
    } else if (isComponent(statement)) {
      // Everything in a use of an assembly hangs on what its row says.
      const within = statement.kind === 'assembly' ? '.' : '';
      for (const { name } of statement.names) if (name !== undefined) names.add(name + within);
    } else if (isCase(statement) && statement.name !== undefined) cases.add(statement.name);
  }
  return { any: errors.some((finding) => finding.severity === 'error'), names, cases, wiring };
}

/**
 * One mistake gives one message. `read` is what was found when the files were read, `own` what lexer, parser, linker and
 * checks say, `lowering` what lowering says; the answer is what shall be told of the last two.
 * - Where an error stands already, and in a statement that is not well formed, lowering's stumbling is not told.
 * - A name that the linker kept to itself leads nowhere because of another one.
 * - Where a used file is not there, a name without anything like it in the site is taken to be of that file.
 */
export function withoutConsequences(
  documents: readonly LangiumDocument<CoupletFile>[],
  { lowering, own, read }: Readonly<Record<'read' | 'own' | 'lowering', readonly ProjectFinding[]>>,
): Record<'own' | 'lowering', ProjectFinding[]> {
  const byUri = new Map(documents.map((document) => [document.uri.toString(), document]));
  const incomplete = read.some((finding) => finding.severity === 'error');
  const told = own.filter((finding) => !incomplete || finding.code !== UNKNOWN || finding.likely !== undefined);
  const errors = own.filter((finding) => finding.severity === 'error');
  const unknown = errors.some((finding) => finding.code === UNKNOWN);
  const taken = errors.map(({ code, place }) => {
    const document = byUri.get(place.uri);
    const range = code === 'syntax-error' && document ? statementAt(document, place.start)?.$cstNode?.range : undefined;
    return range === undefined ? place : { ...range, uri: place.uri };
  });
  const byFile = Map.groupBy(taken, (place) => place.uri);
  const rest = lowering.filter(({ code, place }) => {
    if (unknown && code === UNKNOWN) return false;
    return !byFile.get(place.uri)?.some((other) => overlap(other, place));
  });
  return { own: told, lowering: rest };
}

const UNKNOWN = 'name-unknown';

function overlap(a: Pick<TextPlace, 'start' | 'end'>, b: TextPlace): boolean {
  return isBefore(a.start, b.end) && isBefore(b.start, a.end);
}

function isBefore(a: TextPlace['start'], b: TextPlace['start']): boolean {
  return a.line < b.line || (a.line === b.line && a.character < b.character);
}

/** The statement of the file that a position stands in or right behind. */
function statementAt(
  document: LangiumDocument<CoupletFile>,
  start: ProjectFinding['place']['start'],
): AstNode | undefined {
  const root = document.parseResult.value.$cstNode;
  if (root === undefined) return undefined;
  const offset = document.textDocument.offsetAt(start);
  let node = (CstUtils.findLeafNodeAtOffset(root, offset) ?? CstUtils.findLeafNodeBeforeOffset(root, offset))?.astNode;
  while (node?.$container !== undefined && !isStatement(node)) node = node.$container;
  return node?.$container === undefined ? undefined : node;
}

function isStatement(node: AstNode): boolean {
  return isWire(node) || isBond(node) || isComponent(node) || isCase(node) || node.$containerProperty === 'statements';
}

/** The components of a design that are only half said. */
export function brokenComponents(design: Design, broken: Broken): ReadonlySet<ComponentId> {
  const found = new Set<ComponentId>();
  if (broken.names.size === 0 && !broken.wiring) return found;
  const joined = broken.wiring ? new Set(design.joins.flatMap((join) => [join.a, join.b])) : undefined;
  for (const part of design.components) {
    if (isNamed(part.name, broken.names)) found.add(part.id);
    if (joined === undefined) continue;
    if ('a' in part && 'b' in part && !(joined.has(part.a) && joined.has(part.b))) found.add(part.id);
    if (part.kind === 'relay' && !(joined.has(part.coil.a) && joined.has(part.coil.b))) found.add(part.id);
  }
  return found;
}

/** Whether a case of a design, or one that it begins after, has an error in it; on a battery as it is written. */
export function isBrokenCase(design: Design, caseName: string, broken: Broken): boolean {
  let at = design.cases.find((each) => each.name === writtenCase(caseName));
  for (let steps = 0; at !== undefined && steps <= design.cases.length; steps++) {
    if (isNamed(at.name, broken.cases)) return true;
    at = at.after === undefined ? undefined : design.cases[at.after];
  }
  return false;
}

/** A name counts wherever it is brought in: `K1` is also `north.K1` of a file used as north; `B03.` is all within B03. */
function isNamed(name: string, names: ReadonlySet<string>): boolean {
  for (let rest = name; ; rest = rest.slice(rest.indexOf('.') + 1)) {
    if (names.has(rest)) return true;
    const [use] = rest.split('.', 1);
    if (use !== rest && names.has(`${use}.`)) return true;
    if (!rest.includes('.')) return false;
  }
}
