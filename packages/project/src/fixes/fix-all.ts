/** All safe fixes of the sites that some files belong to, one after the other, each proven on what the last one left. */
import { type CheckedSite, type CheckOptions, checkSites, type Workspace } from '../check.ts';
import { compareFindings, type ProjectFinding } from '../finding.ts';
import { mayBeFixed, type ProvenFix, proveFixes, textsOf, withTexts } from './prove.ts';
import { applyEdits } from './texts.ts';

export interface AppliedFix {
  readonly finding: ProjectFinding;
  readonly fix: ProvenFix;
}

export interface FixedFiles {
  /** The texts of the files that were changed. */
  readonly texts: ReadonlyMap<string, string>;
  readonly applied: readonly AppliedFix[];
}

/** Rounds of checking after which nothing further is tried: no fix makes room for more than a few others. */
const MOST_FIXES = 200;

/**
 * Applies safe fixes to texts in memory; nothing is written. `wanted` leaves findings out, such as those of other files.
 * Throws `Cancelled` when the work is called off.
 */
export async function fixAll(
  workspace: Workspace,
  asked: readonly string[],
  options: CheckOptions,
  wanted: (finding: ProjectFinding) => boolean = () => true,
): Promise<FixedFiles> {
  const texts = new Map<string, string>();
  const applied: AppliedFix[] = [];
  /** Findings without a safe fix, told apart by what does not move when texts do. */
  const hopeless = new Set<string>();
  while (applied.length < MOST_FIXES) {
    const present = { ...workspace, reader: withTexts(workspace.reader, new Map(texts)) };
    const sites: CheckedSite[] = [];
    for await (const site of checkSites(present, asked, options)) sites.push(site);
    const next = await firstFix(present, sites, options, hopeless, wanted);
    if (next === undefined) break;
    const before = await textsOf(present.reader, new Set(next.fix.edits.map(({ place }) => place.uri)));
    for (const [uri, text] of before) {
      const changed = applyEdits(
        text,
        next.fix.edits.filter(({ place }) => place.uri === uri),
      );
      if (changed !== undefined) texts.set(uri, changed);
    }
    applied.push(next);
  }
  return { texts, applied };
}

async function firstFix(
  workspace: Workspace,
  sites: readonly CheckedSite[],
  options: CheckOptions,
  hopeless: Set<string>,
  wanted: (finding: ProjectFinding) => boolean,
): Promise<AppliedFix | undefined> {
  const findings = sites.flatMap((site) => site.findings).sort(compareFindings);
  for (const finding of findings) {
    if (!mayBeFixed(finding) || !wanted(finding)) continue;
    const key = [finding.code, finding.place.uri, finding.message].join('\n');
    if (hopeless.has(key)) continue;
    const concerned = sites.filter(({ files }) => files.includes(finding.place.uri));
    const [fix] = await proveFixes(workspace, concerned, finding, { ...options, safeOnly: true });
    if (fix !== undefined) return { finding, fix };
    hopeless.add(key);
  }
  return undefined;
}
