/** The paths of `use` statements as links to their files. */
import { isCoupletFile, usedUri, usesOf } from '@couplet/language';
import { GrammarUtils, type LangiumDocument } from 'langium';
import type { DocumentLinkProvider } from 'langium/lsp';
import type { DocumentLink } from 'vscode-languageserver';

export class UseLinks implements DocumentLinkProvider {
  getDocumentLinks(document: LangiumDocument): DocumentLink[] {
    const file = document.parseResult.value;
    if (!isCoupletFile(file)) return [];
    return usesOf(file).flatMap((use) => {
      const path = GrammarUtils.findNodeForProperty(use.$cstNode, 'path');
      const target = usedUri(document.uri.toString(), use.path);
      if (path === undefined || target === undefined) return [];
      const { start, end } = path.range;
      const inside = {
        start: { ...start, character: start.character + 1 },
        end: { ...end, character: end.character - 1 },
      };
      return [{ range: inside, target, tooltip: 'Open the file' }];
    });
  }
}
