/**
 * From the parsed files of one site to its design. Names are looked up in tables made once for a site, so the work grows
 * as the text does. Nothing of the trees is kept in the result.
 */
import type { Component, Design, Plain } from '@couplet/engine';
import { type LangiumDocument, URI } from 'langium';
import { siteFiles } from '../files/site-files.ts';
import { type CoupletFile, isSite, type Kind, type Reference } from '../generated/ast.ts';
import { autonomy } from './autonomy.ts';
import { Cases } from './cases.ts';
import { Chains } from './chains.ts';
import type { LanguageFinding, Lowered } from './contract.ts';
import { type Block, Declarations } from './declare.ts';
import { fileNames } from './divide.ts';
import { joinChains } from './joins.ts';
import { type Bases, type LoweringMemory, NO_BASES, type Piece } from './memory.ts';
import { PartBuilder } from './parts/builder.ts';
import { buildCable } from './parts/cable.ts';
import { buildRelay, buildSwitch } from './parts/relay.ts';
import {
  buildArrester,
  buildCapacitor,
  buildDiode,
  buildFuse,
  buildJoint,
  buildLoad,
  buildResistor,
} from './parts/small.ts';
import { buildSource } from './parts/source.ts';
import { buildUnit } from './parts/unit.ts';
import { settleCores } from './runs.ts';
import { Scope } from './scope.ts';
import { type Mutable, type Report, Site } from './site.ts';
import { accept, measured, program, settingValue, siteFacts, spare } from './statements.ts';
import { rowsOfUses, tellOnce, wordsForAll } from './told-once.ts';
import { confirmation, follow } from './watching.ts';

export interface LowerOptions {
  /** Where a `use` leads when that is not simply its path (links on a disk). */
  follow?(from: string, path: string): string | undefined;
  /** What was lowered before of the same site; the numbers of its parts may then differ from those lowered without it. */
  readonly memory?: LoweringMemory;
}

/** How each kind of component is made. */
const BUILDERS: Readonly<Partial<Record<Kind, (b: PartBuilder) => void>>> = {
  unit: buildUnit,
  relay: buildRelay,
  resistor: buildResistor,
  capacitor: buildCapacitor,
  diode: buildDiode,
  fuse: buildFuse,
  load: buildLoad,
  switch: buildSwitch,
  cable: buildCable,
  supply: buildSource,
  battery: buildSource,
  arrester: buildArrester,
  joint: buildJoint,
};

/** Lowers a site: `root` is the URI of its first file, `documents` hold it and every file that it uses. */
export function lower(
  documents: readonly LangiumDocument<CoupletFile>[],
  root: string,
  options: LowerOptions = {},
): Lowered {
  const byUri = new Map(documents.map((document) => [document.uri.toString(), document]));
  const files = filesOf(byUri, root, options);
  const trees = files.map(({ file }) => file);
  if (options.memory === undefined || trees.length === 0) {
    return lowerPiece(
      documents,
      files,
      files.map((_, number) => number),
      NO_BASES,
    );
  }
  return options.memory.lower(trees, (own, bases) => lowerPiece(documents, files, own, bases));
}

/** Lowers the files of these numbers, with what the others declare for all. */
function lowerPiece(
  documents: readonly LangiumDocument<CoupletFile>[],
  files: readonly SiteFile[],
  own: readonly number[],
  bases: Bases,
): Piece {
  const site: Site = new Site((reference, scope) => namedValue(site, reference, scope), bases);
  for (const { parseResult, textDocument, uri } of documents) {
    site.origins.addFile(parseResult.value, uri.toString(), textDocument.getText());
  }
  const declarations = new Declarations(site);
  const top = new Scope();
  const declared = files.map(({ file, prefix }, number): Block & { readonly own: boolean } => {
    const isOwn = own.includes(number);
    return {
      items: isOwn ? file.statements : fileNames(file).declarations,
      scope: scopeAt(top, prefix),
      own: isOwn,
    };
  });
  const rootBlock = declared[0]?.own === true ? declared[0] : undefined;
  const facts = rootBlock?.items.find(isSite);
  if (facts !== undefined && rootBlock !== undefined) site.facts = siteFacts(site, facts, rootBlock.scope);
  declarations.read(
    declared,
    declared.filter((block) => block.own),
  );
  const { blocks } = declarations;
  each(site, blocks, 'Program', (node, { scope }) => program(site, node, scope));
  for (const part of site.parts) {
    const make = () => BUILDERS[part.kind]?.(new PartBuilder(site, part));
    site.origins.within(part.scope.use, () => site.origins.making(part.node, make));
  }
  for (const work of site.later) work();

  const chains = new Chains(site);
  each(site, blocks, 'Wire', (node, { scope }) => chains.read(node, scope));
  each(site, blocks, 'Bond', (node, { scope }) => chains.read(node, scope));
  chains.finish();
  joinChains(site, chains.list, settleCores(site, chains.list));
  givePlaces(site);

  const cases = new Cases(site, (reference, scope) => namedValue(site, reference, scope));
  each(site, blocks, 'Confirm', (node, { scope }) => confirmation(site, node, scope, cases));
  for (const { output, facts } of site.followers) follow(site, output, facts);
  each(site, blocks, 'Case', (node, { scope }) => cases.number(node, scope));
  each(site, blocks, 'Case', (node, { scope }) => cases.lower(node, scope));
  each(site, blocks, 'Spare', (node, { scope }) => spare(site, node, scope));
  each(site, blocks, 'Measured', (node, { scope }) => measured(site, node, scope, cases));
  each(site, blocks, 'Accept', (node, { scope }) => accept(site, node, scope, declarations));
  each(site, blocks, 'Autonomy', (node, { scope }) => autonomy(site, node, scope, cases));
  markUndecided(site);
  return result(site, facts === undefined, bases);
}

type Item = Block['items'][number];

/** Does something for every statement of a kind, in the order of the files. */
function each<T extends Item['$type']>(
  site: Site,
  blocks: readonly Block[],
  type: T,
  work: (node: Extract<Item, { $type: T }>, block: Block) => void,
): void {
  for (const block of blocks) {
    site.origins.within(block.scope.use, () => {
      for (const item of block.items) if (item.$type === type) work(item as Extract<Item, { $type: T }>, block);
    });
  }
}

/** A file of the site, and what stands before its names in it. */
interface SiteFile {
  readonly file: CoupletFile;
  readonly prefix: string;
}

/** The files of the site, the root first. */
function filesOf(
  documents: ReadonlyMap<string, LangiumDocument<CoupletFile>>,
  root: string,
  options: LowerOptions,
): SiteFile[] {
  const parsed = {
    get: (uri: string) => documents.get(uri)?.parseResult.value,
    ...(options.follow === undefined ? {} : { follow: options.follow }),
  };
  const { files } = siteFiles(URI.parse(root).toString(), parsed);
  return [...files.values()].flatMap(({ uri, prefix }) => {
    const file = parsed.get(uri);
    return file === undefined ? [] : [{ file, prefix }];
  });
}

/** The scope of a prefix; scopes on the way are known to the ones above them. */
function scopeAt(top: Scope, prefix: string): Scope {
  let scope = top;
  for (const name of prefix === '' ? [] : prefix.split('.')) {
    let inner = scope.spaces.get(name);
    if (inner === undefined) {
      inner = new Scope(`${scope.prefix}${name}.`, scope);
      scope.spaces.set(name, inner);
    }
    scope = inner;
  }
  return scope;
}

/** What a name stands for where a value is asked for. */
function namedValue(site: Site, reference: Reference, scope: Scope) {
  if (reference.steps.length > 0) return settingValue(site, reference, scope);
  let named = scope.find(reference.head?.$refText ?? '');
  for (let steps = 0; named?.sort === 'alias' && steps < MOST_STEPS; steps++) {
    if (named.reference.steps.length > 0) return settingValue(site, named.reference, named.scope);
    named = named.scope.find(named.reference.head?.$refText ?? '');
  }
  const value = named?.sort === 'value' ? named.values[0] : undefined;
  return named?.sort === 'value' && value !== undefined ? { value, scope: named.scope } : undefined;
}

const MOST_STEPS = 16;

/** Places that follow from chains and cables. */
function givePlaces(site: Site): void {
  site.terminals.forEach((terminal, id) => {
    const place = site.spots.place(site.spotOf[id] as number);
    if (place !== undefined) terminal.place = place;
  });
  const components = site.components.slice(site.bases.components);
  for (const component of components) {
    if (component.place !== undefined || !('a' in component) || component.kind === 'core') continue;
    const place = site.terminals[component.a]?.place;
    if (place !== undefined) component.place = place;
  }
  for (const part of site.parts) {
    const component = site.components[part.id] as Mutable<Component> | undefined;
    if (component === undefined || part.kind === 'cable') continue;
    const place = site.spots.place(part.spot);
    if (place !== undefined) component.place = place;
  }
  for (const component of components) {
    const owner = component.owner === undefined ? undefined : site.components[component.owner];
    if (component.place === undefined && owner?.place !== undefined) component.place = owner.place;
  }
}

/** Marks ports that are wired without being programmed as either. */
function markUndecided(site: Site): void {
  if (site.undecided.length === 0) return;
  const wired = new Set(site.joins.flatMap((join) => [join.a, join.b]));
  for (const terminal of site.undecided) {
    const component = site.components[site.terminals[terminal]?.component ?? -1] as Mutable<Plain> | undefined;
    if (component !== undefined && wired.has(terminal)) component.undecidedPort = true;
  }
}

function result(site: Site, fragment: boolean, bases: Bases): Piece {
  const design: Design = {
    site: site.facts,
    fragment,
    places: site.places,
    terminals: site.terminals.slice(bases.terminals),
    components: site.components.slice(bases.components),
    joins: site.joins,
    earth: site.earth,
    cases: site.cases.slice(bases.cases),
    autonomies: site.autonomies,
    acceptances: site.acceptances,
    readings: site.readings,
    spare: site.spare,
    uncomputed: site.uncomputed,
  };
  const back = site.origins.wayBack();
  return {
    design,
    place: (origin) => back.place(origin),
    withinUses: (origin) => back.withinUses(origin),
    findings: findingsOf(site.reports, back),
    origins: site.origins.made,
  };
}

/** What lowering found, each at its place; what every use of an assembly has, once. */
function findingsOf(reports: readonly Report[], back: Pick<Lowered, 'place' | 'withinUses'>): LanguageFinding[] {
  const told = tellOnce(reports, back, ({ code, origin }) => ({ origin, key: code, names: [] }));
  return told.flatMap(({ items, place, uses, inAssembly, written }): LanguageFinding[] => {
    const first = items[0];
    if (first === undefined || place === undefined) return [];
    const messages = items.map(({ message }) => message);
    const related = first.related.flatMap(({ message, origin }) => {
      const at = back.withinUses(origin)?.place ?? back.place(origin);
      return at === undefined ? [] : [{ place: at, message }];
    });
    if (written !== undefined) related.push({ place: written.place, message: `${written.assembly} says it here.` });
    if (inAssembly) related.push(...rowsOfUses(messages, uses));
    const { code, severity } = first;
    return [{ code, severity, message: wordsForAll(messages, uses), place, related }];
  });
}
