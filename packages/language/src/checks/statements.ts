/** Checks of statements that need no computation: kinds of types, states, reasons, dates, counts. */
import { isRuleName, RULE_NAMES } from '@couplet/rules';
import { AstUtils } from 'langium';
import {
  type Accept,
  type Bond,
  type Component,
  type Expect,
  type Given,
  isAccept,
  isBody,
  isComponent,
  isComponentName,
  isConfirm,
  isExpect,
  isGroup,
  isMember,
  isMemberName,
  isProperty,
  isTurn,
  type Measured,
  type MemberName,
  type Named,
  type Reading,
  type Reference,
  type State,
} from '../generated/ast.ts';
import { KIND_SAYS, MEMBER_SAYS } from '../properties/says.ts';
import { FAULTS, faultRow, type StateOwner, stateRow, USUAL_CLASSES } from '../properties/states.ts';
import { isLibraryNode } from '../references/library.ts';
import { formsOf, isCore, unitProperty } from '../references/members.ts';
import { lastNode, type Resolver } from '../references/resolver.ts';
import { QUANTITY_GIVENS } from '../values/evaluate.ts';
import { either, meant, nearest } from '../values/words.ts';
import { checkQuantity } from './properties.ts';
import type { Reporter } from './report.ts';

export function checkComponent(component: Component, report: Reporter): void {
  const type = component.type?.ref;
  // A type that is half typed has no kind yet.
  if (type?.kind === undefined || type.kind === component.kind) return;
  const message = `'${type.name}' is a type of ${type.kind}, not of ${component.kind}.`;
  const related = [{ node: type, message: `The type '${type.name}'.` }];
  report({ code: 'type-of-another-kind', message, node: component, property: 'type', related });
}

/** What an assembly can be given: components and members by their kind, places, quantities. */
const GIVENS: readonly string[] = [
  ...Object.keys(KIND_SAYS).filter((kind) => kind !== 'assembly'),
  ...Object.keys(MEMBER_SAYS).filter((kind) => !(kind in KIND_SAYS) && kind !== 'scheme' && kind !== 'mode'),
  'place',
  ...QUANTITY_GIVENS.keys(),
];

export function checkGivenKind(given: Given, report: Reporter): void {
  if (given.kind === undefined || GIVENS.includes(given.kind)) return;
  const suggestion = nearest(given.kind, GIVENS);
  const message = `An assembly is given a part, a place or a quantity: '${given.kind}' is none.${meant(suggestion)}`;
  report({ code: 'word-wrong', message, node: given, property: 'kind', suggestion });
}

export function checkBond(bond: Bond, report: Reporter): void {
  if (bond.reason.length > 0) return;
  const message = 'A bond says why it is there: because "…".';
  report({ code: 'reason-missing', message, node: bond });
}

export function checkAccept(accept: Accept, report: Reporter): void {
  if (accept.rule !== undefined && !isRuleName(accept.rule)) {
    const suggestion = nearest(accept.rule, RULE_NAMES);
    const message = `There is no rule '${accept.rule}'.${meant(suggestion)}`;
    report({ code: 'rule-unknown', message, node: accept, property: 'rule', suggestion });
  }
  if (accept.reason.length === 0 && accept.target !== undefined) {
    const message = 'An acceptance says why: because "…".';
    report({ code: 'reason-missing', message, node: accept, property: 'target' });
  }
  if (accept.rule === 'silent-fault' && accept.fault === undefined && accept.target !== undefined) {
    const message = `'silent-fault' is accepted for one fault: name it, as in accept silent-fault welded on …`;
    report({ code: 'fault-missing', message, node: accept, property: 'rule' });
  }
  if (accept.until !== undefined) checkDate(accept.until, accept, 'until', report);
}

export function checkMeasured(measured: Measured, report: Reporter): void {
  if (measured.date !== undefined) checkDate(measured.date, measured, 'date', report);
  checkQuantity(measured.temperature, 'The temperature', ['degC'], report);
}

export function checkReading(reading: Reading, report: Reporter): void {
  const dimensions = { volts: 'V', ohms: 'ohm', amps: 'A' } as const;
  const quantity = reading.measure?.quantity;
  if (quantity !== undefined) checkQuantity(reading.value, 'A reading', [dimensions[quantity]], report);
}

export function checkExpect(expect: Expect, report: Reporter): void {
  if (expect.times !== undefined && !/^\d+$/.test(expect.times)) {
    report({ code: 'count-wrong', message: "'times' follows a whole number.", node: expect, property: 'times' });
  }
  const { comparison, measure } = expect;
  if (comparison?.value === undefined) return;
  if (measure?.quantity !== undefined) {
    const dimension = ({ volts: 'V', ohms: 'ohm', amps: 'A' } as const)[measure.quantity];
    checkQuantity(comparison.value, 'The comparison', [dimension], report);
    return;
  }
  const owner = expect.target && ownerOf(expect.target);
  if (owner === undefined) return;
  const { figures, words } = stateRow(owner);
  if (figures.length > 0) {
    checkQuantity(comparison.value, 'The comparison', figures, report);
    return;
  }
  const message = `No figure can be expected of ${words}; it has states.`;
  report({ code: 'state-wrong', message, node: expect, property: 'comparison' });
}

/** A state that its target can have, or the word of a fault with what it names. */
export function checkState(state: State, resolver: Resolver, report: Reporter): void {
  const owner = state.$container;
  const word = state.word?.$refText;
  if (word === undefined) return;
  const target = isTurn(owner) || isExpect(owner) || isAccept(owner) ? owner.target : undefined;
  if (target === undefined) return;
  const fault = faultRow(word);
  if (fault !== undefined && !isExpect(owner)) checkOther(state, fault.names, word, report);
  if (isAccept(owner)) {
    if (fault === undefined)
      reportState(
        state,
        word,
        FAULTS.map((row) => row.word),
        'No fault is called',
        report,
      );
    return;
  }
  // A mode leads to its declaration; every other word to itself.
  if (state.word?.ref !== state) return;
  const sort = ownerOf(target);
  if (sort === undefined) return;
  const row = stateRow(sort);
  const turned = isTurn(owner);
  if (turned && fault !== undefined) return;
  const classes = row.declared === 'classes' ? classesOf(target) : undefined;
  const words = [...(turned ? row.turn : row.expect), ...(classes ?? []), ...(turned ? modesOf(target, resolver) : [])];
  const asked = row.declared === 'classes' ? word.split('+') : [word];
  if (asked.every((each) => words.includes(each)) || words.includes(word)) return;
  if (words.length === 0) {
    const advice = turned ? 'it follows from what drives it; a fault of it can be turned' : 'it has figures only';
    report({
      code: 'state-wrong',
      message: `${capitalised(row.words)} has no state to ${turned ? 'turn' : 'expect'}: ${advice}.`,
      node: state,
    });
    return;
  }
  const possible = turned
    ? [...words, ...FAULTS.filter((each) => each.on.includes(sort)).map((each) => each.word)]
    : words;
  reportState(
    state,
    word,
    possible,
    `${capitalised(row.words)} is ${turned ? 'turned' : 'expected'} ${either(words)}, not`,
    report,
  );
}

function reportState(state: State, word: string, words: readonly string[], head: string, report: Reporter): void {
  const suggestion = nearest(word, words);
  report({
    code: 'state-wrong',
    message: `${head} '${word}'.${meant(suggestion)}`,
    node: state,
    property: 'word',
    suggestion,
  });
}

function checkOther(state: State, names: 'to' | 'with' | undefined, word: string, report: Reporter): void {
  if (names === undefined && state.other !== undefined) {
    report({ code: 'state-wrong', message: `'${word}' names no other part.`, node: state, property: 'other' });
  }
  if (names !== undefined && state.other === undefined) {
    const what = names === 'to' ? 'core' : 'part';
    report({ code: 'state-wrong', message: `'${word}' names a ${what}: ${word} ${names} …`, node: state });
  }
}

/** What a reference is, as far as its states go; undefined where it leads nowhere or to something without states. */
export function ownerOf(target: Reference): StateOwner | undefined {
  const node = lastNode(target);
  if (node === undefined) return undefined;
  const last = target.steps.at(-1);
  if (last !== undefined && last.parts.length > 1 && last.parts[0]?.ref !== last.parts.at(-1)?.ref) return 'pole';
  if (isConfirm(node)) return 'confirm';
  if (isComponentName(node)) return componentOwner(node.$container);
  if (isMemberName(node)) return isLibraryNode(node) ? 'pole' : memberOwner(node);
  return isCore(node) ? 'core' : undefined;
}

function componentOwner(component: Named['$container']): StateOwner | undefined {
  if (!isComponent(component)) return undefined;
  switch (component.kind) {
    case 'supply':
    case 'battery':
      return 'source';
    case 'relay':
      return unitProperty(component, 'latching') === undefined ? 'relay' : 'latching relay';
    case 'switch': {
      const forms = formsOf(component);
      return forms === undefined || (forms.length === 1 && !forms[0]?.includes('changeover'))
        ? 'switch with one contact'
        : 'switch';
    }
    case 'unit':
    case 'fuse':
    case 'load':
      return component.kind;
    case 'assembly':
    case 'cable':
      return undefined;
    default:
      return 'part';
  }
}

function memberOwner(name: MemberName): StateOwner | undefined {
  const member = name.$container;
  if (!isMember(member)) return undefined;
  switch (member.kind) {
    case 'supply':
    case 'rail':
      return 'source';
    case 'contact': {
      const changeover = member.body?.items.some((item) => isProperty(item) && item.name === 'common');
      return changeover === true ? 'changeover contact' : 'contact';
    }
    case 'output':
    case 'zone':
    case 'input':
      return member.kind;
    default:
      return undefined;
  }
}

/** Classes that the zone's unit knows: those of its schemes and of the zone's own bands. */
function classesOf(target: Reference): readonly string[] {
  const zone = lastNode(target);
  if (zone === undefined) return USUAL_CLASSES;
  const unit = AstUtils.getContainerOfType(zone, isBody)?.items ?? [];
  const bodies = unit.flatMap((item) => {
    if (!isMember(item)) return [];
    if (item.kind === 'scheme') return item.body ?? [];
    return item.body?.items.flatMap((each) => (isGroup(each) && each.name === 'bands' ? (each.body ?? []) : [])) ?? [];
  });
  const names = bodies.flatMap((body) => body.items.flatMap((item) => (isProperty(item) ? item.name : [])));
  return names.length === 0 ? USUAL_CLASSES : [...new Set(names.flatMap((name) => [name, ...name.split('+')]))];
}

function modesOf(target: Reference, resolver: Resolver): readonly string[] {
  const node = lastNode(target);
  if (node === undefined || !isComponentName(node)) return [];
  const names: string[] = [];
  for (const [name, each] of resolver.members.of(node, '').entries()) {
    if (isMemberName(each) && isMember(each.$container) && each.$container.kind === 'mode') names.push(name);
  }
  return names;
}

function checkDate(date: string, node: Accept | Measured, property: string, report: Reporter): void {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(date);
  const [, year = '', month = '', day = ''] = match ?? [];
  const time = new Date(Date.UTC(Number(year), Number(month) - 1, Number(day)));
  if (match !== null && time.getUTCMonth() === Number(month) - 1 && time.getUTCDate() === Number(day)) return;
  const message = match === null ? 'A date is written as 2028-01-31.' : `There is no ${date}.`;
  report({ code: 'date-wrong', message, node, property });
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
