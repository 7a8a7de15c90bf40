/** Trees are many times as large as their text: those of a site are gone before it is judged. */
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { LangiumSharedCoreServices } from 'langium';
import { expect, test } from 'vitest';
import { Front } from '../../packages/project/src/front.ts';
import { findSites } from '../../packages/project/src/sites.ts';
import { Sources } from '../../packages/project/src/sources.ts';
import { FOLDER, MemoryReader, uri } from './memory.ts';

setFlagsFromString('--expose-gc');
const collect = runInNewContext('gc') as () => void;

/** How many are still there when everything that nobody holds is gone; what a turn has touched goes in a later one. */
async function left(refs: readonly WeakRef<object>[]): Promise<number> {
  const there = () => refs.filter((ref) => ref.deref() !== undefined).length;
  for (let turn = 0; turn < 50; turn += 1) {
    await new Promise((resolve) => setTimeout(resolve, 1));
    collect();
    if (there() === 0) break;
  }
  return there();
}

test.each([
  ['one file', { 'site.couplet': 'site "One"\nload P1 = 5 W @ 12 V\n' }],
  [
    'several files',
    {
      'site.couplet': 'site "Several"\nuse "types.couplet"\nuse "part.couplet"\n',
      'types.couplet': 'type Lamp : load { style: resistive }\n',
      'part.couplet': 'load P1 : Lamp = 5 W @ 12 V\n',
    },
  ],
])(
  '%s',
  async (_, files: Record<string, string>) => {
    const front = new Front();
    const { shared } = (front as unknown as { services: { shared: LangiumSharedCoreServices } }).services;
    const trees: WeakRef<object>[] = [];
    const add = shared.workspace.LangiumDocuments.addDocument.bind(shared.workspace.LangiumDocuments);
    shared.workspace.LangiumDocuments.addDocument = (document) => {
      trees.push(new WeakRef(document.parseResult.value));
      add(document);
    };
    const reader = new MemoryReader(files);
    const sources = new Sources({ reader, folder: FOLDER, head: (address, text) => front.head(address, text) });
    await sources.add(uri('site.couplet'));
    const [site] = findSites(sources, [uri('site.couplet')]);
    const { lowered } = await front.site(site!, sources);
    expect(trees).toHaveLength(Object.keys(files).length);
    expect(await left(trees)).toBe(0);
    // What a finding stands at is known without them.
    const load = lowered.design.components.find(({ name }) => name === 'P1');
    expect(lowered.place(load!.origin)?.uri).toBe(uri(Object.keys(files).at(-1)!));
  },
  30_000,
);
