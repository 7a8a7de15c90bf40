/** Findings of several sites become one list a file: equal ones once, different ones with the site they stand in. */
import { compareFindings, compareText, type ProjectFinding } from './finding.ts';

/** What one site (or file checked alone) says. */
export interface RootFindings {
  /** URI of the file that the site begins with. */
  readonly root: string;
  /** As a person would name it: the site's title, or the file's name. */
  readonly title: string;
  /** Every file of the site. */
  readonly files: readonly string[];
  readonly findings: readonly ProjectFinding[];
}

/** All findings in their listing order. `site` is set on those that do not stand in every site their file belongs to. */
export function mergeFindings(sites: readonly RootFindings[]): ProjectFinding[] {
  const titles = uniqueTitles(sites);
  const rootsOfFile = new Map<string, Set<string>>();
  /** Few findings look alike; only those that do are compared whole. */
  const alike = new Map<string, Told[]>();
  const all: Told[] = [];
  for (const site of sites) {
    for (const file of site.files) {
      const roots = rootsOfFile.get(file);
      if (roots === undefined) rootsOfFile.set(file, new Set([site.root]));
      else roots.add(site.root);
    }
    for (const finding of site.findings) {
      const look = lookOf(finding);
      const others = alike.get(look);
      const known = others?.find((other) => keyOf(other.finding) === keyOf(finding));
      if (known !== undefined) {
        known.roots.add(site.root);
        continue;
      }
      const told: Told = { finding, roots: new Set([site.root]) };
      all.push(told);
      if (others === undefined) alike.set(look, [told]);
      else others.push(told);
    }
  }
  const merged: ProjectFinding[] = [];
  for (const { finding, roots } of all) {
    const sorted = [...roots].sort(compareText);
    const everywhere = rootsOfFile.get(finding.place.uri)?.size ?? 0;
    const partial = roots.size < everywhere;
    merged.push({
      ...finding,
      roots: sorted,
      site: partial ? sorted.map((root) => titles.get(root) ?? root).join(', ') : undefined,
    });
  }
  return merged.sort(compareFindings);
}

interface Told {
  readonly finding: ProjectFinding;
  readonly roots: Set<string>;
}

/** What most findings differ in. */
function lookOf({ code, message, place }: ProjectFinding): string {
  return `${place.uri} ${place.start.line} ${place.start.character} ${code} ${message}`;
}

/** Two findings are equal when a reader could not tell them apart. */
function keyOf(finding: ProjectFinding): string {
  const { code, severity, message, place, related, caseName, accepted } = finding;
  return JSON.stringify([code, severity, message, place, related, caseName, accepted]);
}

/** Titles by root; one that several sites share is told apart by its file. */
function uniqueTitles(sites: readonly RootFindings[]): Map<string, string> {
  const rootsOf = new Map<string, Set<string>>();
  for (const site of sites) {
    const roots = rootsOf.get(site.title) ?? new Set();
    rootsOf.set(site.title, roots.add(site.root));
  }
  return new Map(
    sites.map((site) => [
      site.root,
      (rootsOf.get(site.title)?.size ?? 0) > 1 ? `${site.title} (${lastTwo(site.root)})` : site.title,
    ]),
  );
}

function lastTwo(uri: string): string {
  return decodeURIComponent(uri.split('/').slice(-2).join('/'));
}
