/** The worked example in the editor: findings, figures on hover, values on completion, from the real computation. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { CheckedSites } from '@couplet/server';
import { beforeEach, describe, expect, test } from 'vitest';
import type { Diagnostic, PublishDiagnosticsParams } from 'vscode-languageserver';
import { Publisher } from '../../packages/server/src/diagnostics/publisher.ts';
import { marked, root } from './client.ts';
import { Desk, FOLDER } from './desk.ts';

const example = (name: string) => readFileSync(join(root, 'examples', name), 'utf8');
const MILL = 'tidewater-mill/site.couplet';
const FILES = ['types/pit-controller.couplet', 'types/panel-eight-zones.couplet', 'types/signal-relay.couplet'];

let desk: Desk;
let shown: Map<string, readonly Diagnostic[]>;

beforeEach(async () => {
  desk = new Desk();
  shown = new Map();
  desk.services.sites.current = new CheckedSites(desk.services);
  const sendDiagnostics = async (params: PublishDiagnosticsParams) => void shown.set(params.uri, params.diagnostics);
  new Publisher(desk.services.shared, { sendDiagnostics }, desk.services.sites.current);
  await desk.write(Object.fromEntries([MILL, ...FILES].map((name) => [name, example(name)])));
});

/** Code and marked text of the errors and warnings of a file. */
function findings(name: string): string[] {
  const document = desk.document(name).textDocument;
  return (shown.get(FOLDER + name) ?? [])
    .filter(({ severity }) => severity === 1 || severity === 2)
    .map(({ code, range }) => `${code}: ${document.getText(range)}`);
}

async function change(from: string, to: string, name = MILL): Promise<void> {
  const text = desk.document(name).textDocument.getText();
  expect(text).toContain(from);
  await desk.write({ [name]: text.replace(from, to) });
}

async function hover(before: string, name = MILL): Promise<string> {
  const text = desk.document(name).textDocument.getText();
  expect(text).toContain(before);
  const { position } = marked(text.replace(before, `${before}<|>`));
  const provider = desk.services.couplet.lsp.HoverProvider;
  const found = await provider?.getHoverContent(desk.document(name), desk.at(name, position));
  return ((found?.contents as { value: string } | undefined)?.value ?? '').replaceAll('\\', '');
}

describe('findings', () => {
  test('the example has neither errors nor warnings', () => {
    for (const name of [MILL, ...FILES]) expect(findings(name)).toEqual([]);
  });

  test('a mistake is marked at its characters and goes when it is mended', async () => {
    await change('load P1 = 6 W', 'load P1 = 60 W');
    expect(findings(MILL).some((finding) => finding.startsWith('output-overloaded: '))).toBe(true);
    await change('load P1 = 60 W', 'load P1 = 6 W');
    expect(findings(MILL)).toEqual([]);
  });

  test('a change of a type brings findings to the site that uses it', async () => {
    await change('rated: 1.2 A', 'rated: 120 mA', 'types/pit-controller.couplet');
    const all = [MILL, ...FILES].flatMap((name) => findings(name));
    expect(all.some((finding) => finding.startsWith('output-overloaded: '))).toBe(true);
    await change('rated: 120 mA', 'rated: 1.2 A', 'types/pit-controller.couplet');
    for (const name of [MILL, ...FILES]) expect(findings(name)).toEqual([]);
  });

  test('a missing file is a finding at its path', async () => {
    await change('"../types/signal-relay.couplet"', '"../types/signal-relai.couplet"');
    expect(findings(MILL)).toContain('use-missing: "../types/signal-relai.couplet"');
  });
});

describe('hover', () => {
  test('a relay: state and volts at the coil per case, with the corner', async () => {
    const text = await hover('relay K');
    expect(text).toContain('**K1** relay');
    expect(text).toMatch(/\| rest \| operated \|/);
    expect(text).toContain('10.9 V');
    expect(text).toMatch(/rest, volts: least 10\.9 V with .*level\.V12 11\.4 V/);
  });

  test('a load: the computed current', async () => {
    expect(await hover('-- P')).toMatch(/58[78] mA/);
  });

  test('an output: what it carries against its rating', async () => {
    expect(await hover('P1 -- level.Q')).toMatch(/At most 58[78] mA of 1\.20 A rated \(49\.0 %\)/);
  });

  test('a zone: ohms, volts and class per case', async () => {
    const text = await hover('wire panel.Z');
    expect(text).toContain('normal');
    expect(text).toContain('alarm');
    expect(text).toMatch(/2\.22\d kΩ/);
  });

  test('a member in its type: the parts that were declared there', async () => {
    expect(await hover('output Q2', 'types/pit-controller.couplet')).toContain('**level.Q2** output');
  });

  test('a wire: the current and the drop of each part in it', async () => {
    const text = await hover('wir');
    expect(text).toMatch(/\| part \| rest \|/);
    expect(text).toMatch(/\| K1 \| 1\d\.\d mA/);
  });
});

describe('resistor values', () => {
  async function values(statement: string): Promise<string[]> {
    const text = desk
      .document(MILL)
      .textDocument.getText()
      .replace(/resistor RE = .*\n/, `${statement}\n`);
    return (await desk.complete(text, MILL)).map(({ label }) => label);
  }

  test('what the bands ask for comes first, then the values of the site, then the series', async () => {
    const list = await values('resistor RE = <|>');
    expect(['2k0', '2k2']).toContain(list[0]);
    expect(list.slice(0, 6)).toContain('4k7');
    expect(list.indexOf('100R')).toBeGreaterThan(4);
  });
});
