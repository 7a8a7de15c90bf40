/** Checks of names: the same one twice, and what a wrong one could have meant. */
import { AstUtils, type LinkingError, type URI, UriUtils } from 'langium';
import {
  type AssemblyBody,
  type Component,
  type CoupletFile,
  isAccept,
  isAssemblyBody,
  isBody,
  isCase,
  isComponent,
  isComponentName,
  isExpect,
  isMember,
  isMemberName,
  isProgram,
  isProperty,
  isReading,
  isReference,
  isStep,
  isTypeDeclaration,
  isWordTerm,
  type MemberName,
  type Named,
  type Step,
  type TypeDeclaration,
} from '../generated/ast.ts';
import { targetsOf } from '../properties/table.ts';
import { bodyNames, countedNames, MOST_COUNTED, Names, referenceText, topNames } from '../references/names.ts';
import { placeOfValue } from '../references/places-of-values.ts';
import type { Resolver } from '../references/resolver.ts';
import type { SiteScopes } from '../references/site-scopes.ts';
import { meant, nearest } from '../values/words.ts';
import { subjectWords } from './properties.ts';
import { lineOf, type Reporter } from './report.ts';

/** Names of a file or an assembly that are given twice in it. Both places are told. */
export function checkTaken(container: CoupletFile | AssemblyBody, report: Reporter): void {
  const { things, types, cases } = topNames(container);
  for (const table of [things, types, cases]) {
    for (const [name, nodes] of table.entries()) {
      const [first, ...others] = nodes;
      // `case rest` adds up.
      if (first === undefined || (isCase(first) && name === 'rest')) continue;
      for (const other of others) reportTaken(name, other, first, report);
    }
  }
}

/** Names that another file of the site has already, in the order in which its files are reached. */
export function checkTakenInSite(file: CoupletFile, sites: SiteScopes, report: Reporter): void {
  const uri = AstUtils.getDocument(file).uri.toString();
  const own = topNames(file);
  for (const category of ['things', 'types', 'cases'] as const) {
    const [names] = sites.around(uri, category);
    if (names === undefined) continue;
    for (const [name, nodes] of own[category].entries()) {
      const first = names.first(name);
      if (first === undefined || AstUtils.findRootNode(first) === file) continue;
      if (category === 'cases' && name === 'rest') continue;
      const where = fileName(AstUtils.getDocument(first).uri);
      for (const node of nodes) {
        report({
          code: 'name-taken',
          message: `'${name}' is taken: it already stands in line ${lineOf(first)} of '${where}', which is of the same site.`,
          node,
          property: 'name',
          related: [{ node: first, message: `'${name}' stands here as well.` }],
        });
      }
    }
  }
  for (const { use, prefix } of sites.again(uri)) {
    if (AstUtils.findRootNode(use) !== file) continue;
    const how = prefix === '' ? 'without a name before its own' : `as '${prefix}'`;
    report({
      code: 'used-twice',
      message: `This file already counts ${how}; a file counts once in a site.`,
      node: use,
    });
  }
}

function fileName(uri: URI): string {
  return decodeURIComponent(UriUtils.basename(uri));
}

/** Members of one body with the same name, and members that the type already has. */
export function checkMembersTaken(unit: Component | TypeDeclaration, report: Reporter): void {
  if (!isBody(unit.body)) return;
  const type = isComponent(unit) ? unit.type?.ref : undefined;
  const inherited = isBody(type?.body) ? bodyNames(type.body) : new Names();
  const seen = new Map<string, MemberName>();
  for (const item of unit.body.items) {
    if (!isMember(item)) continue;
    for (const name of item.names) checkMemberName(name, seen, inherited, report);
  }
}

function checkMemberName(name: MemberName, seen: Map<string, MemberName>, inherited: Names, report: Reporter): void {
  const counted = countedNames(name);
  if (name.last !== undefined && counted.length === 2 && !isNextTo(counted)) {
    const message = `'${name.name} .. ${name.last}' does not count up: both ends have the same letters, and at most ${MOST_COUNTED} members lie between.`;
    report({ code: 'count-wrong', message, node: name });
  }
  for (const each of counted) {
    const first = seen.get(each);
    const above = inherited.all(each).find(isMemberName);
    if (first !== undefined) {
      reportTaken(each, name, first, report);
      return;
    }
    if (above !== undefined) {
      report({
        code: 'name-taken',
        message: `The type already has a member '${each}': write '${each}.' and a property's name to change one of its properties.`,
        node: name,
        property: 'name',
        related: [{ node: above, message: `'${each}' of the type.` }],
      });
      return;
    }
    seen.set(each, name);
  }
}

function isNextTo([first = '', last = '']: readonly string[]): boolean {
  const number = (text: string) => Number(/\d+$/.exec(text)?.[0] ?? Number.NaN);
  const stem = (text: string) => text.replace(/\d+$/, '');
  return stem(first) === stem(last) && number(last) === number(first) + 1;
}

function reportTaken(name: string, node: Named, first: Named, report: Reporter): void {
  report({
    code: 'name-taken',
    message: `'${name}' is taken: it already stands in line ${lineOf(first)}.`,
    node,
    property: isProgram(node) ? 'setting' : 'name',
    related: [{ node: first, message: `'${name}' stands here as well.` }],
  });
}

export interface WrongName {
  readonly message: string;
  readonly suggestion?: string;
}

/** A linking error in words of the trade. `suggest` also looks for the nearest name, which takes its time. */
export function wrongName(error: LinkingError, resolver: Resolver, suggest: boolean): WrongName {
  const { info } = error;
  const wrong = info.reference.$refText;
  // One number is not like another.
  const suggestion = suggest && !/^\d+$/.test(wrong) ? nearest(wrong, namesIn(resolver, info)) : undefined;
  const { container } = info;
  const step = isStep(container) && container.doubled.length === 0 ? container.parts.map((part) => part.$refText) : [];
  const name = step.length > 1 ? (suggestion === undefined ? step.join('-') : wrong) : wrong;
  const few = suggestion === undefined && isStep(container) ? fewNames(resolver, info) : '';
  const measure = suggestion === undefined && suggest ? measureMeant(container, wrong) : undefined;
  const pole = isStep(container) && /^\d+$/.test(wrong) ? poleAdvice(container) : undefined;
  const advice = pole ?? `${meant(suggestion ?? measure)}${few}`;
  return { message: `${unknownWords(container, name)}${advice}`, suggestion: suggestion ?? measure };
}

/** `expect volt A to B`: the word for what is measured, taken for a name. */
function measureMeant(container: LinkingError['info']['container'], wrong: string): string | undefined {
  if (!isReference(container) || container.steps.length > 0 || !isExpect(container.$container)) return undefined;
  return nearest(wrong, ['volts', 'ohms', 'amps']);
}

/** `K1.11.14` for `K1.11-14`. */
function poleAdvice(step: Step): string | undefined {
  const reference = step.$container;
  const last = isReference(reference) ? reference.steps[reference.steps.indexOf(step) - 1]?.parts.at(-1)?.$refText : '';
  return /^\d+$/.test(last ?? '') ? ` A pole is written ${last}-${step.parts.at(-1)?.$refText}.` : undefined;
}

function* namesIn(resolver: Resolver, info: LinkingError['info']): Iterable<string> {
  for (const [name] of resolver.scope(info).entries()) yield name;
}

/** ' It has 11, 12.', where that is a short list. */
function fewNames(resolver: Resolver, info: LinkingError['info']): string {
  const names: string[] = [];
  for (const name of namesIn(resolver, info)) {
    if (names.length === MOST_LISTED) return '';
    names.push(name);
  }
  return names.length === 0 ? '' : ` It has ${names.join(', ')}.`;
}

const MOST_LISTED = 12;

function unknownWords(container: LinkingError['info']['container'], name: string): string {
  if (isComponent(container)) return `There is no type '${name}' in this site.`;
  if (isStep(container)) return `${stepOwner(container)} has no '${name}'.`;
  if (!isReference(container)) return `There is no '${name}' here.`;
  const owner = container.$container;
  if (isProperty(owner)) return `There is no '${name}' here whose properties could be changed.`;
  if ((isReading(owner) || isCase(owner)) && container.steps.length === 0)
    return `There is no case '${name}' in this site.`;
  if (isAccept(owner)) return `There is no component or type '${name}' in this site.`;
  if (isWordTerm(owner)) return unknownTerm(owner, name);
  if (AstUtils.getContainerOfType(container, isAssemblyBody) !== undefined) {
    return `There is no '${name}' in this assembly; what comes from outside is named after 'given'.`;
  }
  if (isComponent(owner)) return `There is no place '${name}' in this site.`;
  return `There is no component '${name}' in this site.`;
}

const TERM_WORDS: Readonly<Record<string, string>> = {
  return: 'common, rail or terminal',
  rail: 'rail',
  scheme: 'scheme',
  feed: 'supply',
  place: 'place',
  case: 'case',
  thing: 'component',
};

function unknownTerm(term: Parameters<typeof placeOfValue>[0], name: string): string {
  const { row, quantity } = placeOfValue(term);
  if (name === 'above' || name === 'below') return `A value is missing after '${name}'.`;
  if (quantity || row === undefined || targetsOf(row).length === 0) return `There is no value '${name}' in this site.`;
  const target = targetsOf(row).find((each) => TERM_WORDS[each] !== undefined);
  const inUnit = target === 'return' || target === 'rail' || target === 'scheme' || target === 'feed';
  return `There is no ${TERM_WORDS[target ?? 'thing']} '${name}' in this ${inUnit ? 'unit' : 'site'}.`;
}

/** What stands before a step, as a person would call it: "The relay 'K1'". */
function stepOwner(step: LinkingError['info']['container']): string {
  const reference = step.$container;
  if (!isReference(reference) || !isStep(step)) return 'It';
  const index = reference.steps.indexOf(step);
  const text = referenceText(reference, index);
  const node = index === 0 ? reference.head?.ref : reference.steps[index - 1]?.parts.at(-1)?.ref;
  const kind = node === undefined ? undefined : kindOf(node);
  return kind === undefined ? `'${text}'` : `The ${kind} '${text}'`;
}

function kindOf(node: Named): string | undefined {
  if (isComponentName(node) && isComponent(node.$container)) return node.$container.kind;
  if (isMemberName(node) && isMember(node.$container)) return node.$container.kind;
  return isTypeDeclaration(node) ? `${subjectWords(node.kind as 'unit').replace(/^an? /, '')} type` : undefined;
}
