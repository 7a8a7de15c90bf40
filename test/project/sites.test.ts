/** Which files make a site: roots, what they use, files checked alone, and what may not be used. */
import { type FileHead, findSites, Sources, type UseStatement } from '@couplet/project';
import { expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

/** `site` and `use` at the start of a line, which is all that is asked here. */
function head(address: string, text: string): FileHead {
  const uses: UseStatement[] = [];
  text.split('\n').forEach((line, number) => {
    const path = /^use "(.*)"/.exec(line)?.[1];
    const end = { line: number, character: line.length };
    if (path !== undefined) uses.push({ path, place: { uri: address, start: { line: number, character: 4 }, end } });
  });
  return { site: /^site /m.test(text), uses };
}

async function sourcesOf(
  reader: MemoryReader,
  asked: readonly string[],
): Promise<{ sources: Sources; asked: string[] }> {
  const sources = new Sources({ reader, folder: FOLDER, head });
  const found: string[] = [];
  for (const path of asked) found.push(await sources.add(uri(path)));
  return { sources, asked: found };
}

async function sitesOf(files: Readonly<Record<string, string>>, asked = Object.keys(files)) {
  const { sources, asked: found } = await sourcesOf(new MemoryReader(files), asked);
  return findSites(sources, found).map(({ root, files: each, fragment }) => ({
    root: root.slice(FOLDER.length + 1),
    files: each.map((file) => file.slice(FOLDER.length + 1)),
    fragment,
  }));
}

async function findingsOf(reader: MemoryReader, asked: readonly string[]) {
  const { sources } = await sourcesOf(reader, asked);
  return [...sources.files.values()].flatMap((file) => file.findings);
}

test('a site is its file and all that it uses, through others too, from the folder of each file', async () => {
  const sites = await sitesOf({
    'mill/site.couplet': 'site "Mill"\nuse "../types/panel.couplet"\nuse "loop.couplet"',
    'mill/loop.couplet': 'use "./cables/w1.couplet"',
    'mill/cables/w1.couplet': 'cable W1',
    'types/panel.couplet': 'type P : unit',
  });
  expect(sites).toEqual([
    {
      root: 'mill/site.couplet',
      files: ['mill/site.couplet', 'types/panel.couplet', 'mill/loop.couplet', 'mill/cables/w1.couplet'],
      fragment: false,
    },
  ]);
});

test('a circle of use counts every file once', async () => {
  const sites = await sitesOf({
    'a.couplet': 'site "A"\nuse "b.couplet"',
    'b.couplet': 'use "c.couplet"\nuse "b.couplet"',
    'c.couplet': 'use "a.couplet"\nuse "b.couplet"',
  });
  expect(sites).toEqual([{ root: 'a.couplet', files: ['a.couplet', 'b.couplet', 'c.couplet'], fragment: false }]);
});

test('a file used by two sites belongs to both', async () => {
  const sites = await sitesOf({
    'a.couplet': 'site "A"\nuse "t.couplet"',
    'b.couplet': 'site "B"\nuse "t.couplet"',
    't.couplet': 'type T : unit',
  });
  expect(sites.map(({ root, files }) => [root, files])).toEqual([
    ['a.couplet', ['a.couplet', 't.couplet']],
    ['b.couplet', ['b.couplet', 't.couplet']],
  ]);
});

test('files that no site uses are checked alone, each with what it uses', async () => {
  const sites = await sitesOf({
    'a.couplet': 'site "A"',
    'loose.couplet': 'use "part.couplet"',
    'part.couplet': 'resistor R1',
  });
  expect(sites.map(({ root, fragment }) => [root, fragment])).toEqual([
    ['a.couplet', false],
    ['loose.couplet', true],
  ]);
});

test('in a circle of files without a site the first by name leads', async () => {
  const sites = await sitesOf({ 'y.couplet': 'use "x.couplet"', 'x.couplet': 'use "y.couplet"' });
  expect(sites).toEqual([{ root: 'x.couplet', files: ['x.couplet', 'y.couplet'], fragment: true }]);
});

test('only what was asked for leads to a site', async () => {
  const sites = await sitesOf({ 'a.couplet': 'site "A"', 'b.couplet': 'site "B"' }, ['b.couplet']);
  expect(sites.map((site) => site.root)).toEqual(['b.couplet']);
});

test.each([
  ['use-missing', 'gone.couplet', "There is no file 'gone.couplet'"],
  ['use-outside-folder', '../other/a.couplet', "outside the workspace folder 'site'"],
  ['use-outside-folder', '../../../../../a.couplet', 'outside the workspace folder'],
  ['use-outside-folder', 'linked.couplet', 'outside the workspace folder'],
  ['use-path-wrong', '/etc/a.couplet', 'not a relative path'],
  ['use-path-wrong', 'http://example.org/a.couplet', 'not a relative path'],
  ['use-path-wrong', 'C:/a.couplet', 'not a relative path'],
  ['use-path-wrong', 'types\\a.couplet', 'Write the path with \'/\': "types/a.couplet"'],
  ['use-path-wrong', '', 'needs the path of a file'],
  ['use-unreadable', 'locked.couplet', 'no permission'],
])('%s: use "%s" is a finding at its path, and the rest is still read', async (code, path, words) => {
  const reader = new MemoryReader(
    {
      'a.couplet': `site "A"\nuse "${path}"\nuse "b.couplet"`,
      'b.couplet': 'resistor R1',
      'locked.couplet': { sort: 'unreadable', reason: 'no permission' },
    },
    { 'linked.couplet': 'file:///elsewhere/a.couplet' },
  );
  const { sources } = await sourcesOf(reader, ['a.couplet']);
  const findings = [...sources.files.values()].flatMap((file) => file.findings);
  expect(findings).toHaveLength(1);
  expect(findings[0]).toMatchObject({ code, severity: 'error', place: { uri: uri('a.couplet'), start: { line: 1 } } });
  expect(findings[0]?.message).toContain(words);
  expect([...sources.files.keys()]).toEqual([uri('a.couplet'), uri('b.couplet')]);
});

test('nothing outside the folder is ever read', async () => {
  const reader = new MemoryReader(
    { 'a.couplet': 'use "../secret.couplet"\nuse "linked.couplet"' },
    {
      'linked.couplet': 'file:///elsewhere/a.couplet',
    },
  );
  await findingsOf(reader, ['a.couplet']);
  expect(reader.reads).toEqual([uri('a.couplet')]);
});

test('two names of one file are one file', async () => {
  const reader = new MemoryReader(
    {
      'a.couplet': 'site "A"\nuse "short.couplet"\nuse "types/long name#1.couplet"',
      'types/long name#1.couplet': 'type T : unit',
    },
    { 'short.couplet': 'types/long%20name%231.couplet' },
  );
  const { sources, asked } = await sourcesOf(reader, ['a.couplet']);
  expect(findSites(sources, asked)[0]?.files).toEqual([uri('a.couplet'), uri('types/long name#1.couplet')]);
  expect(await findingsOf(reader, ['a.couplet'])).toEqual([]);
});

test('a used file that is no text has its finding at itself, once', async () => {
  const reader = new MemoryReader({
    'a.couplet': 'site "A"\nuse "t.couplet"',
    'b.couplet': 'site "B"\nuse "t.couplet"',
    't.couplet': Uint8Array.of(0x73, 0xff),
  });
  const findings = await findingsOf(reader, ['a.couplet', 'b.couplet']);
  expect(findings.map((each) => [each.code, each.place.uri])).toEqual([['file-not-utf8', uri('t.couplet')]]);
});
