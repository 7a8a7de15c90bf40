/**
 * The sites of the workspace, checked on the documents that the editor works on. A pass lowers and judges every site
 * that a changed file belongs to or belonged to; the others keep what they had.
 */
import { analyse, type Design } from '@couplet/engine';
import type { CoupletFile } from '@couplet/language';
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
import type { ChangedFiles, CheckedSite, Pause, Sites } from './seam.ts';
import { UsedFiles } from './used-files.ts';

interface Known extends CheckedSite {
  /** What is published beside the documents' own diagnostics. */
  readonly published: RootFindings['findings'];
}

export class CheckedSites implements Sites {
  private readonly services: ServerServices;
  private readonly used: UsedFiles;
  private readonly known = new Map<string, Known>();
  /** By root. */
  private readonly memories = new Map<string, CouplingMemory>();

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

  async check(files: ChangedFiles, pause: Pause): Promise<ReadonlyMap<string, readonly ProjectFinding[]>> {
    const { SiteScopes } = this.services.couplet.references;
    await this.used.look(pause);
    const touched = (uris: readonly string[]) => uris.some((uri) => files.changed.has(uri) || files.deleted.has(uri));
    const current = new Map<string, readonly string[]>();
    for (const root of SiteScopes.roots()) current.set(root, [...SiteScopes.siteOf(root).files.keys()]);

    const affected = new Set<string>();
    const results = new Map<string, Known | undefined>();
    for (const [root, site] of this.known) {
      if (!current.has(root)) results.set(root, undefined);
      if (!current.has(root) || touched(site.files)) for (const uri of site.files) affected.add(uri);
    }
    for (const [root, uris] of current) {
      const before = this.known.get(root);
      const same = before !== undefined && before.files.join() === uris.join() && !touched(uris);
      if (same) continue;
      for (const uri of uris) affected.add(uri);
      await pause();
      results.set(root, await this.checkOne(root, uris, pause));
    }
    await pause();

    // From here on nothing is awaited, so that a pass is taken over whole or not at all.
    for (const [root, site] of results) {
      if (site === undefined) {
        this.known.delete(root);
        this.memories.delete(root);
      } else {
        this.known.set(root, site);
        this.memories.get(root)?.passed();
      }
    }
    return this.findingsOf(affected);
  }

  private async checkOne(root: string, files: readonly string[], pause: Pause): Promise<Known> {
    const { SiteScopes } = this.services.couplet.references;
    const documents = files.flatMap((uri) => this.document(uri) ?? []);
    const read = files.flatMap((uri) => this.used.findingsOf(uri));
    const { broken, lowered, lowering, own } = lowerLinked(documents, root, SiteScopes.parsed, read);
    const today = new Date().toISOString().slice(0, 10);
    const memory = this.memories.get(root) ?? new CouplingMemory();
    this.memories.set(root, memory);
    const steps = judgeSteps(lowered, root, { today, memory }, broken);
    let step = steps.next();
    for (; !step.done; step = steps.next()) await pause();
    const { analyses, findings } = step.value;
    return {
      root,
      title: lowered.design.site.title || nameOf(root),
      files,
      findings: [...read, ...own, ...lowering, ...findings],
      published: [...read, ...lowering, ...findings],
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
