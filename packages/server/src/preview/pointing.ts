/** What the cursor of an editor points at in a drawing: the part that is named there, or else the statement's wire. */
import type { Component } from '@couplet/engine';
import { couplingWith } from '@couplet/project';
import { CstUtils, type LangiumDocument } from 'langium';
import type { Position } from 'vscode-languageserver';
import { partsUnder } from '../features/parts-named.ts';
import type { CheckedSite, Sites } from '../sites/seam.ts';
import { siteOf } from './answers.ts';
import type { Pointed, PreviewParams } from './protocol.ts';
import { type Sheet, sheetAt, sheetsOf } from './sheets.ts';

const NOTHING: Pointed = { names: [] };

export function pointedAt(
  sites: Sites | undefined,
  { position, root, uri }: PreviewParams,
  document: LangiumDocument | undefined,
): Pointed {
  const site = siteOf(sites, uri, root);
  if (site === undefined || position === undefined) return NOTHING;
  const sheets = sheetsOf(site);
  const [part] = document === undefined ? [] : partsAt(document, position, site, uri);
  if (part === undefined) return { coupling: sheetAt(site, sheets, uri, position)?.id, names: [] };
  const names = namesOf(part, site);
  return { coupling: sheetWith(part, names, site, sheets)?.id, names };
}

function partsAt(document: LangiumDocument, at: Position, site: CheckedSite, uri: string): readonly Component[] {
  const text = document.parseResult.value.$cstNode;
  if (text === undefined) return [];
  const offset = document.textDocument.offsetAt(at);
  const leaves = [CstUtils.findLeafNodeAtOffset(text, offset), CstUtils.findLeafNodeAtOffset(text, offset - 1)];
  const found = leaves.map((leaf) => (leaf === undefined ? [] : partsUnder(leaf, site, uri)));
  return found.find((parts) => parts.length > 0) ?? [];
}

/** Its own name, then those of what it belongs to, by which a drawing may show it. */
function namesOf(part: Component, { design }: CheckedSite): readonly string[] {
  const names = [part.name];
  const driver = part.kind === 'contact' ? design.components[part.driver]?.name : undefined;
  if (driver !== undefined) names.push(driver);
  for (let at = part.owner; at !== undefined && names.length < 100; at = design.components[at]?.owner) {
    const name = design.components[at]?.name;
    if (name !== undefined && !names.includes(name)) names.push(name);
  }
  return names;
}

/** The first one that shows it. */
function sheetWith(
  part: Component,
  names: readonly string[],
  { analyses }: CheckedSite,
  sheets: readonly Sheet[],
): Sheet | undefined {
  const coupling = analyses.couplings.find(({ components }) => components.includes(part.id));
  if (coupling === undefined) return undefined;
  const design = coupling.toDesign();
  const [id] = names.flatMap((name) => couplingWith({ design }, name) ?? []);
  return sheets.find((sheet) => sheet.coupling === coupling && sheet.id === id);
}
