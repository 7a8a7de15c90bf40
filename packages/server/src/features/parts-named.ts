/** From what stands under the cursor to the parts of a checked site that it names. */

import type { Component } from '@couplet/engine';
import { isComponentName, isMemberName, isReference, isStep, referenceText } from '@couplet/language';
import type { CstNode } from 'langium';
import type { CheckedSite } from '../sites/seam.ts';

/** The parts of a site that the name under the cursor stands for; none where it is no name of a part. */
export function partsUnder(leaf: CstNode, site: CheckedSite, uri: string): readonly Component[] {
  const member = isMemberName(leaf.astNode) ? leaf : undefined;
  for (const name of namesUnder(leaf)) {
    const parts = partsNamed(name, site, member, uri);
    if (parts.length > 0) return parts;
  }
  return [];
}

/** The name under the cursor with what stands before it, the fullest first; a terminal also stands for its part. */
function namesUnder(leaf: CstNode): string[] {
  const node = leaf.astNode;
  if (isComponentName(node) || isMemberName(node)) return node.name === undefined ? [] : [node.name];
  if (isReference(node)) return node.head === undefined ? [] : [node.head.$refText];
  if (!isStep(node) || !isReference(node.$container)) return [];
  const reference = node.$container;
  const upTo = reference.steps.slice(0, reference.steps.indexOf(node) + 1);
  const full = referenceText({ ...reference, steps: upTo });
  const before = referenceText({ ...reference, steps: upTo.slice(0, -1) });
  return [full, before];
}

/**
 * Parts of a name: exactly that name, else one that a prefix or an assembly puts something before. At the declaration of
 * a member, the parts that were declared there.
 */
export function partsNamed(name: string, site: CheckedSite, member: CstNode | undefined, uri: string): Component[] {
  const { components } = site.design;
  const exact = components.filter((part) => part.name === name);
  if (exact.length > 0 && member === undefined) return exact;
  const below = components.filter((part) => part.name.endsWith(`.${name}`));
  if (member === undefined) return below;
  return below.filter((part) => {
    const place = site.place(part.origin);
    return place?.uri === uri && place.start.line === member.range.start.line;
  });
}
