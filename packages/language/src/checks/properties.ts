/** Checks of properties and their values against the property table. */
import type { Dimension } from '@couplet/engine';
import { isRuleName, RULE_NAMES } from '@couplet/rules';
import {
  type AssemblyBody,
  type Body,
  type Component,
  type Group,
  isAssemblyBody,
  isComponent,
  isMember,
  isProperty,
  isTypeDeclaration,
  type Member,
  type Program,
  type Property,
  type Value,
} from '../generated/ast.ts';
import type { PropertyRow, Subject } from '../properties/row.ts';
import { propertyRow, propertyRows } from '../properties/table.ts';
import { isLibraryNode } from '../references/library.ts';
import { givenOf } from '../references/linker.ts';
import { referenceText, topNames } from '../references/names.ts';
import { placeOfProperty } from '../references/places-of-values.ts';
import { subjectOfReference } from '../references/subjects-of-nodes.ts';
import { type Evaluated, evaluate, type ValueError } from '../values/evaluate.ts';
import { dimensionsOf, formIndex, misfit } from '../values/match.ts';
import { meant, nearest } from '../values/words.ts';
import type { Reporter } from './report.ts';

/** Properties are named for the subject they stand on, with its article. */
const SUBJECT_WORDS: Partial<Record<Subject, string>> = {
  unit: 'a unit',
  assembly: 'an assembly',
  output: 'an output',
  input: 'an input',
  arrester: 'an arrester',
  autonomy: 'autonomy',
  feed: 'a supply of a unit',
  limits: 'limits',
  scheme: 'a scheme',
};

export function subjectWords(subject: Subject): string {
  return SUBJECT_WORDS[subject] ?? `a ${subject}`;
}

/** Words for a property's name that the rows do not use. */
const ALSO_CALLED: Readonly<Record<string, string>> = {
  voltage: 'volts',
  current: 'draws',
  resistance: 'ohms',
  leakage: 'leak',
  'pick-up': 'operates',
  pickup: 'operates',
  'drop-out': 'releases',
  dropout: 'releases',
  earth: 'earthed',
  grounded: 'earthed',
  temperature: 'ambient',
  section: 'size',
  gauge: 'size',
};

export function checkProperty(property: Property, report: Reporter): void {
  const { row, subject } = placeOfProperty(property);
  if (subject === undefined || property.name === undefined) return;
  if (subject === 'assembly') {
    checkGiven(property, report);
    return;
  }
  if (row === undefined) {
    report({ ...unknownProperty(property.name, subject), node: property, property: 'name' });
    return;
  }
  if (subject === 'limits') checkRuleName(property, report);
  checkValues(property.values, row, report);
}

/** A body says each of its properties once; classes of bands may not be repeated either. */
export function checkRepeated(body: Body | AssemblyBody, report: Reporter): void {
  const seen = new Map<string, Property>();
  for (const item of body.items) {
    if (!isProperty(item) || item.name === undefined) continue;
    const name = `${referenceText(item.owner)}.${item.name}`;
    const first = seen.get(name);
    if (first === undefined) {
      seen.set(name, item);
      continue;
    }
    report({
      code: 'property-repeated',
      message: `'${item.name}' is given twice here; several values are parted by commas.`,
      node: item,
      property: 'name',
      related: [{ node: first, message: 'It is given here first.' }],
    });
  }
}

/** The rating behind `=`. */
export function checkRating(component: Component, report: Reporter): void {
  if (component.rating.length === 0 || component.kind === undefined) return;
  const row = propertyRow(component.kind as Subject, '=');
  if (row !== undefined) {
    checkValues(component.rating, row, report);
    return;
  }
  report({
    code: 'property-misplaced',
    message: `${capital(subjectWords(component.kind as Subject))} has no rating behind '='; what it can do stands in its properties.`,
    node: component,
    property: 'rating',
    index: 0,
  });
}

/** `program TARGET PROPERTY = …`: a property that its target has and that is a setting. */
export function checkProgram(program: Program, report: Reporter): void {
  if (program.property === undefined) {
    for (const value of program.values) reportAll(evaluate(value).errors, report);
    return;
  }
  const subject = subjectOfReference(program.target);
  if (subject === undefined) return;
  const row = propertyRow(subject, program.property);
  if (row === undefined || row.name === '=') {
    report({ ...unknownProperty(program.property, subject, true), node: program, property: 'property' });
    return;
  }
  checkValues(program.values, row, report);
}

/** A value where only a quantity of these dimensions can stand. */
export function checkQuantity(
  value: Value | undefined,
  name: string,
  dimensions: readonly Dimension[],
  report: Reporter,
): void {
  if (value === undefined) return;
  checkValues([value], { name, on: [], forms: [{ sort: 'quantity', dimensions }], says: '' }, report);
}

export function checkMember(member: Member, report: Reporter): void {
  if (isLibraryNode(member)) return;
  const owner = member.$container?.$container;
  const misplaced = (message: string) => report({ code: 'member-misplaced', message, node: member, property: 'kind' });
  if (!isComponent(owner) && !isTypeDeclaration(owner)) {
    misplaced(`'${member.kind}' is a member of a unit and does not stand inside another one.`);
  } else if (owner.kind !== 'unit' && !(owner.kind === 'load' && member.kind === 'mode')) {
    misplaced(`'${member.kind}' is a member of a unit; ${subjectWords(owner.kind as Subject)} has properties only.`);
  }
}

export function checkGroup(group: Group, report: Reporter): void {
  const owner = group.$container?.$container;
  const fits =
    group.name === 'limits'
      ? owner?.$type === 'Site'
      : group.name === 'bands'
        ? isMember(owner) && owner.kind === 'zone'
        : isMember(owner) && owner.kind === 'port';
  if (fits) return;
  const home = group.name === 'limits' ? "'site'" : group.name === 'bands' ? 'a zone' : 'a port';
  const message = `'${group.name}${group.role === undefined ? '' : ` ${group.role}`}' stands in the body of ${home}.`;
  report({ code: 'property-misplaced', message, node: group, property: 'name' });
}

function checkGiven(property: Property, report: Reporter): void {
  const use = property.$container?.$container;
  for (const value of property.values) reportAll(evaluate(value).errors, report);
  if (!isComponent(use)) {
    const message = 'An assembly has no properties of its own; what it is given stands after `given`.';
    report({ code: 'property-misplaced', message, node: property, property: 'name' });
    return;
  }
  const body = use.type?.ref?.body;
  if (!isAssemblyBody(body) || givenOf(property) !== undefined) return;
  const names = [...topNames(body).things.entries()].flatMap(([name, nodes]) =>
    nodes[0]?.$type === 'Given' ? [name] : [],
  );
  const suggestion = nearest(property.name, names);
  const list = names.length === 0 ? 'asks for nothing' : `asks for ${names.join(', ')}`;
  const message = `'${use.type?.$refText}' ${list}, not for '${property.name}'.${meant(suggestion)}`;
  report({ code: 'property-unknown', message, node: property, property: 'name', suggestion });
}

function checkRuleName(property: Property, report: Reporter): void {
  if (isRuleName(property.name)) return;
  const suggestion = nearest(property.name, RULE_NAMES);
  const message = `There is no rule '${property.name}'.${meant(suggestion)}`;
  report({ code: 'rule-unknown', message, node: property, property: 'name', suggestion });
}

function checkValues(values: readonly Value[], row: PropertyRow, report: Reporter): void {
  const taken = new Map<number, Evaluated>();
  for (const [index, value] of values.entries()) {
    const { value: read, errors } = evaluate(value, dimensionsOf(row));
    reportAll(errors, report);
    if (index > 0 && row.list === undefined) {
      const message = `'${row.name}' takes one value.`;
      report({ code: 'too-many-values', message, node: value });
      return;
    }
    // A name that leads nowhere is told as such.
    if (read === undefined || errors.length > 0 || (read.sort === 'word' && read.target === undefined)) continue;
    const error = misfit(read, row);
    if (error !== undefined) {
      reportAll([error], report);
      continue;
    }
    const form = formIndex(read, row);
    if (row.list === 'each once' && taken.has(form)) {
      report({ code: 'too-many-values', message: `'${row.name}' has two values of the same sort.`, node: value });
    }
    taken.set(form, read);
  }
}

function reportAll(errors: readonly ValueError[], report: Reporter): void {
  for (const { message, ...error } of errors) report({ ...error, message: sentence(message) });
}

function unknownProperty(name: string, subject: Subject, programmable = false) {
  const names = propertyRows(subject)
    .filter((row) => row.name !== '=' && row.name !== '*')
    .map((row) => row.name);
  const also = ALSO_CALLED[name];
  const suggestion = also !== undefined && names.includes(also) ? also : nearest(name, names);
  const what = programmable ? 'setting' : 'property';
  const message = `${capital(subjectWords(subject))} has no ${what} '${name}'.${meant(suggestion)}`;
  return { code: 'property-unknown', message, suggestion } as const;
}

export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** Clauses of the value reader as sentences. */
export function sentence(text: string): string {
  const full = /[.?!]$/.test(text) ? text : `${text}.`;
  return /^[a-z]/.test(full) ? capital(full) : full;
}

/** A named value is a quantity that can be read; what it is good for, its uses say. */
export function checkNamed(value: Value | undefined, report: Reporter): void {
  if (value === undefined) return;
  const { value: read, errors } = evaluate(value);
  reportAll(errors, report);
  if (read?.sort !== 'word') return;
  report({ code: 'form-wrong', message: 'A named value is a quantity, such as 10.5 V.', node: value });
}
