/** Renaming: only what somebody declared, only into a name that can be written there and that nothing else has. */
import {
  type CoupletFile,
  type CoupletServices,
  isKind,
  isRenamable,
  isStep,
  nameAsWritten,
  renameRefusal,
} from '@couplet/language';
import {
  type AstNode,
  AstUtils,
  type CstNode,
  CstUtils,
  type LangiumDocument,
  type ReferenceDescription,
  URI,
} from 'langium';
import { DefaultRenameProvider, type LangiumServices } from 'langium/lsp';
import {
  LSPErrorCodes,
  type Position,
  type Range,
  type RenameParams,
  ResponseError,
  TextEdit,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { NamesAt } from '../completion/names.ts';
import { STATEMENT_SAYS } from '../completion/words.ts';

/** Kinds of nodes whose names stand after a dot and at their declaration only, where they may be quoted. */
const BELOW_A_DOT: ReadonlySet<string> = new Set(['MemberName', 'WordTerm', 'Quantity', 'Property', 'Program']);

export class CoupletRename extends DefaultRenameProvider {
  private readonly services: LangiumServices & CoupletServices;
  private readonly names: NamesAt;

  constructor(services: LangiumServices & CoupletServices) {
    super(services);
    this.services = services;
    this.names = new NamesAt(services);
  }

  override async rename(document: LangiumDocument, params: RenameParams): Promise<WorkspaceEdit | undefined> {
    const target = this.targetAt(document, params.position);
    if (target === undefined) return undefined;
    const newName = params.newName.trim().replace(/^"(.*)"$/, '$1');
    this.refuse(target, newName);
    const changes: Record<string, TextEdit[]> = {};
    for (const reference of this.references.findReferences(target, { includeDeclaration: true })) {
      const uri = reference.sourceUri.toString();
      changes[uri] ??= [];
      changes[uri].push(TextEdit.replace(reference.segment.range, this.written(newName, target, reference)));
    }
    return { changes };
  }

  protected override renameNodeRange(document: LangiumDocument, position: Position): Range | undefined {
    const found = this.declarationAt(document, position);
    const refusal = found && renameRefusal(found.target, found.leaf.text);
    if (refusal !== undefined) throw new ResponseError(LSPErrorCodes.RequestFailed, refusal);
    return found === undefined ? undefined : super.renameNodeRange(document, position);
  }

  private targetAt(document: LangiumDocument, position: Position): AstNode | undefined {
    const target = this.declarationAt(document, position)?.target;
    return target !== undefined && isRenamable(target) ? target : undefined;
  }

  private declarationAt(
    document: LangiumDocument,
    position: Position,
  ): { readonly leaf: CstNode; readonly target: AstNode } | undefined {
    const root = document.parseResult.value.$cstNode;
    if (root === undefined) return undefined;
    const offset = document.textDocument.offsetAt(position);
    const leaf = CstUtils.findDeclarationNodeAtOffset(root, offset, this.grammarConfig.nameRegexp);
    const target = leaf && this.references.findDeclarations(leaf)[0];
    return leaf === undefined || target === undefined ? undefined : { leaf, target };
  }

  /** Throws what the editor shows instead of renaming. */
  private refuse(target: AstNode, newName: string): void {
    const plain = nameAsWritten(newName, false) === newName;
    if (newName === '' || newName.includes('"') || newName.includes('\n')) throw refusal('That is no name.');
    if (BELOW_A_DOT.has(target.$type)) return;
    if (!plain) throw refusal('A name begins with a letter and holds letters, digits, _ and inner hyphens.');
    if (isKind(newName) || newName in STATEMENT_SAYS) throw refusal(`'${newName}' is a word of the language.`);
    const document = AstUtils.getDocument(target);
    const taken = this.names.things(document.uri.toString(), document.parseResult.value as CoupletFile).get(newName);
    if (taken !== undefined && taken !== target) throw refusal(`'${newName}' is taken already.`);
  }

  private written(newName: string, target: AstNode, { sourceUri, segment }: ReferenceDescription): string {
    if (!BELOW_A_DOT.has(target.$type)) return newName;
    const document = this.services.shared.workspace.LangiumDocuments.getDocument(URI.parse(sourceUri.toString()));
    const root = document?.parseResult.value.$cstNode;
    const leaf = root && CstUtils.findLeafNodeAtOffset(root, segment.offset);
    return nameAsWritten(newName, leaf !== undefined && isStep(leaf.astNode));
  }
}

function refusal(message: string): ResponseError<void> {
  return new ResponseError(LSPErrorCodes.RequestFailed, message);
}
