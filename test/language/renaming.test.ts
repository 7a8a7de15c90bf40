/** Names that stay as they are say why. */
import { renameRefusal } from '@couplet/language';
import { type AstNode, CstUtils } from 'langium';
import { expect, test } from 'vitest';
import { Workspace } from './support.ts';

const SITE = `use "library/relays.couplet"
unit panel {
  common ZC { earthed: no }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC }
  zone A1 { feed: 5 V via 4k7  return: ZC }
}
relay K1 : RelaySignal12
resistor RE = 2k2
`;

async function refusalAt(line: string): Promise<string | undefined> {
  const workspace = await Workspace.of(SITE + line);
  const root = workspace.file().$cstNode;
  const start = workspace.marks.get('main.couplet')?.[0]?.start as number;
  const leaf = root && CstUtils.findDeclarationNodeAtOffset(root, start, /[\p{L}\p{N}_"]/u);
  const [node] = leaf === undefined ? [] : workspace.services.references.References.findDeclarations(leaf);
  return renameRefusal(node as AstNode, leaf?.text as string);
}

test.each([
  [
    'relay K2 : ⟦RelaySignal12⟧',
    "'RelaySignal12' comes with the language: to call it otherwise, write a type of your own in your own file.",
  ],
  [
    'wire panel.⟦Z3⟧ -- RE -- panel.ZC',
    "'Z3' is one of those that 'zone Z1 .. Z8' counts: declare it by itself to name it otherwise.",
  ],
  ['wire panel.Z3 -- K1.⟦A1⟧', "'A1' is a name that the kind itself has: it is the same on every part of it."],
  ['wire panel.Z3 -- K1.⟦11⟧', "'11' is a name that the kind itself has: it is the same on every part of it."],
  ['wire panel.Z3 -- RE -- ⟦earth⟧', "'earth' is a name that the kind itself has: it is the same on every part of it."],
])('%s', async (line, sentence) => {
  expect(await refusalAt(line)).toBe(sentence);
});

test.each([
  ['a part', 'wire panel.Z1 -- ⟦RE⟧ -- panel.ZC'],
  ['a member that stands alone', 'wire panel.⟦A1⟧ -- RE -- panel.ZC'],
])('%s may be renamed', async (_, line) => {
  expect(await refusalAt(line)).toBeUndefined();
});
