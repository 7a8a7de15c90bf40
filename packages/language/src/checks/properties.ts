/** Checks of properties and their values against the property table. */
import type { Dimension } from '@couplet/engine';
import { dimensionsOfThreshold, isRuleName, RULE_NAMES, settableThreshold } from '@couplet/rules';
import {
  type AssemblyBody,
  type Body,
  type Component,
  type Group,
  isAssemblyBody,
  isComponent,
  isMember,
  isProperty,
  isQuantity,
  isTypeDeclaration,
  type Member,
  type Program,
  type Property,
  type Value,
} from '../generated/ast.ts';
import type { PropertyRow, Subject } from '../properties/row.ts';
import { memberSubject } from '../properties/subjects.ts';
import { propertyRow, propertyRows, takesQuantity, wordsOf } from '../properties/table.ts';
import { isLibraryNode } from '../references/library.ts';
import { assemblyOfGiven, givenOf } from '../references/linker.ts';
import { referenceText, topNames } from '../references/names.ts';
import { placeOfProperty } from '../references/places-of-values.ts';
import { subjectOfReference } from '../references/subjects-of-nodes.ts';
import { type Evaluated, evaluate, type ValueError } from '../values/evaluate.ts';
import { dimensionsOf, formIndex, misfit } from '../values/match.ts';
import { either, meant, nearest } from '../values/words.ts';
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
const ALSO_CALLED: Readonly<Record<string, readonly string[]>> = {
  voltage: ['volts', 'works', 'coil'],
  current: ['draws', 'rated', 'limit', 'contact-rating', 'rating'],
  resistance: ['ohms', 'core-ohms'],
  leakage: ['leak'],
  'pick-up': ['operates'],
  pickup: ['operates'],
  'drop-out': ['releases'],
  dropout: ['releases'],
  earth: ['earthed'],
  grounded: ['earthed'],
  temperature: ['ambient'],
  section: ['size'],
  gauge: ['size'],
  gnd: ['return', 'minus'],
  colours: ['cores'],
  colors: ['cores'],
  delay: ['time', 'operate-time', 'responds'],
};

export function checkProperty(property: Property, report: Reporter): void {
  const { row, subject } = placeOfProperty(property);
  if (subject === undefined || property.name === undefined) return;
  if (subject === 'assembly') {
    checkGiven(property, report);
    return;
  }
  if (row === undefined) {
    checkUnknown(property, subject, report);
    return;
  }
  if (subject === 'limits') checkLimit(property, report);
  else checkValues(property.values, row, report);
}

/** A property that its subject does not have: of a member before it whose braces are missing, a group, or just wrong. */
function checkUnknown(property: Property, subject: Subject, report: Reporter): void {
  const member = bareMemberBefore(property);
  if (member !== undefined) {
    const [first] = member.$container?.items.slice(member.$container.items.indexOf(member) + 1) ?? [];
    if (first !== property) return;
    const name = member.names.at(-1)?.name;
    const message = `'{' is missing before '${property.name}': the properties of '${name}' stand in braces.`;
    report({ code: 'property-misplaced', message, node: property, property: 'name' });
    return;
  }
  if (property.name === 'limits' || property.name === 'bands') {
    const message = `'${property.name}' has a body and no colon: ${property.name} { … }`;
    report({ code: 'property-misplaced', message, node: property, property: 'name' });
    return;
  }
  report({ ...unknownProperty(property.name, subject), node: property, property: 'name' });
}

/** The member without a body on the same line, with nothing but its own properties between. */
function bareMemberBefore(property: Property): Member | undefined {
  const body = property.$container;
  const line = property.$cstNode?.range.start.line;
  if (body?.$type !== 'Body') return undefined;
  for (let i = body.items.indexOf(property) - 1; i >= 0; i--) {
    const item = body.items[i];
    if (item === undefined || item.$cstNode?.range.start.line !== line) return undefined;
    if (isMember(item)) {
      const kind = memberSubject(item);
      const fits = item.body === undefined && kind !== undefined && propertyRow(kind, property.name) !== undefined;
      return fits ? item : undefined;
    }
    if (!isProperty(item)) return undefined;
  }
  return undefined;
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
    const again = component.body?.items.find((item) => isProperty(item) && item.name === 'rating' && !item.owner);
    if (again === undefined) return;
    const message = "The rating is given twice here: behind '=' and in the body.";
    report({ code: 'property-repeated', message, node: again, property: 'name' });
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
  if (row.programmable !== true) {
    const settings = propertyRows(subject).flatMap((each) => (each.programmable ? each.name : []));
    const list = settings.length === 0 ? 'it has none' : `its settings are ${settings.join(', ')}`;
    const message = `'${row.name}' is no setting of ${subjectWords(subject)} but what it is built for, and stands in its body; ${list}.`;
    report({ code: 'property-misplaced', message, node: program, property: 'property' });
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
  if (fits) {
    const { role } = group;
    if (role === undefined || role === 'output' || role === 'input') return;
    const suggestion = nearest(role, ['output', 'input']);
    const message = `A port is used as output or as input, not as '${role}'.${meant(suggestion)}`;
    report({ code: 'word-wrong', message, node: group, property: 'role', suggestion });
    return;
  }
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
  const type = assemblyOfGiven(property);
  const body = type?.body;
  if (!isAssemblyBody(body) || givenOf(property) !== undefined) return;
  const names = [...topNames(body).things.entries()].flatMap(([name, nodes]) =>
    nodes[0]?.$type === 'Given' ? [name] : [],
  );
  const suggestion = nearest(property.name, names);
  const list = names.length === 0 ? 'asks for nothing' : `asks for ${names.join(', ')}`;
  const message = `'${type?.name}' ${list}, not for '${property.name}'.${meant(suggestion)}`;
  report({ code: 'property-unknown', message, node: property, property: 'name', suggestion });
}

function checkLimit(property: Property, report: Reporter): void {
  if (isRuleName(property.name)) {
    const threshold = settableThreshold(property.name);
    if (threshold === undefined) {
      const message = `'${property.name}' has no threshold that a site can set.`;
      report({ code: 'property-misplaced', message, node: property, property: 'name' });
      return;
    }
    const forms = [{ sort: 'quantity', dimensions: dimensionsOfThreshold(threshold), spread: 'single' }] as const;
    checkValues(property.values, { name: property.name, on: [], forms, says: '' }, report);
    return;
  }
  const suggestion = nearest(property.name, RULE_NAMES);
  const message = `There is no rule '${property.name}'.${meant(suggestion)}`;
  report({ code: 'rule-unknown', message, node: property, property: 'name', suggestion });
}

function checkValues(values: readonly Value[], row: PropertyRow, report: Reporter): void {
  const taken = new Map<number, Evaluated>();
  for (const [index, value] of values.entries()) {
    const { value: read, errors } = evaluate(value, dimensionsIn(value, row));
    reportAll(
      errors.map((error) => inRow(error, row)),
      report,
    );
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

/** What may stand in a value that has no second part, or in one that has. */
function dimensionsIn(value: Value, row: PropertyRow): readonly Dimension[] {
  if (value.operators.some((operator) => operator !== '..')) return dimensionsOf(row);
  const wanted = row.forms.flatMap((form) =>
    form.sort === 'at' || form.sort === 'via' ? form.value : dimensionsOf({ ...row, forms: [form] }),
  );
  return [...new Set(wanted)];
}

/** An unknown unit may be a word of the property: behind its number, or all of it (`1N4007`). */
function inRow(error: ValueError, row: PropertyRow): ValueError {
  const { node } = error;
  if (error.code !== 'unit-unknown' || !isQuantity(node)) return error;
  const counted = row.forms.some((form) => form.sort === 'word with quantity' && form.words.includes(node.stray ?? ''));
  if (counted) {
    const suggestion = `${node.stray} ${node.number}`;
    return { ...error, code: 'form-wrong', message: `the word comes before its number: ${suggestion}`, suggestion };
  }
  const words = wordsOf(row);
  if (takesQuantity(row) || words.length === 0) return error;
  const message = `'${row.name}' is ${either([...new Set(words)])}; '${node.$cstNode?.text}' is none of them`;
  return { code: 'word-wrong', message, node };
}

function reportAll(errors: readonly ValueError[], report: Reporter): void {
  for (const { message, ...error } of errors) report({ ...error, message: sentence(message) });
}

function unknownProperty(name: string, subject: Subject, programmable = false) {
  const names = propertyRows(subject)
    .filter((row) => row.name !== '=' && row.name !== '*')
    .map((row) => row.name);
  const suggestion = ALSO_CALLED[name]?.find((also) => names.includes(also)) ?? nearest(name, names);
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
