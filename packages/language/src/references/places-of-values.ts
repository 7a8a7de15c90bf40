/** What a value stands for: the row of its property, and the unit whose members its words can name. */
import { AstUtils } from 'langium';
import {
  type Component,
  isAssemblyBody,
  isBody,
  isComponent,
  isNamedValue,
  isProgram,
  isProperty,
  isTypeDeclaration,
  isValue,
  type Program,
  type Property,
  type Quantity,
  type Reference,
  type TypeDeclaration,
  type WordTerm,
} from '../generated/ast.ts';
import type { PropertyRow, Subject } from '../properties/row.ts';
import { componentSubject, subjectOfBody } from '../properties/subjects.ts';
import { propertyRow } from '../properties/table.ts';
import { subjectOfReference } from './subjects-of-nodes.ts';

export interface PlaceOfValue {
  readonly row?: PropertyRow;
  readonly subject?: Subject;
  /** The component or type in whose body the value stands. */
  readonly unit?: Component | TypeDeclaration;
  /** The target of a `program` statement, whose members the value's words can name. */
  readonly programmed?: Reference;
  /** It stands where only a quantity can stand: a time, a comparison. */
  readonly quantity: boolean;
}

/** An assembly's given takes whatever it is given. */
const GIVEN_ROW: PropertyRow = {
  name: '*',
  on: ['assembly'],
  forms: [{ sort: 'any' }],
  list: 'many',
  says: 'What the assembly asks for under this name.',
};

/** The property that a term is a value of, at any depth. */
export function placeOfValue(term: WordTerm | Quantity): PlaceOfValue {
  const owner = AstUtils.getContainerOfType(term, isValue)?.$container;
  // `rest for 24 h`: the duration is a quantity whatever the property.
  if (owner?.$type === 'WordTerm') return { quantity: true };
  if (isProperty(owner)) return placeOfProperty(owner);
  if (isComponent(owner)) {
    const subject = componentSubject(owner);
    return { row: subject && propertyRow(subject, '='), subject, unit: owner, quantity: false };
  }
  if (isProgram(owner)) return placeOfProgram(owner);
  return { quantity: owner !== undefined && !isNamedValue(owner) };
}

export function placeOfProperty(property: Property): PlaceOfValue {
  const unit = AstUtils.getContainerOfType(property, (node) => isComponent(node) || isTypeDeclaration(node));
  const subject = subjectOfProperty(property);
  const base = { subject, unit, quantity: false };
  if (subject === undefined) return base;
  if (subject === 'assembly') return { ...base, row: GIVEN_ROW };
  return { ...base, row: propertyRow(subject, property.name) };
}

/** Whose property it is: that of the body's owner, or of the member that its dotted name leads to. */
export function subjectOfProperty(property: Property): Subject | undefined {
  if (property.owner !== undefined) return subjectOfReference(property.owner);
  const body = property.$container;
  return isBody(body) || isAssemblyBody(body) ? subjectOfBody(body) : undefined;
}

function placeOfProgram(program: Program): PlaceOfValue {
  if (program.property === undefined) return { programmed: program.target, quantity: false };
  const subject = subjectOfReference(program.target);
  const row = subject && propertyRow(subject, program.property);
  return { row, subject, programmed: program.target, quantity: false };
}
