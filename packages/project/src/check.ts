/** Whole sites from their files to their findings, one after the other. */
import type { Analysis, Design, Origin } from '@couplet/engine';
import type { TextPlace } from '@couplet/language';
import type { Analyses } from './analyses.ts';
import { sitesThatUse } from './context.ts';
import { Front } from './front.ts';
import { type JudgeOptions, judgeSteps } from './judge.ts';
import type { RootFindings } from './merge.ts';
import { type Cancellation, Pace } from './pace.ts';
import { nameOf, type Reader } from './reader.ts';
import { closureOf, findSites } from './sites.ts';
import { Sources } from './sources.ts';

export interface Workspace {
  readonly reader: Reader;
  /** URI of the folder that `use` never leaves. */
  readonly folder: string;
  /** Larger files are not read; two million unless given. */
  readonly mostBytes?: number;
}

export interface CheckOptions extends JudgeOptions {
  /**
   * Where sites are looked for that asked files without `site` are parts of: files and folders that this refuses are
   * left out. Such sites tell only what concerns the asked files. Not looked for where it is absent.
   */
  readonly around?: (uri: string) => boolean;
  readonly cancellation?: Cancellation;
}

/** A site, or a file checked alone. */
export interface CheckedSite extends RootFindings {
  readonly fragment: boolean;
  /** How many findings are held back because they may follow from errors of the language. */
  readonly heldBack: number;
  readonly design: Design;
  readonly analyses: Analyses;
  /** Of the whole site in one piece; computed when it is first asked for. */
  readonly analysis: Analysis;
  /** The place of an origin in a text. */
  place(origin: Origin): TextPlace | undefined;
}

/**
 * Checks the sites that the asked files (URIs) belong to, sorted by root. Each is handed out as soon as it is done, and
 * nothing of it is kept here. Throws `Cancelled` when the work is called off.
 */
export async function* checkSites(
  workspace: Workspace,
  asked: Iterable<string>,
  options: CheckOptions,
): AsyncGenerator<CheckedSite> {
  const pace = new Pace(options.cancellation);
  const front = new Front();
  const sources = new Sources({ ...workspace, head: (uri, text) => front.head(uri, text) });
  const found: string[] = [];
  for (const uri of asked) {
    found.push(await sources.add(uri));
    await pace.giveWay();
  }
  const context =
    options.around === undefined ? new Set<string>() : await contextOf(workspace, sources, found, options.around);
  for (const uri of context) found.push(await sources.add(uri));
  const told = new Set(found.filter((uri) => !context.has(uri)));
  for (const site of findSites(sources, found)) {
    await pace.giveWay();
    const { broken, lowered, lowering, own } = await front.site(site, sources, options.cancellation);
    await pace.giveWay();
    const judged = await pace.drive(judgeSteps(lowered, site.root, options, broken));
    const read = site.files.flatMap((uri) => sources.files.get(uri)?.findings ?? []);
    const findings = [...read, ...own, ...lowering, ...judged.findings];
    yield {
      root: site.root,
      title: lowered.design.site.title || nameOf(site.root),
      files: site.files,
      fragment: site.fragment,
      findings: context.has(site.root) ? findings.filter((each) => told.has(each.place.uri)) : findings,
      heldBack: judged.heldBack,
      design: lowered.design,
      analyses: judged.analyses,
      get analysis() {
        return judged.analyses.whole;
      },
      place: (origin) => lowered.place(origin),
    };
  }
}

/** Sites that the asked files without `site` belong to and that were not asked for. */
async function contextOf(
  workspace: Workspace,
  sources: Sources,
  asked: readonly string[],
  around: (uri: string) => boolean,
): Promise<Set<string>> {
  const covered = new Set(asked.filter((uri) => sources.isSite(uri)).flatMap((uri) => closureOf(sources, uri)));
  const parts = new Set(asked.filter((uri) => !covered.has(uri) && sources.files.get(uri)?.text !== undefined));
  if (parts.size === 0) return new Set();
  return new Set(await sitesThatUse(workspace.reader, workspace.folder, parts, around));
}
