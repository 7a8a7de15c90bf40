/**
 * One workspace over the wire, in a process of its own: `node test/bench/wire-measure.ts SHAPE UNRESOLVED [--source]
 * [--profile FILE] [--keys N] [--files N]` prints one line of JSON. `--source` starts the server from its sources rather than the
 * bundle, so that a profile names the files.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { addLibrary, createCoupletCoreServices } from '@couplet/language';
import { URI } from 'langium';
import { CompletionRequest, HoverRequest, type PublishDiagnosticsParams } from 'vscode-languageserver/node';
import { TextDocument } from 'vscode-languageserver-textdocument';
import { WireClient } from './wire-client.ts';
import { layWorkspace, type Shape } from './wire-sites.ts';

const { positionals, values } = parseArgs({
  allowPositionals: true,
  options: {
    source: { type: 'boolean', default: false },
    bundle: { type: 'string', default: 'packages/vscode/dist/server.cjs' },
    profile: { type: 'string' },
    keys: { type: 'string', default: '60' },
    files: { type: 'string', default: '100' },
  },
});
const [shape = 'many', unresolved = '0'] = positionals;
const keys = Number(values.keys);
const root = join(import.meta.dirname, '..', '..');
const entry = join(root, values.source ? 'packages/server/src/node.ts' : values.bundle);

/** Keys typed before anything is counted. */
const WARM_UP = 10;

const folder = mkdtempSync(join(tmpdir(), 'couplet-wire-'));
try {
  console.log(JSON.stringify(await measure()));
} finally {
  rmSync(folder, { recursive: true });
}

async function measure() {
  const laid = layWorkspace(folder, shape as Shape, Number(unresolved), Number(values.files));
  const uri = `${pathToFileURL(folder).href}/${laid.edited}`;
  const begun = performance.now();
  const client = await WireClient.start(entry, pathToFileURL(folder).href);
  await client.open(uri, laid.text);
  await client.until((published) => published(uri) !== undefined);
  const firstPublished = performance.now() - begun;
  await client.until((published) => published(uri)?.diagnostics.some(isOfSite) === true);
  const firstFindings = performance.now() - begun;
  // Everything is loaded and checked once the cases of all sites are told; asked again where that takes long.
  const cases = () => client.connection.sendRequest<unknown[]>('couplet/cases');
  const expected = laid.text.match(/^case /gm)?.length ?? 0;
  const sites = shape === 'one' ? 1 : laid.files / 2;
  while ((await cases()).length < expected * sites) await new Promise((resolve) => setTimeout(resolve, 200));
  const everything = performance.now() - begun;
  const progress = client.progress.length;

  const document = TextDocument.create(uri, 'couplet', 1, laid.text);
  const digits = await keysOfValues(client, uri, document);
  const statement = await statements(client, uri, document);
  const asked = await questions(client, uri, document);
  const memory = await client.memory();
  const cancelled = await overtaken(client, uri, document);
  await client.stop();
  return {
    shape,
    unresolved: Number(unresolved),
    files: laid.files,
    lines: laid.lines,
    editedLines: document.lineCount - 1,
    firstPublished,
    firstFindings,
    everything,
    progress,
    ...digits,
    statement,
    ...asked,
    cancelled,
    heapMegabytes: memory.heap / 2 ** 20,
    residentMegabytes: memory.resident / 2 ** 20,
  };
}

/** A finding that only a check of the whole site makes: every unit of the generated sites has terminals left open. */
function isOfSite({ code }: PublishDiagnosticsParams['diagnostics'][number]): boolean {
  return code === 'terminal-unused';
}

/** A digit typed into the watts of a load brings a finding, and its going takes it away. */
async function keysOfValues(client: WireClient, uri: string, document: TextDocument) {
  const text = document.getText();
  const loads = [...text.matchAll(/^load P(\d+) = /gm)].map((match) => match.index + match[0].length);
  const times: number[] = [];
  const parses: number[] = [];
  let parseProcessor = 0;
  const parse = parser();
  let processor = 0;
  for (let key = -WARM_UP; key < keys; key += 1) {
    if (key === 0) {
      processor = await client.processor();
      if (values.profile !== undefined) await client.startProfile();
    }
    const typed = (key & 1) === 0;
    const at = document.positionAt(loads[(((key >> 1) + WARM_UP) * 7) % loads.length]!);
    const began = performance.now();
    const range = { start: at, end: { line: at.line, character: at.character + 1 } };
    const version = typed ? await client.type(uri, at, '9') : await client.edit(uri, range, '');
    await client.until((published) => {
      const params = published(uri);
      return (
        params?.version === version && params.diagnostics.some(({ code }) => code === 'output-overloaded') === typed
      );
    });
    if (key < 0) {
      parse(text);
      continue;
    }
    times.push(performance.now() - began);
    const from = performance.now();
    const before = process.cpuUsage();
    parse(text);
    const { system, user } = process.cpuUsage(before);
    parseProcessor += (user + system) / 1000 / keys;
    parses.push(performance.now() - from);
  }
  const processorPerKey = ((await client.processor()) - processor) / keys;
  if (values.profile !== undefined) writeFileSync(values.profile, JSON.stringify(await client.stopProfile()));
  return { key: spread(times), processorPerKey, parse: spread(parses), parseProcessor };
}

/** The bare parse of a text, in this process. */
function parser(): (text: string) => void {
  const { shared } = createCoupletCoreServices();
  addLibrary(shared);
  let n = 0;
  return (text) => {
    n += 1;
    shared.workspace.LangiumDocumentFactory.fromString(text, URI.parse(`memory:///bench/parse${n}.couplet`));
  };
}

/** A statement written key by key at the end of the file; each key to the end of the check that has seen it. */
async function statements(client: WireClient, uri: string, document: TextDocument) {
  const times: number[] = [];
  const end = document.positionAt(document.getText().length);
  let at = end;
  for (const key of 'resistor RX = 4k7 +-1%\nwire K1.12 -- RX\n') {
    const began = performance.now();
    const before = client.passes;
    await client.type(uri, at, key);
    await client.until(() => client.passes > before);
    times.push(performance.now() - began);
    at = key === '\n' ? { line: at.line + 1, character: 0 } : { line: at.line, character: at.character + 1 };
  }
  const before = client.passes;
  await client.edit(uri, { start: end, end: at }, '');
  await client.until(() => client.passes > before);
  return spread(times);
}

/** Hovers and completions all over the file, each completion behind a key. */
async function questions(client: WireClient, uri: string, document: TextDocument) {
  const words = [...document.getText().matchAll(/(?<=[ .])[A-Za-z][\w-]*/g)].map(({ index }) => index + 1);
  const lines = [...document.getText().matchAll(/^(?:resistor \w+ = |wire level\d+\.|cable \w+ \{ )/gm)].map(
    (match) => match.index + match[0].length,
  );
  const hovers: number[] = [];
  const completions: number[] = [];
  for (let i = 0; i < 200; i += 1) {
    const position = document.positionAt(words[(i * 131) % words.length]!);
    const began = performance.now();
    await client.connection.sendRequest(HoverRequest.type, { textDocument: { uri }, position });
    if (i >= WARM_UP) hovers.push(performance.now() - began);
  }
  for (let i = 0; i < 100; i += 1) {
    const position = document.positionAt(lines[(i * 37) % lines.length]!);
    const began = performance.now();
    await client.connection.sendRequest(CompletionRequest.type, { textDocument: { uri }, position });
    if (i >= WARM_UP) completions.push(performance.now() - began);
  }
  const typed: number[] = [];
  for (let i = 0; i < 40; i += 1) {
    const position = document.positionAt(lines[(i * 37) % lines.length]!);
    const began = performance.now();
    const before = client.passes;
    await client.type(uri, position, 'c');
    const after = { line: position.line, character: position.character + 1 };
    await client.connection.sendRequest(CompletionRequest.type, { textDocument: { uri }, position: after });
    typed.push(performance.now() - began);
    await client.until(() => client.passes > before);
    await client.edit(uri, { start: position, end: after }, '');
    await client.until(() => client.passes > before + 1);
  }
  return { hover: spread(hovers), completion: spread(completions), completionBehindKey: spread(typed) };
}

/** Keys that come faster than checks end: how many checks there were, and how long after the last key its findings came. */
async function overtaken(client: WireClient, uri: string, document: TextDocument) {
  const at = document.positionAt(document.getText().indexOf('load P1 = ') + 'load P1 = '.length);
  const before = client.passes;
  const many = 20;
  let version = 0;
  let began = 0;
  for (let key = 0; key < many; key += 1) {
    began = performance.now();
    version = await client.type(uri, at, '9');
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
  await client.until((published) => {
    const params = published(uri);
    return params?.version === version && params.diagnostics.some(({ code }) => code === 'output-overloaded');
  });
  return { keys: many, passes: client.passes - before, milliseconds: performance.now() - began };
}

function spread(times: readonly number[]): { readonly p50: number; readonly p95: number } {
  const sorted = [...times].sort((a, b) => a - b);
  const at = (part: number) => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * part))] ?? Number.NaN;
  return { p50: at(0.5), p95: at(0.95) };
}
