/** Why a name stays as it is, in a sentence for the person who wants to change it. */
import type { AstNode } from 'langium';
import { isMember, isMemberName, isProperty, isQuantity, isState } from '../generated/ast.ts';
import { isBundledNode, isLibraryNode } from './library.ts';
import { isRenamable } from './linker.ts';

/** The sentence; undefined where the name may be changed. `written` is the name as it stands at the place asked about. */
export function renameRefusal(node: AstNode, written: string): string | undefined {
  if (isRenamable(node)) return undefined;
  if (isLibraryNode(node))
    return `'${written}' is a name that the kind itself has: it is the same on every part of it.`;
  if (isBundledNode(node)) {
    return `'${written}' comes with the language: to call it otherwise, write a type of your own in your own file.`;
  }
  if (isMemberName(node) && node.last !== undefined) {
    const kind = isMember(node.$container) ? `${node.$container.kind} ` : '';
    return `'${written}' is one of those that '${kind}${node.name} .. ${node.last}' counts: declare it by itself to name it otherwise.`;
  }
  if (isState(node) || isProperty(node) || isQuantity(node)) return `'${written}' is a word or a number, not a name.`;
  return `'${written}' cannot be renamed.`;
}
