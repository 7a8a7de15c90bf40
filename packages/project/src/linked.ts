/** A site whose documents are linked and checked: lowered, and what the language says of it told apart. */
import { type CoupletFile, type Lowered, type LoweringMemory, lower, type ParsedFiles } from '@couplet/language';
import type { LangiumDocument } from 'langium';
import { type Broken, brokenParts, withoutConsequences } from './broken.ts';
import { findingsOf } from './diagnostics.ts';
import type { ProjectFinding } from './finding.ts';
import { fromLanguage } from './judge.ts';

export interface LoweredSite {
  readonly lowered: Lowered;
  /** What lexer, parser, linker and checks say of the documents, without what follows from something else. */
  readonly own: readonly ProjectFinding[];
  /** What lowering says, without what follows from something else. */
  readonly lowering: readonly ProjectFinding[];
  /** What all these leave half said. */
  readonly broken: Broken;
}

/**
 * `read` is what was found of the files themselves and of their `use` statements; `parsed` knows links on the disk;
 * `memory` is what the same site lowered to before, where it is lowered again and again.
 */
export function lowerLinked(
  documents: readonly LangiumDocument<CoupletFile>[],
  root: string,
  parsed: ParsedFiles,
  read: readonly ProjectFinding[],
  memory?: LoweringMemory,
): LoweredSite {
  const follow: ParsedFiles['follow'] = (from, path) => parsed.follow?.(from, path);
  const lowered = lower(documents, root, { follow, memory });
  const own = documents.flatMap(findingsOf);
  const lowering = lowered.findings.map(fromLanguage);
  return {
    lowered,
    ...withoutConsequences(documents, { read, own, lowering }),
    broken: brokenParts(documents, [...read, ...own, ...lowering]),
  };
}
