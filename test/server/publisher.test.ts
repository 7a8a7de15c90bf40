/** One publisher: what a document says of itself and what its sites say of it leave together. */
import type { ProjectFinding } from '@couplet/project';
import { type ChangedFiles, createServerServices, type Sites } from '@couplet/server';
import { EmptyFileSystem, URI } from 'langium';
import { expect, test, vi } from 'vitest';
import { CancellationToken, CancellationTokenSource, type PublishDiagnosticsParams } from 'vscode-languageserver';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { Publisher } from '../../packages/server/src/diagnostics/publisher.ts';

const A = 'file:///site/a.couplet';
const B = 'file:///site/b.couplet';

/** A finding on every `word` of a text, as a site check would say it. */
function findingsOn(word: string, uri: string, text: string, more: Partial<ProjectFinding> = {}): ProjectFinding[] {
  const document = TextDocument.create(uri, 'couplet', 0, text);
  return [...text.matchAll(new RegExp(`\\b${word}\\b`, 'g'))].map((match) => ({
    code: 'output-overloaded',
    severity: 'error',
    message: `${word} is overloaded.`,
    place: {
      uri,
      start: document.positionAt(match.index),
      end: document.positionAt(match.index + word.length),
    },
    related: [],
    figures: [],
    roots: [],
    ...more,
  }));
}

/** A publisher over the language's services, with files in memory and a record of what was sent. */
class Desk {
  readonly asked: ChangedFiles[] = [];
  readonly sent: PublishDiagnosticsParams[] = [];
  private readonly services = createServerServices({ ...EmptyFileSystem });
  private readonly publisher: Publisher;
  private version = 0;

  constructor(check: Sites['check']) {
    const sites: Sites = {
      sitesOf: () => [],
      all: () => [],
      workspaceOf: () => {
        throw new Error('nothing is tried here');
      },
      unloaded: () => [],
      isCurrent: () => true,
      check: (files, pause, early) => {
        this.asked.push(files);
        return check(files, pause, early);
      },
    };
    const connection = { sendDiagnostics: async (params: PublishDiagnosticsParams) => void this.sent.push(params) };
    this.publisher = new Publisher(this.services.shared, connection, sites);
  }

  async write(uri: string, text: string, token = CancellationToken.None): Promise<void> {
    const { DocumentBuilder, TextDocuments } = this.services.shared.workspace;
    this.version += 1;
    TextDocuments.set(TextDocument.create(uri, 'couplet', this.version, text));
    await DocumentBuilder.update([URI.parse(uri)], [], token);
  }

  async remove(uri: string): Promise<void> {
    await this.services.shared.workspace.DocumentBuilder.update([], [URI.parse(uri)]);
    await this.publisher.checkSites(CancellationToken.None);
  }

  /** The last that was published of a file: the marked text and the message of each. */
  shown(uri: string): string[] {
    const last = this.sent.findLast((params) => params.uri === uri);
    const document = this.services.shared.workspace.LangiumDocuments.getDocument(URI.parse(uri));
    return (last?.diagnostics ?? []).map(
      ({ range, message, code }) => `${document?.textDocument.getText(range) ?? ''}|${code}|${message}`,
    );
  }
}

const texts = (entries: Record<string, readonly ProjectFinding[]>) => new Map(Object.entries(entries));

test('findings of the site are published at their characters with code and severity', async () => {
  const text = 'relay K1 { }\nrelay K2 { }\n';
  const desk = new Desk(async () => texts({ [A]: findingsOn('K2', A, text) }));
  await desk.write(A, text);
  expect(desk.shown(A)).toEqual(['K2|output-overloaded|K2 is overloaded.']);
  expect(desk.sent.at(-1)?.diagnostics[0]).toMatchObject({ severity: 1, source: 'couplet' });
});

test('a syntax error and a finding of the site stand side by side', async () => {
  const text = 'relay K1 {{ }\nrelay K2 { }\n';
  const desk = new Desk(async () => texts({ [A]: findingsOn('K2', A, text) }));
  await desk.write(A, text);
  expect(desk.shown(A)).toHaveLength(2);
  expect(desk.shown(A)[0]).toMatch(/^\{\|/);
  expect(desk.shown(A)[1]).toBe('K2|output-overloaded|K2 is overloaded.');
});

test('an edit of one file brings and clears findings in another', async () => {
  let inB: readonly ProjectFinding[] = findingsOn('K2', B, 'relay K2 { }\n');
  const desk = new Desk(async () => texts({ [A]: [], [B]: inB }));
  await desk.write(B, 'relay K2 { }\n');
  expect(desk.shown(B)).toHaveLength(1);
  inB = [];
  await desk.write(A, 'relay K1 { }\n');
  expect(desk.shown(B)).toEqual([]);
});

test('while a newer check is not done, the last findings stay and move with the text', async () => {
  const text = 'relay K1 { }\nrelay K2 { }\n';
  let check: Sites['check'] = async () => texts({ [A]: findingsOn('K2', A, text) });
  const desk = new Desk((files, pause, early) => check(files, pause, early));
  await desk.write(A, text);

  check = async () => {
    throw new Error('the check fails');
  };
  const logged = vi.spyOn(console, 'error').mockImplementation(() => {});
  await desk.write(A, 'relay K0 { }\nrelay K1 { }\nrelay K2 { }\n');
  expect(desk.shown(A)).toEqual(['K2|output-overloaded|K2 is overloaded.']);
  expect(desk.sent.at(-1)?.diagnostics[0]?.range.start.line).toBe(2);
  expect(logged).toHaveBeenCalledOnce();
  logged.mockRestore();
});

test('a cancelled check keeps its files for the next one', async () => {
  const source = new CancellationTokenSource();
  let check: Sites['check'] = async (_, pause) => {
    source.cancel();
    for (;;) await pause();
  };
  const desk = new Desk((files, pause, early) => check(files, pause, early));
  await expect(desk.write(A, 'relay K1 { }\n', source.token)).rejects.toBeDefined();
  check = async () => texts({});
  await desk.write(B, 'relay K2 { }\n');
  expect([...desk.asked.at(-1)!.changed].sort()).toEqual([A, B]);
  await desk.write(B, 'relay K3 { }\n');
  expect([...desk.asked.at(-1)!.changed]).toEqual([B]);
});

test('what is handed over early is published though the rest is called off', async () => {
  const text = 'relay K1 { }\n';
  const source = new CancellationTokenSource();
  const desk = new Desk(async (_, pause, early) => {
    early(texts({ [A]: findingsOn('K1', A, text) }));
    source.cancel();
    for (;;) await pause();
  });
  await expect(desk.write(A, text, source.token)).rejects.toBeDefined();
  expect(desk.shown(A)).toEqual(['K1|output-overloaded|K1 is overloaded.']);
});

test('a file of which the same is said as before is not published again', async () => {
  const inB = findingsOn('K2', B, 'relay K2 { }\n');
  const desk = new Desk(async () => texts({ [B]: inB }));
  await desk.write(B, 'relay K2 { }\n');
  await desk.write(A, 'relay K1 { }\n');
  const before = desk.sent.filter(({ uri }) => uri === B).length;
  await desk.write(A, 'relay K1 "Pump" { }\n');
  expect(desk.sent.filter(({ uri }) => uri === B)).toHaveLength(before);
  expect(desk.shown(B)).toHaveLength(1);
});

test('a file taken away has its findings taken away, and its sites are checked again', async () => {
  const text = 'relay K1 { }\n';
  const desk = new Desk(async ({ deleted }) => texts(deleted.size > 0 ? {} : { [A]: findingsOn('K1', A, text) }));
  await desk.write(A, text);
  expect(desk.shown(A)).toHaveLength(1);
  await desk.remove(A);
  expect(desk.sent.at(-1)).toEqual({ uri: A, diagnostics: [] });
  expect([...desk.asked.at(-1)!.deleted]).toEqual([A]);
});

test('an accepted finding is a hint that says why and until when', async () => {
  const text = 'relay K1 { }\naccept x on K1\n';
  const place = { uri: A, start: { line: 1, character: 0 }, end: { line: 1, character: 14 } };
  const accepted = { because: 'tested yearly', until: '2028-01-31', place };
  const desk = new Desk(async () => texts({ [A]: findingsOn('K1', A, text, { accepted }).slice(0, 1) }));
  await desk.write(A, text);
  const hint = desk.sent.at(-1)?.diagnostics.find(({ code }) => code === 'output-overloaded');
  expect(hint?.severity).toBe(4);
  expect(hint?.relatedInformation?.[0]?.message).toBe('accepted until 2028-01-31: tested yearly');
});

test('a finding that stands in one of several sites names it', async () => {
  const text = 'relay K1 { }\n';
  const desk = new Desk(async () => texts({ [A]: findingsOn('K1', A, text, { site: 'North yard' }) }));
  await desk.write(A, text);
  expect(desk.shown(A)).toEqual(['K1|output-overloaded|K1 is overloaded. (in North yard)']);
});

test('columns count UTF-16 units', async () => {
  const text = 'load P1 "Beacon 🚨🚨" { }  relay K1 { }\n';
  const desk = new Desk(async () => texts({ [A]: findingsOn('K1', A, text) }));
  await desk.write(A, text);
  expect(desk.shown(A)).toContain('K1|output-overloaded|K1 is overloaded.');
});
