/** Lowering after linking: what the linker and the checks tell is not told again, in assemblies neither. */
import { addLibrary, type CoupletFile, createCoupletCoreServices, lower } from '@couplet/language';
import { type LangiumDocument, URI } from 'langium';
import { describe, expect, test } from 'vitest';
import { example, SITES } from './examples.ts';
import { findingsOf } from './site.ts';

async function linked(files: Readonly<Record<string, string>>) {
  const { shared, Couplet } = createCoupletCoreServices();
  addLibrary(shared);
  const documents = Object.entries(files).map(([name, text]) =>
    shared.workspace.LangiumDocumentFactory.fromString<CoupletFile>(text, URI.parse(`file:///w/${name}`)),
  );
  for (const document of documents) shared.workspace.LangiumDocuments.addDocument(document);
  await shared.workspace.DocumentBuilder.build(documents, { validation: true });
  const lowered = lower(documents, `file:///w/${Object.keys(files)[0]}`, Couplet.references.SiteScopes.parsed);
  return { lowered: findingsOf(lowered), told: documents.flatMap(told) };
}

function told({ diagnostics }: LangiumDocument): string[] {
  return (diagnostics ?? []).map(({ code, range }) => `${code} ${range.start.line + 1}:${range.start.character + 1}`);
}

test.each(SITES)('%s has no finding of the language', async (site) => {
  expect(await linked(example(site))).toEqual({ lowered: [], told: [] });
});

describe('a wrong name is told by the linker alone', () => {
  test.each([
    ['joint X\nwire X -- Y', 'name-unknown 2:11'],
    ['relay K { contacts: make }\njoint X\nwire X -- K.31', 'name-unknown 3:13'],
    ['relay K { contacts: make }\njoint X\nwire X -- K.11-14 -- X', 'name-unknown 3:13'],
    [
      'cable W { cores: GN  size: 1 mm2  length: 1 m  from: A  to: B }\nplace A\nplace B\njoint X in A\nwire X -- W.RD',
      'name-unknown 5:13',
    ],
    ['joint X in nowhere', 'name-unknown 1:12'],
    ['resistor R = LIM', 'name-unknown 1:14'],
    ['case a {\n  turn Q1 on\n}', 'name-unknown 2:8'],
    ['spare K1.12', 'name-unknown 1:7'],
  ])('%s', async (text, expected) => {
    const { lowered, told } = await linked({ 'a.couplet': text });
    expect(lowered).toEqual([]);
    expect(told.length).toBeGreaterThan(0);
    expect(told[0]).toBe(expected);
  });
});
