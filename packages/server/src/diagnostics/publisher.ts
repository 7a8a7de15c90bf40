/**
 * The one place from which diagnostics leave. What a document says of itself (syntax, names, values) and what the sites
 * it belongs to say of it are published together. The latter come from the last complete pass over the sites and move
 * with the text until the next pass is done.
 */
import { isBundledUri } from '@couplet/language';
import type { ProjectFinding } from '@couplet/project';
import { DocumentState, interruptAndCheck, isOperationCancelled, type LangiumDocument, URI } from 'langium';
import type { LangiumSharedServices } from 'langium/lsp';
import type { CancellationToken, Connection, Diagnostic } from 'vscode-languageserver';
import { FreshDocumentBuilder } from '../fresh-builder.ts';
import type { ChangedFiles, Findings, Sites } from '../sites/seam.ts';
import { fromDocument, fromFinding } from './convert.ts';
import { type Span, shifter } from './shift.ts';

/** Time slice between two looks at the message queue, in milliseconds. */
const SLICE = 8;

/** Milliseconds after which whoever waits for a pass sees whether it was called off. */
const LOOK_AGAIN = 100;

/** What the last complete pass said of a file, and the text it was said of. */
interface Kept {
  readonly text: string;
  readonly diagnostics: readonly Said[];
}

interface Said {
  readonly span: Span;
  readonly diagnostic: Diagnostic;
  /** The diagnostic as one text, by which it is held against that of the next pass. */
  readonly text: string;
}

export class Publisher {
  /** URI of the folder with the pages of the rules, where the client has told one that it can open. */
  rulePages: string | undefined;
  /** Runs after every complete pass, such as to have figures asked for again. */
  afterPass: (() => void) | undefined;
  /** Whether files of the workspace are still to be loaded. */
  isLoading: () => boolean = () => false;
  private readonly services: LangiumSharedServices;
  private readonly connection: Pick<Connection, 'sendDiagnostics'>;
  private readonly sites: Sites | undefined;
  private readonly kept = new Map<string, Kept>();
  /** Files that no complete pass has seen in their present form. */
  private readonly changed = new Set<string>();
  private readonly deleted = new Set<string>();
  private passes = 0;
  private waiting: (() => void)[] = [];

  constructor(
    services: LangiumSharedServices,
    connection: Pick<Connection, 'sendDiagnostics'>,
    sites: Sites | undefined,
  ) {
    this.services = services;
    this.connection = connection;
    this.sites = sites;
    const builder = services.workspace.DocumentBuilder;
    builder.onUpdate((changed, deleted) => {
      for (const uri of changed) this.note(uri.toString(), this.changed, this.deleted);
      for (const uri of deleted) {
        this.note(uri.toString(), this.deleted, this.changed);
        this.clear(uri.toString());
      }
    });
    builder.onDocumentPhase(DocumentState.Validated, (document) => this.publish(document));
    builder.onBuildPhase(DocumentState.Validated, (_, token) => this.checkSites(token));
  }

  /**
   * Checks the sites of all files changed since the last complete pass and publishes what that changes. To be called
   * under the workspace's write lock; a newer edit cancels it, and its files are then part of the next pass.
   */
  async checkSites(token: CancellationToken): Promise<void> {
    if (this.sites === undefined || (this.changed.size === 0 && this.deleted.size === 0)) return;
    const files: ChangedFiles = { changed: new Set(this.changed), deleted: new Set(this.deleted) };
    const take = (results: Findings) => {
      for (const [uri, findings] of results) this.keep(uri, findings);
      this.wake();
    };
    let results: Findings;
    try {
      results = await this.sites.check(files, pauseFor(token), take);
    } catch (error) {
      if (isOperationCancelled(error)) throw error;
      // A defect in a check must not take syntax findings, hover and completion down with it.
      console.error('Checking the sites failed:', error);
      return;
    }
    this.changed.clear();
    this.deleted.clear();
    this.passes += 1;
    take(results);
    this.afterPass?.();
  }

  /** Whether there has been a complete pass. */
  get hasPassed(): boolean {
    return this.passes > 0;
  }

  /** Whether a complete pass has seen every file in its present form. */
  get isUpToDate(): boolean {
    if (this.sites === undefined) return true;
    if (this.isOutdated()) return false;
    return this.passes > 0 && this.changed.size === 0 && this.deleted.size === 0 && !this.isLoading();
  }

  /**
   * Waits until the sites of a file, or without one everything, have been checked as they are, or `atMost` milliseconds;
   * says whether they have.
   */
  async upToDate(atMost: number, token?: CancellationToken, uri?: string): Promise<boolean> {
    const end = performance.now() + atMost;
    const isDone = () => (uri === undefined ? this.isUpToDate : this.isCurrent(URI.parse(uri).toString()));
    while (!isDone() && !token?.isCancellationRequested) {
      const left = end - performance.now();
      if (left <= 0) break;
      await new Promise<void>((resolve) => {
        const late = setTimeout(resolve, Math.min(left, LOOK_AGAIN));
        this.waiting.push(() => {
          clearTimeout(late);
          resolve();
        });
      });
    }
    return isDone();
  }

  /** Whether the sites of a file have been checked on the text that the editor has. */
  private isCurrent(uri: string): boolean {
    if (this.sites === undefined) return true;
    const outdated = this.isOutdated(uri);
    const document = this.documentOf(uri);
    // Of a file that nobody knows there is nothing to wait for, once the workspace is loaded.
    if (document === undefined) return !outdated && !this.isLoading();
    return !outdated && document.state >= DocumentState.Linked && this.sites.isCurrent(uri);
  }

  private isOutdated(uri?: string): boolean {
    const builder = this.services.workspace.DocumentBuilder;
    return builder instanceof FreshDocumentBuilder && builder.isOutdated(uri);
  }

  private wake(): void {
    for (const wake of this.waiting.splice(0)) wake();
  }

  private note(uri: string, to: Set<string>, from: Set<string>): void {
    from.delete(uri);
    to.add(uri);
  }

  private clear(uri: string): void {
    if (isBundledUri(uri)) return;
    this.kept.delete(uri);
    this.connection.sendDiagnostics({ uri, diagnostics: [] });
  }

  private keep(uri: string, findings: readonly ProjectFinding[]): void {
    if (isBundledUri(uri)) return;
    const document = this.documentOf(uri);
    if (document === undefined) {
      // A file that could not be read has findings but no document; nothing of it can move.
      this.kept.delete(uri);
      this.connection.sendDiagnostics({ uri, diagnostics: findings.map((each) => fromFinding(each, this.rulePages)) });
      return;
    }
    const hadSome = (this.kept.get(uri)?.diagnostics.length ?? 0) > 0;
    const diagnostics = findings.map((finding) => {
      const diagnostic = fromFinding(finding, this.rulePages);
      const { start, end } = diagnostic.range;
      return {
        span: { start: document.textDocument.offsetAt(start), end: document.textDocument.offsetAt(end) },
        diagnostic,
        text: JSON.stringify(diagnostic),
      };
    });
    const text = document.textDocument.getText();
    const before = this.kept.get(uri);
    this.kept.set(uri, { text, diagnostics });
    // In a large site most files are as they were, and so is what is said of them.
    if (before?.text === text && areAlike(before.diagnostics, diagnostics)) return;
    if (hadSome || diagnostics.length > 0) this.publish(document);
  }

  private publish(document: LangiumDocument): void {
    const { textDocument } = document;
    const uri = document.uri.toString();
    if (isBundledUri(uri)) return;
    const own = (document.diagnostics ?? []).map(fromDocument);
    this.connection.sendDiagnostics({
      uri,
      diagnostics: [...own, ...this.keptOf(uri, document)],
      ...(this.isOpen(document) ? { version: textDocument.version } : {}),
    });
  }

  /** What the last pass said, at the places where its text stands now. */
  private keptOf(uri: string, { textDocument }: LangiumDocument): Diagnostic[] {
    const kept = this.kept.get(uri);
    if (kept === undefined) return [];
    const shift = shifter(kept.text, textDocument.getText());
    return kept.diagnostics.flatMap(({ span, diagnostic }) => {
      const moved = shift(span);
      if (moved === undefined) return [];
      const range = { start: textDocument.positionAt(moved.start), end: textDocument.positionAt(moved.end) };
      return [{ ...diagnostic, range }];
    });
  }

  private documentOf(uri: string): LangiumDocument | undefined {
    return this.services.workspace.LangiumDocuments.getDocument(URI.parse(uri));
  }

  private isOpen(document: LangiumDocument): boolean {
    return this.services.workspace.TextDocuments.get(document.uri) !== undefined;
  }
}

function areAlike(before: Kept['diagnostics'], now: Kept['diagnostics']): boolean {
  return (
    before.length === now.length &&
    before.every(({ span, text }, i) => {
      const other = now[i] as Said;
      return span.start === other.span.start && span.end === other.span.end && text === other.text;
    })
  );
}

/** Gives way to the message queue when enough time has passed; throws when the work is called off. */
export function pauseFor(token: CancellationToken): () => Promise<void> {
  let last = performance.now();
  return async () => {
    if (performance.now() - last < SLICE) return;
    await interruptAndCheck(token);
    last = performance.now();
  };
}
