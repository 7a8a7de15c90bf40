/** Colours by meaning: what the grammar of the editor cannot tell from the letters alone. */
import {
  isAccept,
  isCase,
  isComponent,
  isComponentName,
  isConfirm,
  isGiven,
  isMemberName,
  isNamedValue,
  isPlace,
  isProperty,
  isReference,
  isState,
  isStep,
  isTypeDeclaration,
  isWordTerm,
  type Step,
} from '@couplet/language';
import type { AstNode } from 'langium';
import { AbstractSemanticTokenProvider, type SemanticTokenAcceptor } from 'langium/lsp';
import { SemanticTokenModifiers, SemanticTokenTypes } from 'vscode-languageserver';

/** The kind of name that a node declares or that leads to it. */
const NAMED: readonly (readonly [is: (node: AstNode) => boolean, type: SemanticTokenTypes])[] = [
  [isComponentName, SemanticTokenTypes.variable],
  [isMemberName, SemanticTokenTypes.property],
  [isPlace, SemanticTokenTypes.namespace],
  [isTypeDeclaration, SemanticTokenTypes.type],
  [isCase, SemanticTokenTypes.function],
  [isConfirm, SemanticTokenTypes.function],
  [isGiven, SemanticTokenTypes.parameter],
  [isNamedValue, SemanticTokenTypes.variable],
];

function typeOf(node: AstNode | undefined): SemanticTokenTypes | undefined {
  return node && NAMED.find(([is]) => is(node))?.[1];
}

export class Colours extends AbstractSemanticTokenProvider {
  protected override highlightElement(node: AstNode, accept: SemanticTokenAcceptor): void {
    const declared = typeOf(node);
    if (declared !== undefined) {
      accept({ node, property: 'name' as never, type: declared, modifier: SemanticTokenModifiers.declaration });
    }
    if (isComponent(node)) accept({ node, property: 'type', type: SemanticTokenTypes.type });
    else if (isProperty(node)) accept({ node, property: 'name', type: SemanticTokenTypes.property });
    else if (isAccept(node)) accept({ node, property: 'rule', type: SemanticTokenTypes.decorator });
    else if (isState(node)) accept({ node, property: 'word', type: SemanticTokenTypes.enumMember });
    else if (isReference(node)) {
      // A word of a property that leads nowhere is a word that the property knows.
      const word = isWordTerm(node.$container) && node.steps.length === 0;
      const type = typeOf(node.head?.ref) ?? (word ? SemanticTokenTypes.enumMember : undefined);
      if (type !== undefined) accept({ node, property: 'head', type });
    } else if (isStep(node)) this.highlightStep(node, accept);
  }

  private highlightStep(node: Step, accept: SemanticTokenAcceptor): void {
    for (const { $refNode } of [...node.parts, ...node.doubled]) {
      if ($refNode !== undefined) accept({ cst: $refNode, type: SemanticTokenTypes.property });
    }
  }
}
