/**
 * One measurement in a process of its own: `node test/bench/measure.ts COUPLINGS FILES` prints one line of JSON with the
 * seconds of each stage and the largest resident memory. Stages follow the way of the data.
 */
import { resourceUsage } from 'node:process';
import { analyse } from '@couplet/engine';
import { addLibrary, type CoupletFile, createCoupletCoreServices, lower } from '@couplet/language';
import { run } from '@couplet/rules';
import { URI } from 'langium';
import { generateSite } from './generate.ts';

const couplings = Number(process.argv[2]);
const fileCount = Number(process.argv[3]);
const files = generateSite(couplings, fileCount);
const seconds: Record<string, number> = {};

async function stage<T>(name: string, work: () => T | Promise<T>): Promise<T> {
  const start = performance.now();
  const result = await work();
  seconds[name] = (performance.now() - start) / 1000;
  return result;
}

const services = createCoupletCoreServices();
addLibrary(services.shared);
const { LangiumDocumentFactory, LangiumDocuments, DocumentBuilder } = services.shared.workspace;
const uri = (name: string) => URI.parse(`memory:///bench/${name}`);

const documents = await stage('parse', () =>
  files.map((file) => LangiumDocumentFactory.fromString<CoupletFile>(file.text, uri(file.name))),
);
const main = uri('site.couplet').toString();
for (const file of files) {
  if (file.name !== 'site.couplet')
    services.Couplet.references.SiteScopes.link(main, file.name, uri(file.name).toString());
}
await stage('link', async () => {
  for (const document of documents) LangiumDocuments.addDocument(document);
  await DocumentBuilder.build(documents, { validation: true });
});
const lowered = await stage('lower', () => lower(documents, main));
const analysis = await stage('solve', () => analyse(lowered.design));
const result = await stage('check', () => run(lowered.design, analysis, { today: '2026-12-01' }));

const errors = result.findings.filter((finding) => finding.severity === 'error');
if (lowered.findings.length > 0 || errors.length > 0) {
  throw new Error(`the generated site is not sound: ${lowered.findings[0]?.message ?? errors[0]?.message}`);
}
const lines = files.reduce((sum, file) => sum + file.text.split('\n').length - 1, 0);
console.log(
  JSON.stringify({
    couplings,
    files: fileCount,
    lines,
    components: lowered.design.components.length,
    verdicts: analysis.cases.reduce((sum, each) => sum + each.verdicts.length, 0),
    seconds,
    megabytes: resourceUsage().maxRSS / 1024,
  }),
);
