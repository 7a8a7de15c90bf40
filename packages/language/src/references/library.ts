/** The built-in names as a document, and look-ups in them. Files of types are another matter: see `files/bundled.ts`. */
import { type AstNode, AstUtils, type LangiumDocument, type LangiumSharedCoreServices, URI } from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import {
  type ComponentName,
  type CoupletFile,
  isComponent,
  isTypeDeclaration,
  type Named,
  type TypeDeclaration,
} from '../generated/ast.ts';
import { BUILTIN_LIBRARY } from '../generated/builtin-library.ts';
import { bodyNames, Names, type TopNames, topNames } from './names.ts';

/** In the form that documents' addresses are written in. */
export const LIBRARY_URI = URI.parse('builtin:///library.couplet').toString();

/** Adds the library to the documents of some services, once. It is linked with the first build. */
export function addLibrary(shared: LangiumSharedCoreServices): void {
  const uri = URI.parse(LIBRARY_URI);
  const { LangiumDocuments, LangiumDocumentFactory } = shared.workspace;
  if (!LangiumDocuments.hasDocument(uri)) {
    LangiumDocuments.addDocument(LangiumDocumentFactory.fromString(BUILTIN_LIBRARY, uri));
  }
}

const NOTHING = new Names();

export class Library {
  private readonly shared: LangiumSharedCoreServices;
  private document: LangiumDocument | undefined;

  constructor(shared: LangiumSharedCoreServices) {
    this.shared = shared;
  }

  /** `earth`, `here` and `rest`. */
  get top(): TopNames {
    if (this.document === undefined) {
      addLibrary(this.shared);
      this.document = this.shared.workspace.LangiumDocuments.getDocument(URI.parse(LIBRARY_URI));
    }
    return topNames(this.document?.parseResult.value as CoupletFile);
  }

  /** Earth, the joint that everything may be joined to. */
  get earth(): ComponentName | undefined {
    const node = this.top.things.first('earth');
    return node?.$container !== undefined && isComponent(node.$container) ? (node as ComponentName) : undefined;
  }

  /** The terminals in the type of this name: a kind's own, or those of a form of contact. */
  terminals(typeName: string): Names {
    const type: Named | undefined = this.top.types.first(typeName);
    const body = isTypeDeclaration(type) ? (type as TypeDeclaration).body : undefined;
    return body?.$type === 'Body' ? bodyNames(body) : NOTHING;
  }
}

/** Whether a node is one of the built-in names: `earth`, a kind's own terminal, the terminal of a contact. */
export function isLibraryNode(node: AstNode): boolean {
  return AstUtils.getDocument(node).uri.toString() === LIBRARY_URI;
}

/** Whether a node stands in a text that comes with the language. */
export function isBundledNode(node: AstNode): boolean {
  return isBundledUri(AstUtils.getDocument(node).uri.toString());
}
