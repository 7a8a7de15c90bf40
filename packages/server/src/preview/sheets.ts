/**
 * The drawings of a checked site: what is coupled electrically is computed by itself and may fill several sheets. Nothing
 * is solved for the list of them.
 */
import type { Component, Coupling } from '@couplet/engine';
import { type CouplingChoice, couplingsOf, couplingWith, type DrawnSite } from '@couplet/project';
import type { Position } from 'vscode-languageserver';
import type { CheckedSite } from '../sites/seam.ts';

/** One drawing, and the coupling that its figures come from. */
export interface Sheet extends CouplingChoice {
  readonly coupling: Coupling;
}

/** What a coupling is drawn as; a pass keeps the couplings that it finds unchanged. */
const KEPT = new WeakMap<Coupling, readonly Sheet[]>();

/** In the order of the site's parts. */
export function sheetsOf({ analyses }: CheckedSite): readonly Sheet[] {
  return analyses.couplings.flatMap((coupling) => {
    const kept = KEPT.get(coupling);
    if (kept !== undefined) return kept;
    const sheets = couplingsOf({ design: coupling.toDesign() }).map((choice) => ({ ...choice, coupling }));
    KEPT.set(coupling, sheets);
    return sheets;
  });
}

/** A coupling as a site of its own, with the places of the whole. */
export function drawnSite({ analyses, place }: CheckedSite, coupling: Coupling): DrawnSite {
  const analysis = analyses.of(coupling);
  return {
    design: analysis.design,
    analysis,
    place: (origin) => {
      const whole = coupling.origins[origin];
      return whole === undefined ? undefined : place(whole);
    },
  };
}

/** The sheet of what is written at a place of a text: of the shortest statement or part of one that holds it. */
export function sheetAt(site: CheckedSite, sheets: readonly Sheet[], uri: string, at: Position): Sheet | undefined {
  const { analyses, design, place } = site;
  let found: { readonly part: Component; readonly length: number } | undefined;
  const look = (origin: number, part: Component) => {
    const range = place(origin);
    if (range === undefined || range.uri !== uri || !holds(range, at)) return;
    const length = (range.end.line - range.start.line) * 1e6 + range.end.character - range.start.character;
    if (found === undefined || length < found.length) found = { part, length };
  };
  for (const part of design.components) look(part.origin, part);
  for (const { a, b, origin } of design.joins) {
    // Returns and rails are on many sheets; what is joined to them is on one.
    const [one, other] = [a, b].map((terminal) => design.components[design.terminals[terminal]!.component]!);
    look(origin, SHARED.has(one!.kind) ? other! : one!);
  }
  if (found === undefined) return undefined;
  const { id, name } = found.part;
  const coupling = analyses.couplings.find(({ components }) => components.includes(id));
  if (coupling === undefined) return undefined;
  const sheet = couplingWith({ design: coupling.toDesign() }, name);
  return sheets.find((each) => each.coupling === coupling && each.id === sheet);
}

const SHARED: ReadonlySet<string> = new Set(['common', 'source', 'feed', 'joint', 'terminal', 'core']);

function holds({ end, start }: { readonly start: Position; readonly end: Position }, at: Position): boolean {
  const before = (one: Position, other: Position) =>
    one.line < other.line || (one.line === other.line && one.character <= other.character);
  return before(start, at) && before(at, end);
}
