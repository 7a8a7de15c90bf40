/** Whose properties the node has that a reference leads to. */
import {
  isComponent,
  isComponentName,
  isMember,
  isMemberName,
  isPlace,
  isProperty,
  isTypeDeclaration,
  type Named,
  type Reference,
} from '../generated/ast.ts';
import type { Subject } from '../properties/row.ts';
import { componentSubject, memberSubject } from '../properties/subjects.ts';
import { isLibraryNode } from './library.ts';

export function subjectOfReference(reference: Reference | undefined): Subject | undefined {
  if (reference === undefined) return undefined;
  const last = reference.steps.at(-1);
  if (last === undefined) return subjectOfNode(reference.head?.ref);
  return subjectOfNode(last.parts.at(-1)?.ref);
}

/** A terminal of the kind itself is (an end of) a pole. */
export function subjectOfNode(node: Named | undefined): Subject | undefined {
  if (node === undefined) return undefined;
  if (isComponentName(node) && isComponent(node.$container)) return componentSubject(node.$container);
  if (isMemberName(node) && isMember(node.$container)) {
    return isLibraryNode(node) ? 'pole' : memberSubject(node.$container);
  }
  if (isTypeDeclaration(node)) return node.kind as Subject;
  if (isPlace(node)) return 'place';
  return isProperty(node) ? undefined : 'terminal';
}
