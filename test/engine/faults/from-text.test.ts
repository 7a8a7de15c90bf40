/** The table against random sites with each fault written into their text and computed from the beginning. */
import { analyse, type Design, type FaultCell, faultTable, type ZoneReading } from '@couplet/engine';
import { addLibrary, type CoupletFile, createCoupletCoreServices, lower } from '@couplet/language';
import fc from 'fast-check';
import { URI } from 'langium';
import { describe, expect, it } from 'vitest';
import { generator } from '../../support/random.ts';
import '../../support/seed.ts';
import { randomText, written, writtenWith } from './random-texts.ts';

const services = createCoupletCoreServices();
addLibrary(services.shared);

let texts = 0;

async function designOf(text: string): Promise<Design> {
  const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
  const uri = URI.parse(`memory:///random/${++texts}/site.couplet`);
  const document = LangiumDocumentFactory.fromString<CoupletFile>(text, uri);
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: true });
  const errors = (document.diagnostics ?? []).filter(({ severity }) => severity === 1);
  expect(
    errors.map(({ message }) => message),
    text,
  ).toEqual([]);
  const { design, findings } = lower([document], uri.toString());
  expect(
    findings.filter(({ severity }) => severity === 'error').map(({ message }) => message),
    text,
  ).toEqual([]);
  LangiumDocuments.deleteDocument(uri);
  return design;
}

function isClose(one: number, other: number): boolean {
  return one === other || Math.abs(one - other) <= 1e-9 * Math.max(Math.abs(one), Math.abs(other));
}

function differences(cell: FaultCell, reading: ZoneReading, usualOnly: boolean): readonly string[] {
  const found: string[] = [];
  for (const name of ['ohms', 'volts'] as const) {
    const figure = reading[name];
    const spread = cell[name];
    if (figure.sort !== 'value' || spread === undefined) {
      found.push(...((figure.sort === 'value') === (spread !== undefined) ? [] : [`${name}: ${figure.sort}`]));
      continue;
    }
    for (const end of usualOnly ? (['usual'] as const) : (['least', 'usual', 'most'] as const)) {
      if (!isClose(spread[end], figure[end])) found.push(`${name} ${end}: ${spread[end]} and not ${figure[end]}`);
    }
  }
  const own = usualOnly ? cell.usual : [...cell.possible].sort().join();
  const theirs = usualOnly ? reading.usual : [...reading.possible].sort().join();
  return own === theirs ? found : [...found, `${own} and not ${theirs}`];
}

describe('the fault table of a text', () => {
  it('equals the text with each fault written into it, for random sites', async () => {
    let compared = 0;
    const words = new Set<string>();
    await fc.assert(
      fc.asyncProperty(fc.integer({ min: 1, max: 1e9 }), async (seed) => {
        const site = randomText(generator(seed));
        const table = faultTable(await designOf(written(site)));
        const mistakes: string[] = [];
        for (const { zone, columns, rows } of table.zones) {
          const name = table.design.components[zone]!.name;
          for (const row of rows) {
            const text = writtenWith(site, table, row.fault, row.variant);
            if (text === undefined) continue;
            const design = await designOf(text);
            const id = design.components.find((part) => part.name === name)!.id;
            const { cases } = analyse(design);
            [row.rest, ...row.cells].forEach((cell, i) => {
              if (cell.reason === 'announced at rest') return;
              const wanted = i === 0 ? 'rest' : columns[i - 1]!.name;
              const moments = cases.find((one) => one.name === wanted)!.moments;
              const found = differences(cell, moments.at(-1)!.reading(id), row.usualOnly);
              for (const what of found)
                mistakes.push(`${row.fault.name} ${row.variant.where ?? ''}, ${wanted}: ${what}`);
              compared++;
              words.add(row.fault.word);
            });
          }
        }
        expect(mistakes, written(site)).toEqual([]);
      }),
      { numRuns: 6 },
    );
    expect(compared).toBeGreaterThan(200);
    expect(words.size).toBeGreaterThan(12);
  }, 900_000);
});
