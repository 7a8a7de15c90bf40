/** The examples of the pages, checked as sites by all rules. */
import {
  type CheckedSite,
  type Content,
  checkSites,
  mergeFindings,
  type ProjectFinding,
  type Reader,
} from '@couplet/project';
import type { RuleName } from '@couplet/rules';

const FOLDER = 'file:///rules';

/** The date that acceptances in examples are judged by. */
export const TODAY = '2026-11-01';

export interface Outcome {
  readonly name: string;
  readonly kind: 'failing' | 'passing';
  readonly findings: readonly ProjectFinding[];
}

export interface Example {
  readonly name: string;
  readonly kind: 'failing' | 'passing';
  readonly text: string;
}

/** Checks every example as a site of its own. */
export async function checkExamples(examples: readonly Example[]): Promise<readonly Outcome[]> {
  const byUri = new Map(examples.map((example) => [`${FOLDER}/${example.name}.${example.kind}.couplet`, example]));
  const outcomes: Outcome[] = [];
  const workspace = { reader: readerOf(byUri), folder: FOLDER };
  for await (const site of checkSites(workspace, byUri.keys(), { today: TODAY })) {
    const example = byUri.get(site.root);
    if (example === undefined) throw new Error(`${site.root} is no example.`);
    outcomes.push({ name: example.name, kind: example.kind, findings: findingsOf(site) });
  }
  return outcomes;
}

function findingsOf(site: CheckedSite): readonly ProjectFinding[] {
  if (site.heldBack > 0) throw new Error(`${site.root}: ${site.heldBack} findings are held back.`);
  return mergeFindings([site]);
}

function readerOf(files: ReadonlyMap<string, Example>): Reader {
  return {
    async read(uri): Promise<Content> {
      const example = files.get(uri);
      return example === undefined ? { sort: 'missing' } : { sort: 'text', text: example.text };
    },
    list: async () => [...files.keys()].map((uri) => ({ uri, folder: false })),
    realPath: async (uri) => uri,
  };
}

/** Findings that say what a short example leaves out and nobody would miss; a page about one of them looks at it. */
const ASIDE: ReadonlySet<string> = new Set<RuleName>([
  'not-computed-yet',
  'terminal-unused',
  'core-unused',
  'pole-unused',
]);

/** Codes of which only what they merely inform of is beside the point. */
const INFORMS_ASIDE: ReadonlySet<string> = new Set<RuleName>(['silent-fault']);

/** What an example says, but for what is beside the point of a page, or accepted. */
export function toThePoint(name: string, findings: readonly ProjectFinding[]): readonly ProjectFinding[] {
  const isTold = ({ code, severity, accepted }: ProjectFinding) =>
    accepted === undefined && !(severity === 'information' && INFORMS_ASIDE.has(code));
  return findings.filter((finding) => isTold(finding) && (finding.code === name || !ASIDE.has(finding.code)));
}
