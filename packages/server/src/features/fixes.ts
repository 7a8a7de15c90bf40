/** Quick fixes: only what was proven by solving the changed site again; safe ones are preferred and part of 'fix all'. */
import {
  applyEdits,
  Cancelled,
  fixAll,
  mayBeFixed,
  type ProjectFinding,
  type ProvenFix,
  proveFixes,
  type TextEdit,
  textsOf,
} from '@couplet/project';
import {
  type CancellationToken,
  type CodeAction,
  CodeActionKind,
  type CodeActionParams,
  CodeActionTriggerKind,
  type Diagnostic,
  type Range,
  type WorkspaceEdit,
} from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import type { CheckedSite, Sites } from '../sites/seam.ts';
import { today } from '../sites/today.ts';

export const FIX_ALL = `${CodeActionKind.SourceFixAll}.couplet`;

export const FIX_KINDS: readonly string[] = [CodeActionKind.QuickFix, FIX_ALL];

/** Parts of sites whose fixes are proven without a person asking: some tenths of a second for each. */
const MOST_PARTS_UNASKED = 1000;

export class FixActions {
  private readonly sites: () => Sites | undefined;
  /** Proofs, as long as the pass that they were made on is the last one. */
  private readonly proofs = new WeakMap<CheckedSite, Map<string, Promise<readonly ProvenFix[]>>>();

  constructor(sites: () => Sites | undefined) {
    this.sites = sites;
  }

  /** To be asked when a complete pass has seen the file as it is. Throws `Cancelled`. */
  async actions(params: CodeActionParams, token: CancellationToken): Promise<CodeAction[]> {
    const { only } = params.context;
    const wants = (kind: string) => only?.some((each) => kind === each || kind.startsWith(`${each}.`));
    const quick = (wants(CodeActionKind.QuickFix) ?? true) ? await this.quickFixes(params, token) : [];
    const all = wants(FIX_ALL) ? await this.all(params.textDocument.uri, token) : [];
    return [...quick, ...all];
  }

  private async quickFixes({ context, range, textDocument }: CodeActionParams, token: CancellationToken) {
    const actions: CodeAction[] = [];
    const automatic = context.triggerKind === CodeActionTriggerKind.Automatic;
    if (automatic && this.isLarge(textDocument.uri)) return actions;
    for (const finding of this.fixable(textDocument.uri, range)) {
      const diagnostics = context.diagnostics.filter((each) => isOf(each, finding));
      for (const fix of await this.proven(textDocument.uri, finding, token)) {
        actions.push({
          title: fix.title,
          kind: CodeActionKind.QuickFix,
          isPreferred: fix.safe,
          diagnostics,
          edit: workspaceEdit(fix.edits),
        });
      }
    }
    return actions;
  }

  /** Whether the sites of a file are too large to be checked again at every move of the cursor. */
  private isLarge(uri: string): boolean {
    const sites = this.sites()?.sitesOf(uri) ?? [];
    return sites.reduce((sum, { design }) => sum + design.components.length, 0) > MOST_PARTS_UNASKED;
  }

  /** Findings of a file in a range that something may cure, equal ones of several sites once. */
  private fixable(uri: string, range: Range): ProjectFinding[] {
    const found = new Map<string, ProjectFinding>();
    for (const { findings } of this.sites()?.sitesOf(uri) ?? []) {
      for (const finding of findings) {
        const { place } = finding;
        if (place.uri !== uri || !mayBeFixed(finding) || !touch(place, range)) continue;
        found.set(keyOf(finding), finding);
      }
    }
    return [...found.values()];
  }

  private async proven(uri: string, finding: ProjectFinding, token: CancellationToken): Promise<readonly ProvenFix[]> {
    const sites = this.sites();
    const concerned = sites?.sitesOf(uri) ?? [];
    const [first] = concerned;
    if (sites === undefined || first === undefined) return [];
    const known = this.proofs.get(first) ?? new Map<string, Promise<readonly ProvenFix[]>>();
    this.proofs.set(first, known);
    const key = keyOf(finding);
    const before = known.get(key);
    if (before !== undefined) return before;
    const proof = proveFixes(sites.workspaceOf(uri), concerned, finding, { today: today(), cancellation: token });
    known.set(key, proof);
    try {
      return await proof;
    } catch (error) {
      known.delete(key);
      throw error;
    }
  }

  /** Every safe fix of the file in one edit. */
  private async all(uri: string, token: CancellationToken): Promise<CodeAction[]> {
    const sites = this.sites();
    const roots = (sites?.sitesOf(uri) ?? []).map(({ root }) => root);
    if (sites === undefined || roots.length === 0) return [];
    const workspace = sites.workspaceOf(uri);
    const options = { today: today(), cancellation: token };
    const { applied, texts } = await fixAll(workspace, roots, options, ({ place }) => place.uri === uri);
    if (applied.length === 0) return [];
    const before = await textsOf(workspace.reader, texts.keys());
    const edits = [...texts].flatMap(([file, text]) => difference(file, before.get(file) ?? '', text));
    const title = applied.length === 1 ? (applied[0]?.fix.title ?? '') : `Apply ${applied.length} safe fixes`;
    return [{ title, kind: FIX_ALL, edit: workspaceEdit(edits) }];
  }
}

/** Whether an error says that the work was called off. */
export function isCalledOff(error: unknown): boolean {
  return error instanceof Cancelled;
}

function keyOf({ code, message, place }: ProjectFinding): string {
  return JSON.stringify([code, message, place]);
}

function isOf({ code, range }: Diagnostic, finding: ProjectFinding): boolean {
  const { place } = finding;
  return (
    code === finding.code && range.start.line === place.start.line && range.start.character === place.start.character
  );
}

function touch(place: ProjectFinding['place'], range: Range): boolean {
  return !isBefore(place.end, range.start) && !isBefore(range.end, place.start);
}

function isBefore(one: Range['start'], other: Range['start']): boolean {
  return one.line < other.line || (one.line === other.line && one.character < other.character);
}

function workspaceEdit(edits: readonly TextEdit[]): WorkspaceEdit {
  const changes: Record<string, { range: Range; newText: string }[]> = {};
  for (const { place, text } of edits) {
    changes[place.uri] ??= [];
    changes[place.uri]?.push({ range: { start: place.start, end: place.end }, newText: text });
  }
  return { changes };
}

/** One edit for all that lies between what two texts begin and end with alike. */
function difference(uri: string, before: string, after: string): TextEdit[] {
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && before[head] === after[head]) head += 1;
  let tail = 0;
  while (tail < shorter - head && before.at(-1 - tail) === after.at(-1 - tail)) tail += 1;
  const document = TextDocument.create(uri, 'couplet', 0, before);
  const place = { uri, start: document.positionAt(head), end: document.positionAt(before.length - tail) };
  const edit = { place, text: after.slice(head, after.length - tail) };
  return applyEdits(before, [edit]) === after && before !== after ? [edit] : [];
}
