/** Sites in memory for the tests of lowering. */
import type { Component, ComponentKind, Design } from '@couplet/engine';
import { type CoupletFile, createCoupletCoreServices, type Lowered, lower } from '@couplet/language';
import { type LangiumDocument, URI } from 'langium';

const { shared, Couplet } = createCoupletCoreServices();
export const ROOT = 'memory:///site.couplet';

/** Parses files by name; the first one is the root. Syntax errors are thrown: tests of lowering do not test syntax. */
export function parseSite(files: Readonly<Record<string, string>>): LangiumDocument<CoupletFile>[] {
  return Object.entries(files).map(([name, text]) => {
    const uri = URI.parse(`memory:///${name}`);
    const document = shared.workspace.LangiumDocumentFactory.fromString<CoupletFile>(text, uri);
    const { lexerErrors, parserErrors } = document.parseResult;
    const [error] = [...lexerErrors, ...parserErrors];
    if (error !== undefined) throw new Error(`${name}: ${error.message}`);
    return document;
  });
}

/** Lowers a site of one file, or of several by name with the root first. */
export function lowerText(files: string | Readonly<Record<string, string>>): Lowered {
  const named = typeof files === 'string' ? { 'site.couplet': files } : files;
  const [root] = Object.keys(named);
  return lower(parseSite(named), `memory:///${root}`);
}

export { Couplet, shared };

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
