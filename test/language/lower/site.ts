/** Sites in memory for the tests of lowering. */
import type { Component, ComponentKind, Design } from '@couplet/engine';
import { type CoupletFile, createCoupletCoreServices, type Lowered, lower } from '@couplet/language';
import { type LangiumDocument, URI } from 'langium';

const { shared } = createCoupletCoreServices();

/** Parses files by name; the first one is the root. */
export function parseBroken(files: Readonly<Record<string, string>>): LangiumDocument<CoupletFile>[] {
  return Object.entries(files).map(([name, text]) =>
    shared.workspace.LangiumDocumentFactory.fromString<CoupletFile>(text, URI.parse(`memory:///${name}`)),
  );
}

/** As `parseBroken`; syntax errors are thrown. */
export function parseSite(files: Readonly<Record<string, string>>): LangiumDocument<CoupletFile>[] {
  const documents = parseBroken(files);
  for (const { uri, parseResult } of documents) {
    const [error] = [...parseResult.lexerErrors, ...parseResult.parserErrors];
    if (error !== undefined) throw new Error(`${uri.path}: ${error.message}`);
  }
  return documents;
}

/** Lowers a site of one file, or of several by name with the root first. */
export function lowerText(files: string | Readonly<Record<string, string>>): Lowered {
  const named = typeof files === 'string' ? { 'site.couplet': files } : files;
  const [root] = Object.keys(named);
  return lower(parseSite(named), `memory:///${root}`);
}

export function partOf<K extends ComponentKind>(
  design: Design,
  name: string,
  kind: K,
): Component & { readonly kind: K } {
  const part = design.components.find((each) => each.name === name && each.kind === kind);
  if (part === undefined) throw new Error(`no ${kind} ${name} among ${names(design.components)}`);
  return part as Component & { readonly kind: K };
}

function names(components: readonly Component[]): string {
  return components.map((each) => `${each.kind} ${each.name}`).join(', ');
}

/** Joins as 'level.V12 K1.A1', sorted. */
export function joinsOf(design: Design): string[] {
  return design.joins.map((join) => `${design.terminals[join.a]?.name} ${design.terminals[join.b]?.name}`).sort();
}

export function placeOf(design: Design, terminal: string): string | undefined {
  const found = design.terminals.find((each) => each.name === terminal);
  if (found === undefined) throw new Error(`no terminal ${terminal}`);
  return found.place === undefined ? undefined : design.places[found.place]?.name;
}

/** Findings as 'code line:column message'. */
export function findingsOf(lowered: Lowered): string[] {
  return lowered.findings.map(
    ({ code, place, message }) => `${code} ${place.start.line + 1}:${place.start.character + 1} ${message}`,
  );
}
