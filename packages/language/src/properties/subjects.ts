/** Whose properties a body holds. */
import {
  type AssemblyBody,
  type Body,
  type Component,
  isAutonomy,
  isComponent,
  isConfirm,
  isGroup,
  isMember,
  isPlace,
  isSite,
  isTypeDeclaration,
  type Member,
} from '../generated/ast.ts';
import type { Subject } from './row.ts';

/** The subject of the properties that stand directly in a body; undefined where the tree is broken. */
export function subjectOfBody(body: Body | AssemblyBody): Subject | undefined {
  const owner = body.$container;
  if (isComponent(owner) || isTypeDeclaration(owner)) return owner.kind as Subject | undefined;
  if (isMember(owner)) return memberSubject(owner);
  if (isGroup(owner)) return groupSubject(owner.name, owner.role);
  if (isSite(owner)) return 'site';
  if (isPlace(owner)) return 'place';
  if (isConfirm(owner)) return 'confirm';
  return isAutonomy(owner) ? 'autonomy' : undefined;
}

/** A unit's `supply` is a pair of terminals, which is another thing than the component of that kind. */
export function memberSubject(member: Member): Subject | undefined {
  return member.kind === 'supply' ? 'feed' : (member.kind as Subject | undefined);
}

export function componentSubject(component: Component): Subject | undefined {
  return component.kind as Subject | undefined;
}

function groupSubject(name: string | undefined, role: string | undefined): Subject | undefined {
  if (name === 'bands') return 'scheme';
  if (name === 'limits') return 'limits';
  return role === 'output' || role === 'input' ? role : undefined;
}
