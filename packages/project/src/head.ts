/** What a parsed file says of itself before any site is known. */
import { type CoupletFile, isSiteFile, usesOf } from '@couplet/language';
import { GrammarUtils } from 'langium';
import type { FileHead, UseStatement } from './sources.ts';

export function headOf(uri: string, file: CoupletFile): FileHead {
  const uses = usesOf(file).map((use): UseStatement => {
    const range = GrammarUtils.findNodeForProperty(use.$cstNode, 'path')?.range ?? use.$cstNode?.range;
    const start = range?.start ?? { line: 0, character: 0 };
    return { path: use.path, place: { uri, start, end: range?.end ?? start } };
  });
  return { site: isSiteFile(file), uses };
}
