/**
 * The sites of the workspace, checked on the documents that the editor works on. A pass lowers and judges every site of
 * which a file is another one than when it was last checked, those of open files first; the others keep what they had.
 */
import { analyse, type Design } from '@couplet/engine';
import { type CoupletFile, LoweringMemory } from '@couplet/language';
import {
  CouplingMemory,
  compareText,
  judgeSteps,
  lowerLinked,
  mergeFindings,
  nameOf,
  type ProjectFinding,
  type RootFindings,
  type Workspace,
} from '@couplet/project';
import { type LangiumDocument, URI } from 'langium';
import type { ServerServices } from '../services.ts';
import type { ChangedFiles, CheckedSite, Early, Findings, Pause, Sites } from './seam.ts';
import { today } from './today.ts';
import { UsedFiles } from './used-files.ts';

interface Known extends CheckedSite {
  /** What is published beside the documents' own diagnostics. */
  readonly published: RootFindings['findings'];
  /** What it was checked on: the trees of its files in their order, and the day. */
  readonly trees: readonly unknown[];
  readonly today: string;
}

export class CheckedSites implements Sites {
  private readonly services: ServerServices;
  private readonly used: UsedFiles;
  private readonly known = new Map<string, Known>();
  /** By root, as long as the root is one. */
  private readonly memories = new Map<
    string,
    { readonly couplings: CouplingMemory; readonly lowering: LoweringMemory }
  >();

  constructor(services: ServerServices) {
    this.services = services;
    this.used = new UsedFiles(services.shared);
  }

  sitesOf(uri: string): readonly CheckedSite[] {
    return [...this.known.values()].filter(({ files }) => files.includes(uri));
  }

  all(): readonly CheckedSite[] {
    return [...this.known.values()].sort((one, other) => compareText(one.root, other.root));
  }

  workspaceOf(uri: string): Workspace {
    return this.used.workspaceOf(uri);
  }

  unloaded(): readonly URI[] {
    return this.used.missing;
  }

  async check(files: ChangedFiles, pause: Pause, early: Early): Promise<Findings> {
    const { SiteScopes } = this.services.couplet.references;
    await this.used.look(pause);
    const touched = (uris: readonly string[]) => uris.some((uri) => files.changed.has(uri) || files.deleted.has(uri));
    const current = new Map(SiteScopes.roots().map((root) => [root, [...SiteScopes.siteOf(root).files.keys()]]));

    const left = new Set<string>();
    for (const [root, site] of this.known) {
      if (current.has(root)) continue;
      for (const uri of site.files) left.add(uri);
      this.known.delete(root);
      this.memories.delete(root);
    }
    if (left.size > 0) early(this.findingsOf(left));

    const waiting = [...current].filter(([root, uris]) => {
      const before = this.known.get(root);
      return before === undefined || before.files.join() !== uris.join() || touched(uris);
    });
    for (const [root, uris] of this.openFirst(waiting)) {
      const before = this.known.get(root);
      if (before !== undefined && this.isCheckedAsIs(before, uris)) continue;
      await pause();
      const site = await this.checkOne(root, uris, pause);
      // Nothing is awaited while a site is taken over, so that it is taken over whole or not at all.
      this.known.set(root, site);
      this.memories.get(root)?.couplings.passed();
      early(this.findingsOf(new Set([...uris, ...(before?.files ?? [])])));
    }
    return new Map();
  }

  isCurrent(uri: string): boolean {
    const { SiteScopes } = this.services.couplet.references;
    const roots = SiteScopes.rootsWith(uri);
    return roots.every((root) => {
      const site = this.known.get(root);
      const uris = [...SiteScopes.siteOf(root).files.keys()];
      return site !== undefined && site.files.join() === uris.join() && this.isOnTrees(site, uris);
    });
  }

  private openFirst(sites: readonly (readonly [root: string, uris: readonly string[]])[]) {
    const { TextDocuments } = this.services.shared.workspace;
    const isOpen = (uri: string) => TextDocuments.get(URI.parse(uri)) !== undefined;
    return [...sites.filter(([, uris]) => uris.some(isOpen)), ...sites.filter(([, uris]) => !uris.some(isOpen))];
  }

  /** Whether a site has been checked on the files as they are, and nothing else is to be said of the files themselves. */
  private isCheckedAsIs(site: Known, uris: readonly string[]): boolean {
    const read = uris.flatMap((uri) => this.used.findingsOf(uri));
    return (
      site.files.join() === uris.join() &&
      site.today === today() &&
      this.isOnTrees(site, uris) &&
      JSON.stringify(site.published.slice(0, read.length)) === JSON.stringify(read)
    );
  }

  private isOnTrees(site: Known, uris: readonly string[]): boolean {
    return uris.every((uri, i) => this.document(uri)?.parseResult.value === site.trees[i]);
  }

  private async checkOne(root: string, files: readonly string[], pause: Pause): Promise<Known> {
    const { SiteScopes } = this.services.couplet.references;
    const documents = files.flatMap((uri) => this.document(uri) ?? []);
    const read = files.flatMap((uri) => this.used.findingsOf(uri));
    const memory = this.memories.get(root) ?? { couplings: new CouplingMemory(), lowering: new LoweringMemory() };
    this.memories.set(root, memory);
    const { broken, lowered, lowering, own } = lowerLinked(documents, root, SiteScopes.parsed, read, memory.lowering);
    const day = today();
    const steps = judgeSteps(lowered, root, { today: day, memory: memory.couplings }, broken);
    let step = steps.next();
    for (; !step.done; step = steps.next()) await pause();
    const { analyses, findings } = step.value;
    return {
      root,
      title: lowered.design.site.title || nameOf(root),
      files,
      findings: [...read, ...own, ...lowering, ...findings],
      published: [...read, ...lowering, ...findings],
      trees: documents.map((document) => document.parseResult.value),
      today: day,
      design: lowered.design,
      analyses,
      place: (origin) => lowered.place(origin),
      analyse: (design: Design) => analyse(design),
    };
  }

  /** Merged findings of some files, an empty list for those that have none any more. */
  private findingsOf(files: ReadonlySet<string>): Map<string, ProjectFinding[]> {
    const concerned = [...this.known.values()].filter((site) => site.files.some((uri) => files.has(uri)));
    const byFile = new Map<string, ProjectFinding[]>([...files].sort(compareText).map((uri) => [uri, []]));
    for (const finding of mergeFindings(concerned.map((site) => ({ ...site, findings: site.published })))) {
      if (files.has(finding.place.uri)) byFile.get(finding.place.uri)?.push(finding);
    }
    return byFile;
  }

  private document(uri: string): LangiumDocument<CoupletFile> | undefined {
    return this.services.shared.workspace.LangiumDocuments.getDocument(URI.parse(uri)) as
      | LangiumDocument<CoupletFile>
      | undefined;
  }
}
