/**
 * The cases of the sites as tests: requests of this server beside the protocol's own, for the testing view of an editor.
 *   couplet/cases     → CaseTest[]      every case that somebody wrote
 *   couplet/runCases  → CaseOutcome[]   how the cases with these ids (all without) come out
 */
import type { Case, Verdict } from '@couplet/engine';
import { expectationWords, foundWords } from '@couplet/rules';
import type { Position, Range } from 'vscode-languageserver';
import type { CheckedSite, Sites } from '../sites/seam.ts';

export interface CaseTest {
  /** Stays the same while site and case keep their names. */
  readonly id: string;
  readonly name: string;
  readonly description?: string;
  /** The site: URI of the file that it begins with, and its title. */
  readonly root: string;
  readonly site: string;
  readonly uri: string;
  readonly range: Range;
}

export interface CaseFailure {
  readonly message: string;
  readonly expected: string;
  readonly actual: string;
  readonly uri: string;
  readonly range: Range;
}

export interface CaseOutcome {
  readonly id: string;
  /** 'skipped' where nothing failed and something could not be judged; `failures` then says what it needs. */
  readonly outcome: 'passed' | 'failed' | 'skipped';
  readonly failures: readonly CaseFailure[];
}

export interface RunCasesParams {
  readonly ids?: readonly string[];
}

export function caseTests(sites: Sites | undefined): CaseTest[] {
  return written(sites).map(({ id, one, place, site }) => ({
    id,
    name: one.name,
    description: one.description,
    root: site.root,
    site: site.title,
    uri: place.uri,
    range: rangeOf(place),
  }));
}

export function caseOutcomes(sites: Sites | undefined, { ids }: RunCasesParams): CaseOutcome[] {
  const wanted = ids === undefined ? undefined : new Set(ids);
  return written(sites)
    .filter(({ id }) => wanted?.has(id) ?? true)
    .map(({ id, index, one, place, site }): CaseOutcome => {
      // What was computed of an earlier text, or without a file that is still to come, says nothing of the case.
      if (sites?.isCurrent(site.root) !== true) {
        const message = `The site ${site.title} is still being computed: run ${one.name} again.`;
        return {
          id,
          outcome: 'skipped',
          failures: [{ message, expected: '', actual: '', uri: place.uri, range: rangeOf(place) }],
        };
      }
      const verdicts = site.analyses.verdictsOf(index);
      const failed = failures(verdicts, site, false);
      if (failed.length > 0) return { id, outcome: 'failed', failures: failed };
      const open = failures(verdicts, site, 'not-evaluated');
      return { id, outcome: open.length > 0 ? 'skipped' : 'passed', failures: open };
    });
}

interface Written {
  readonly id: string;
  readonly one: Case;
  readonly index: number;
  readonly site: CheckedSite;
  readonly place: { readonly uri: string; readonly start: Position; readonly end: Position };
}

/** Cases that stand in a text, in the order of their sites; those that the engine adds of itself are left out. */
function written(sites: Sites | undefined): Written[] {
  return (sites?.all() ?? []).flatMap((site) =>
    site.design.cases.flatMap((one, index) => {
      const place = site.place(one.origin);
      return place === undefined ? [] : [{ id: `${site.root}#${one.name}`, one, index, site, place }];
    }),
  );
}

function failures(
  verdicts: readonly Verdict[],
  { design, place, root }: CheckedSite,
  holds: false | 'not-evaluated',
): CaseFailure[] {
  return verdicts.flatMap((verdict) => {
    if (verdict.holds !== holds) return [];
    const at = place(verdict.expect.origin);
    const expected = expectationWords(design, verdict.expect);
    const needs = verdict.needs.map((need) => `${need.property} of ${design.components[need.component]?.name}`);
    const actual =
      holds === false
        ? foundWords(verdict)
        : `not evaluated${needs.length > 0 ? `: needs ${[...new Set(needs)].join(', ')}` : ''}`;
    const message = `${expected} is expected; computed: ${actual}`;
    const start = { line: 0, character: 0 };
    return [{ message, expected, actual, uri: at?.uri ?? root, range: at ? rangeOf(at) : { start, end: start } }];
  });
}

function rangeOf({ start, end }: { readonly start: Position; readonly end: Position }): Range {
  return { start, end };
}
