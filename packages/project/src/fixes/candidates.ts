/** What may cure a finding: the cures of its rule, or what the language takes to be meant. */
import type { Candidate, ProjectFinding } from '../finding.ts';

/** Codes whose nearest word is written as it stands: nothing but the spelling of a unit or a path is changed. */
const SPELLING: ReadonlySet<string> = new Set(['unit-unknown', 'use-path-wrong']);

export function candidatesFor(finding: ProjectFinding, written: string | undefined): readonly Candidate[] {
  const { candidates = [], code, likely, place } = finding;
  if (likely === undefined) return candidates;
  const safe = SPELLING.has(code) || isSameWord(likely, written);
  return [
    { title: `Write ${likely.startsWith('"') ? likely : `'${likely}'`}`, safe, edits: [{ place, text: likely }] },
    ...candidates,
  ];
}

/** Apart from capitals: what is meant is beyond doubt. */
function isSameWord(one: string, other: string | undefined): boolean {
  return other !== undefined && one.toLowerCase() === other.toLowerCase();
}
