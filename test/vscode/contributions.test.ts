/** What the extension brings as text: a first site, snippets, the reading of the command's findings. */
import { readFileSync } from 'node:fs';
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
