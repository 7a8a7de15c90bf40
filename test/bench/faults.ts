/**
 * The fault table of a generated site in a process of its own: `node test/bench/faults.ts ZONES usual|spreads` prints one
 * line of JSON. Seconds are those of the processor, memory management included.
 */
import { couplingsOf, type Design, faultTable } from '@couplet/engine';
import { addLibrary, type CoupletFile, createCoupletCoreServices, lower } from '@couplet/language';
import { URI } from 'langium';
import { faultSite } from './fault-sites.ts';

const zones = Number(process.argv[2]);
const spreads = process.argv[3] !== 'usual';
/** Moments at which a zone is settled with each fault: rest and the two cases that turn something. */
const MOMENTS = 3;
/** The coil's circuit, the beacon's and the loop. */
const ISLANDS = 3;

const services = createCoupletCoreServices();
addLibrary(services.shared);
const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;

async function designOf(count: number) {
  const uri = URI.parse(`memory:///bench/${count}/site.couplet`);
  const document = LangiumDocumentFactory.fromString<CoupletFile>(faultSite(count), uri);
  LangiumDocuments.addDocument(document);
  await DocumentBuilder.build([document], { validation: false });
  const { design, findings } = lower([document], uri.toString());
  if (findings.length > 0) throw new Error(`the generated site is not sound: ${findings[0]!.message}`);
  return design;
}

/** Coupling by coupling, as a check has it: what was found of one is let go before the next. */
function tables(design: Design) {
  const sums = { faults: 0, variants: 0, cells: 0, blind: 0 };
  for (const coupling of couplingsOf(design)) {
    const table = faultTable(coupling.toDesign(), { spreads });
    sums.faults += table.faults.length;
    for (const { variants } of table.faults) sums.variants += variants.length;
    for (const { rows, columns } of table.zones) sums.cells += rows.length * (1 + columns.length);
    sums.blind += table.blindService.length;
  }
  return sums;
}

const warm = await designOf(100);
for (let round = 0; round < 10; round++) tables(warm);
const design = await designOf(zones);
const before = process.cpuUsage();
const { faults, variants, cells, blind } = tables(design);
const { user, system } = process.cpuUsage(before);

if (blind !== 3 * zones) throw new Error(`${blind} faults are blind`);
const solves = variants * MOMENTS * ISLANDS;
console.log(JSON.stringify({ zones, spreads, faults, cells, solves, seconds: (user + system) / 1e6 }));
