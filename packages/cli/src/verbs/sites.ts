/** What `check` and `figures` share: the paths of a command line, checked site by site. */
import {
  type CaseFigures,
  checkSites,
  figureTable,
  nameOf,
  type RootFindings,
  type SupplyRow,
  supplyFigures,
} from '@couplet/project';
import { type ThresholdInForce, thresholdsInForce } from '@couplet/rules';
import { diskReader, shownPath } from '../disk.ts';
import { type Invocation, type OptionSpec, optionValue, UsageError } from '../options.ts';
import type { Terminal } from '../terminal.ts';
import { type Inputs, readInputs } from './inputs.ts';

export const PATH_OPTIONS: readonly OptionSpec[] = [
  { name: 'skip', takes: 'PATH', repeats: true, says: 'leave this out where a folder is gone through' },
  {
    name: 'workspace',
    takes: 'FOLDER',
    says: "the folder that 'use' never leaves (unless given: the repository, or the current folder)",
  },
];

export interface SiteOptions {
  readonly today: string;
  readonly strict: boolean;
}

/** A checked site as the reports want it, without what it was computed from. */
export interface SiteOutcome extends RootFindings {
  readonly fragment: boolean;
  readonly heldBack: number;
  readonly figures?: readonly CaseFigures[];
  /** Present where figures are. */
  readonly supplies?: readonly SupplyRow[];
  /** Present where figures are. */
  readonly thresholds?: readonly ThresholdInForce[];
}

/** Codes of asked files that nothing can be said about. */
const NOT_THERE = new Set(['file-missing', 'file-unreadable']);

/** Checks what a command line names. Throws `UsageError` where nothing of it can be read. */
export async function checkPaths(
  invocation: Invocation,
  terminal: Terminal,
  options: SiteOptions,
  figures: boolean,
): Promise<SiteOutcome[]> {
  const inputs = await inputsOf(invocation, terminal);
  const outcomes: SiteOutcome[] = [];
  const progress = new Progress(terminal);
  for (const { around, files, folder } of inputs) {
    for await (const site of checkSites({ reader: diskReader, folder }, files, { ...options, around })) {
      const { analysis, findings, fragment, heldBack, root, title } = site;
      const table = figures
        ? {
            figures: [...figureTable(analysis)],
            supplies: supplyFigures(analysis),
            thresholds: thresholdsInForce(site.design.site),
          }
        : {};
      outcomes.push({ root, title, files: site.files, findings, fragment, heldBack, ...table });
      progress.say(`${outcomes.length} checked, last ${nameOf(root)}`);
    }
  }
  progress.clear();
  const gone = outcomes.flatMap((site) => site.findings.filter((finding) => NOT_THERE.has(finding.code)));
  const lost = new Set(gone.map((finding) => finding.place.uri));
  if (outcomes.every((site) => lost.has(site.root))) {
    const lines = gone.map(({ message, place }) => `${shownPath(place.uri, terminal.folder)}: ${message}`);
    throw new UsageError(lines.join('\n'));
  }
  return outcomes.sort((a, b) => (a.root < b.root ? -1 : 1));
}

/** The files that a command line names. */
export function inputsOf({ options, words }: Invocation, terminal: Terminal): Promise<Inputs[]> {
  return readInputs({
    paths: words.length > 0 ? words : ['.'],
    skip: options.get('skip') ?? [],
    workspace: options.get('workspace')?.[0],
    from: terminal.folder,
  });
}

/** The date of `--today`, or the present day where the command runs. */
export function today(invocation: Invocation): string {
  const given = optionValue(invocation, 'today');
  if (given === undefined) {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()]
      .map((part) => String(part).padStart(2, '0'))
      .join('-');
  }
  const date = new Date(`${given}T00:00:00Z`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(given) || Number.isNaN(date.getTime()) || date.toISOString().slice(0, 10) !== given) {
    throw new UsageError(`'${given}' is no date; write it as 2026-10-02`);
  }
  return given;
}

/** A line on standard error that is written over, for work that somebody watches for a while. */
export class Progress {
  private readonly terminal: Terminal;
  private readonly since = performance.now();
  private shown = false;

  constructor(terminal: Terminal) {
    this.terminal = terminal;
  }

  say(text: string): void {
    if (!this.terminal.watched || performance.now() - this.since < 1000) return;
    this.terminal.err(`\r\u001b[K${text}`);
    this.shown = true;
  }

  clear(): void {
    if (this.shown) this.terminal.err('\r\u001b[K');
  }
}
