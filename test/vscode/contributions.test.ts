/** What the extension brings as text and declares: a first site, snippets, commands, the reading of the command's findings. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createCoupletCoreServices } from '@couplet/language';
import { checkSites } from '@couplet/project';
import { URI } from 'langium';
import { describe, expect, test } from 'vitest';
import { NEW_SITE } from '../../packages/vscode/src/new-site-text.ts';
import { couplet, folderOf, ROOT } from '../cli/command.ts';
import { FOLDER, MemoryReader, uri } from '../project/memory.ts';

const read = (path: string) => JSON.parse(readFileSync(join(ROOT, 'packages/vscode', path), 'utf8'));

test('the first site has neither an error nor a warning', async () => {
  const workspace = { reader: new MemoryReader({ 'new.couplet': NEW_SITE }), folder: FOLDER };
  for await (const { findings } of checkSites(workspace, [uri('new.couplet')], { today: '2026-11-01' })) {
    const grave = findings.filter(({ severity }) => severity !== 'information');
    expect(grave.map(({ code, message }) => `${code}: ${message}`)).toEqual([]);
  }
});

describe('snippets', () => {
  const { shared } = createCoupletCoreServices();
  const snippets = Object.entries<{ body: string[] }>(read('snippets.json'));

  test.each(snippets)('%s is well formed as it is put in', (_name, { body }) => {
    const text = body
      .join('\n')
      .replaceAll(/\$\{\d+\|([^,|]*)[^|]*\|\}/g, '$1')
      .replaceAll(/\$\{\d+:([^}]*)\}/g, '$1')
      .replaceAll(/\$\d+/g, '');
    const { parseResult } = shared.workspace.LangiumDocumentFactory.fromString(
      text,
      URI.parse('file:///snippet.couplet'),
    );
    expect([...parseResult.lexerErrors, ...parseResult.parserErrors].map(({ message }) => message)).toEqual([]);
    expect(text).not.toContain('$');
  });
});

test("the task's findings are read from what the command writes", async () => {
  const [{ pattern }] = read('package.json').contributes.problemMatchers;
  const folder = folderOf({ 'shed.couplet': 'site "Shed"\nwire A1 -- B1\n' });
  const { out } = await couplet(['check'], folder);
  const rows = out.split('\n').flatMap((line) => {
    const found = new RegExp(pattern.regexp).exec(line);
    const at = (key: string) => found?.[pattern[key]];
    return found === null ? [] : [`${at('file')} ${at('line')}:${at('column')} ${at('severity')} ${at('code')}`];
  });
  expect(rows).toEqual(['shed.couplet 2:6 error name-unknown', 'shed.couplet 2:12 error name-unknown']);
});

describe('the manifest', () => {
  const manifest = read('package.json');
  const sources = readdirSync(join(ROOT, 'packages/vscode/src'), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .map((file) => readFileSync(join(ROOT, 'packages/vscode/src', file), 'utf8'))
    .join('\n');

  test('declares every command that is registered, under one category, and none besides', () => {
    const commands: { command: string; title: string; category: string }[] = manifest.contributes.commands;
    const registered = [...sources.matchAll(/registerCommand\(\s*'([^']+)'/g)].map(([, name]) => name);
    expect(commands.map(({ command }) => command).sort()).toEqual(registered.sort());
    expect(commands.filter(({ category, title }) => category !== 'Couplet' || title === '')).toEqual([]);
    expect(registered).toEqual(expect.arrayContaining(['couplet.restartServer', 'couplet.showOutput']));
  });

  test('names files that are built', () => {
    const named = JSON.stringify(manifest).match(/(?:\.\/)?dist\/[\w./-]+/g) ?? [];
    expect(named.length).toBeGreaterThan(8);
    expect(named.filter((file) => !existsSync(join(ROOT, 'packages/vscode', file)))).toEqual([]);
  });

  test('has an icon for files of the language, in light and dark', () => {
    const [{ icon }] = manifest.contributes.languages;
    for (const file of [icon.light, icon.dark]) {
      expect(readFileSync(join(ROOT, 'packages/vscode', file), 'utf8')).toMatch(/^<svg .*<\/svg>\s*$/s);
    }
  });

  test('runs beside a machine and in a browser, in virtual workspaces, and with care in untrusted ones', () => {
    expect(manifest).toMatchObject({ main: './dist/extension.cjs', browser: './dist/web.js' });
    expect(manifest.capabilities.virtualWorkspaces).toBe(true);
    expect(manifest.capabilities.untrustedWorkspaces).toMatchObject({
      supported: 'limited',
      restrictedConfigurations: ['couplet.command'],
    });
  });

  test('gives the check task its type and the matcher of its findings', () => {
    const [{ type }] = manifest.contributes.taskDefinitions;
    const [{ name }] = manifest.contributes.problemMatchers;
    expect(sources).toContain(`const TYPE = '${type}'`);
    expect(sources).toContain(`'$${name}'`);
    expect(sources).toContain("createLanguageStatusItem('couplet.engine'");
    expect(sources).toContain("createOutputChannel('Couplet', { log: true })");
  });

  test('every setting that the sources read is declared', () => {
    const settings = Object.keys(manifest.contributes.configuration.properties);
    expect(settings).toEqual(
      expect.arrayContaining([
        'couplet.command',
        'couplet.inlayFigures',
        'couplet.zoneReadings',
        'couplet.trace.server',
      ]),
    );
    for (const { default: value, description } of Object.values<{ default?: unknown; description?: string }>(
      manifest.contributes.configuration.properties,
    )) {
      expect(value).toBeDefined();
      expect(description).toMatch(/\.$/);
    }
  });
});
