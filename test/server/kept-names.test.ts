/** Names of a site are kept from edit to edit: whatever is edited, they lead where a fresh start leads. */
import { expect, test } from 'vitest';
import { Desk, FOLDER, TYPES } from './desk.ts';

const FILES: Record<string, string> = {
  'types.couplet': TYPES,
  'site.couplet':
    'site "Mill"\nuse "types.couplet"\nuse "north.couplet"\nuse "south.couplet" as S\nwire K1.A1 -- S.K9.A1 -- R1\n',
  'north.couplet': 'relay K1 : SmallRelay\nresistor R1 = 1k\nwire K1.11 -- R1 -- panel.Z1\n',
  'south.couplet': 'unit panel : Panel\nrelay K9 : SmallRelay\nwire K9.11-14 -- K1.12\n',
};

/** File, what is replaced in it, and by what; each on top of those before. */
const EDITS: readonly (readonly [file: string, from: string, to: string])[] = [
  ['north.couplet', '1k', '2k'],
  ['north.couplet', 'wire K1.11', 'wire K1.12'],
  ['north.couplet', 'relay K1', 'relay K2'],
  ['north.couplet', 'relay K2', 'relay K1'],
  ['south.couplet', 'relay K9 : SmallRelay\n', ''],
  ['south.couplet', 'unit panel : Panel\n', 'unit panel : Panel\nrelay K9 : SmallRelay\n'],
  // Two of a name: which of them counts hangs on the order of the files.
  ['site.couplet', 'wire', 'resistor R1 = 3k\nwire'],
  ['north.couplet', '2k', '4k'],
  ['north.couplet', 'resistor R1 = 4k\n', ''],
  ['types.couplet', 'type SmallRelay : relay { coil', 'type SmallRelay : relay "x" { coil'],
  ['types.couplet', 'type SmallRelay', 'type TinyRelay'],
  ['types.couplet', 'type TinyRelay', 'type SmallRelay'],
  ['site.couplet', 'use "north.couplet"\n', ''],
  ['north.couplet', 'K1 : SmallRelay', 'K1 : SmallRelay "again"'],
  ['site.couplet', 'use "south', 'use "north.couplet" as N\nuse "south'],
  ['site.couplet', ' as N', ''],
  ['south.couplet', 'relay K9 : SmallRelay\nwire', 'wire'],
  ['south.couplet', 'unit panel : Panel\n', 'relay K9 : SmallRelay\nunit panel : Panel\n'],
];

/** Where every reference of every file leads, and what the files say of themselves. */
function told(desk: Desk, names: readonly string[]): string[] {
  return names.flatMap((name) => {
    const document = desk.document(name);
    const leads = document.references.map((reference) => {
      const target = 'ref' in reference ? reference.ref : undefined;
      const from = reference.$refNode?.offset;
      const to = target?.$cstNode;
      const where =
        to === undefined ? 'nowhere' : `${to.root.astNode.$document?.uri.toString()} ${to.offset} ${to.text}`;
      return `${name} ${from} ${reference.$refText} -> ${where}`;
    });
    const findings = (document.diagnostics ?? []).map(
      ({ code, message, range }) => `${name} ${JSON.stringify(range)} ${code} ${message}`,
    );
    return [...leads, ...findings].sort();
  });
}

test('after each of many edits', async () => {
  const files = { ...FILES };
  const names = Object.keys(files);
  const desk = await Desk.with(files);
  for (const [name, from, to] of EDITS) {
    const before = files[name] as string;
    expect(before, `${name}: ${from}`).toContain(from);
    files[name] = before.replace(from, to);
    await desk.write({ [name]: files[name] });
    const fresh = await Desk.with(files);
    expect(told(desk, names), `${name}: ${from} -> ${to}`).toEqual(told(fresh, names));
  }
  // What is compared is there: the site's own wire leads into the file that is used under a prefix.
  const all = told(desk, names).join('\n');
  expect(all).toMatch(new RegExp(`site\\.couplet \\d+ K9 -> ${FOLDER}south\\.couplet \\d+ K9`));
}, 60_000);
