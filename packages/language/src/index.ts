/**
 * From text to names and values.
 *
 *   module.ts               the services; `createCoupletCoreServices` where no editor is
 *   generated/ast.ts        the shape of a parsed file
 *   references/resolver.ts  where a reference leads; `resolveReference` gives the chain of nodes of a linked one
 *   references/names.ts     the names that a file, an assembly or a body declares
 *   files/                  which files make up a site; pure functions
 *   properties/             the property table and look-ups in it
 *   format/                 the layout of a file
 *   lower/                  from a linked site to the engine's Design
 */

export type { FindingData, LanguageCode } from './checks/report.ts';
export * from './files/bundled.ts';
export * from './files/site-files.ts';
export * from './files/use.ts';
export { type FormatEdit, type Formatted, format } from './format/format.ts';
export * from './generated/ast.ts';
export { CoupletGeneratedModule, CoupletGeneratedSharedModule } from './generated/module.ts';
export type * from './lower/contract.ts';
export { type LowerOptions, lower } from './lower/lower.ts';
export { LoweringMemory } from './lower/memory.ts';
export { nameWithin, rowsOfUses, type ToldOnce, tellOnce, withoutUse, wordsForAll } from './lower/told-once.ts';
export * from './module.ts';
export * from './properties/row.ts';
export * from './properties/says.ts';
export * from './properties/states.ts';
export * from './properties/subjects.ts';
export * from './properties/table.ts';
export * from './references/contacts.ts';
export { addLibrary, isBundledNode, isLibraryNode, LIBRARY_URI } from './references/library.ts';
export { type CoupletLinkingError, isRenamable, nameAsWritten, standsForItself } from './references/linker.ts';
export type { Lookup } from './references/lookup.ts';
export { formsOf, isCore, unitProperty } from './references/members.ts';
export {
  bodyNames,
  countedNames,
  declaredName,
  Names,
  referenceText,
  type TopNames,
  topNames,
} from './references/names.ts';
export { type PlaceOfValue, placeOfProperty, placeOfValue, subjectOfProperty } from './references/places-of-values.ts';
export { CoupletDocumentBuilder } from './references/relink.ts';
export { renameRefusal } from './references/renaming.ts';
export * from './references/resolve.ts';
export { lastNode, Resolver } from './references/resolver.ts';
export type { Category, SiteScopes } from './references/site-scopes.ts';
export { subjectOfNode, subjectOfReference } from './references/subjects-of-nodes.ts';
export { type Evaluated, type Evaluation, evaluate, type ValueError } from './values/evaluate.ts';
export { dimensionsOf, formWords, misfit } from './values/match.ts';
export { nearest } from './values/words.ts';
