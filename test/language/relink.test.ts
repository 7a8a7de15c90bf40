import { DocumentState } from 'langium';
import { expect, test } from 'vitest';
import { Workspace } from './support.ts';

/** Changes files and says which documents were linked again by it. */
async function change(workspace: Workspace, files: Record<string, string>): Promise<string[]> {
  const linked: string[] = [];
  const builder = workspace.shared.workspace.DocumentBuilder;
  const listener = builder.onDocumentPhase(DocumentState.Linked, (document) => {
    if (document.uri.scheme === 'file') linked.push(document.uri.path.slice(1));
  });
  await workspace.change(files);
  listener.dispose();
  return linked.sort();
}

function wrong(workspace: Workspace, path: string): string[] {
  return workspace.document(path).references.flatMap((each) => (each.error ? [each.$refText] : []));
}

const FILES = {
  'site.couplet': 'site "S" {}\nuse "a.couplet"\nuse "b.couplet"\nuse "types.couplet"\n',
  'a.couplet': 'resistor R1 = 1k\nwire R1 -- R7 -- earth\n',
  'b.couplet': 'resistor R2 = 1k\n',
  'c.couplet': 'wire R9 -- earth\n',
  'types.couplet': 'type T : unit { terminal T1 }\n',
};

test('a file with a wrong name is not linked again when nothing it misses changes', async () => {
  const workspace = await Workspace.of(FILES);
  expect(wrong(workspace, 'a.couplet')).toEqual(['R7']);
  expect(await change(workspace, { 'b.couplet': 'resistor R2 = 2k\nresistor R3 = 1k\n' })).toEqual(['b.couplet']);
  expect(wrong(workspace, 'a.couplet')).toEqual(['R7']);
});

test('it is linked again when the missing name appears', async () => {
  const workspace = await Workspace.of(FILES);
  expect(await change(workspace, { 'b.couplet': 'resistor R7 = 2k\n' })).toEqual(['a.couplet', 'b.couplet']);
  expect(wrong(workspace, 'a.couplet')).toEqual([]);
});

test('a file whose target changed is linked again, and loses a name that is gone', async () => {
  const workspace = await Workspace.of(FILES);
  await change(workspace, { 'b.couplet': 'resistor R7 = 2k\n' });
  expect(await change(workspace, { 'b.couplet': 'resistor R8 = 2k\n' })).toEqual(['a.couplet', 'b.couplet']);
  expect(wrong(workspace, 'a.couplet')).toEqual(['R7']);
});

test('a missing member of a type in another file is found once it is there', async () => {
  const workspace = await Workspace.of({
    ...FILES,
    'b.couplet': 'unit u : T\nwire u.T-2 -- earth\nwire u.T1 -- earth\n',
  });
  expect(wrong(workspace, 'b.couplet')).toEqual(['T', '2']);
  await change(workspace, { 'types.couplet': 'type T : unit { terminal T1  terminal T-2 }\n' });
  expect(wrong(workspace, 'b.couplet')).toEqual([]);
});

test('a new `use` makes names known', async () => {
  const workspace = await Workspace.of(FILES);
  await change(workspace, { 'c.couplet': 'use "d.couplet"\nwire R9 -- earth\n', 'd.couplet': 'resistor R9 = 1k\n' });
  expect(wrong(workspace, 'c.couplet')).toEqual([]);
  await change(workspace, { 'c.couplet': 'wire R9 -- earth\n' });
  expect(wrong(workspace, 'c.couplet')).toEqual(['R9']);
});

test('a name that comes in one site is nothing to another', async () => {
  const workspace = await Workspace.of({
    ...FILES,
    'other.couplet': 'site "O" {}\nresistor R2 = 1k\nwire R7 -- earth\n',
  });
  expect(await change(workspace, { 'b.couplet': 'resistor R7 = 2k\n' })).toEqual(['a.couplet', 'b.couplet']);
  expect(wrong(workspace, 'other.couplet')).toEqual(['R7']);
});

test('a file that goes takes its names with it', async () => {
  const workspace = await Workspace.of({ ...FILES, 'a.couplet': 'resistor R2 = 1k\nwire R2 -- earth\n' });
  expect(workspace.findings('b.couplet').map((each) => each.code)).toEqual(['name-taken']);
  await workspace.remove('a.couplet');
  expect(workspace.findings('b.couplet')).toEqual([]);
});

test('two thousand wrong names in other files cost nothing at an edit', async () => {
  const many = Array.from({ length: 49 }, (_, i) => [
    `m${i}.couplet`,
    Array.from({ length: 41 }, (_, k) => `wire N${i}-${k} -- earth`).join('\n'),
  ]);
  const workspace = await Workspace.of({ ...Object.fromEntries(many), 'edited.couplet': 'resistor R1 = 1k\n' });
  expect(await change(workspace, { 'edited.couplet': 'resistor R2 = 1k\n' })).toEqual(['edited.couplet']);
});
