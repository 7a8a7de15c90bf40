/**
 * `node test/bench/assemblies.ts`: a site of 400 uses of an assembly against its twin that is written out without it. Both
 * are read, checked and searched for what a rename changes, in turns and in one process; the least processor time of
 * several rounds counts. Prints the table and writes it to docs/benchmark-assemblies.md. What counts is the ratio.
 */
import { execFileSync } from 'node:child_process';
import { writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { addLibrary, type CoupletFile, createCoupletCoreServices, isComponentName, lower } from '@couplet/language';
import { judge } from '@couplet/project';
import { AstUtils, URI } from 'langium';
import { twins } from '../support/twins.ts';

const USES = Number(process.argv[2] ?? 400);
const ROUNDS = Number(process.argv[3] ?? 5);

const STAGES = ['parse', 'names and checks', 'lower', 'compute and judge', 'rename'] as const;
type Stage = (typeof STAGES)[number];

interface Measured {
  readonly milliseconds: Record<Stage, number>;
  readonly lines: number;
  readonly findings: number;
  readonly renamed: number;
}

async function measure(text: string, part: string): Promise<Measured> {
  const services = createCoupletCoreServices();
  addLibrary(services.shared);
  const { DocumentBuilder, LangiumDocumentFactory, LangiumDocuments } = services.shared.workspace;
  const milliseconds = Object.fromEntries(STAGES.map((name) => [name, 0])) as Record<Stage, number>;
  const stage = async <T>(name: Stage, work: () => T | Promise<T>): Promise<T> => {
    const start = process.cpuUsage();
    const result = await work();
    const { system, user } = process.cpuUsage(start);
    milliseconds[name] = (user + system) / 1000;
    return result;
  };
  const uri = URI.parse('memory:///site.couplet');
  const document = await stage('parse', () => LangiumDocumentFactory.fromString<CoupletFile>(text, uri));
  LangiumDocuments.addDocument(document);
  await stage('names and checks', () => DocumentBuilder.build([document], { validation: true }));
  const site = await stage('lower', () => lower([document], uri.toString()));
  const { findings } = await stage('compute and judge', () => judge(site, uri.toString(), { today: '2026-10-02' }));
  const named = AstUtils.streamAst(document.parseResult.value).find(
    (node) => isComponentName(node) && node.name === part,
  );
  if (named === undefined) throw new Error(`there is no ${part}`);
  const { References } = services.Couplet.references;
  const places = await stage('rename', () => References.findReferences(named, { includeDeclaration: true }).toArray());
  if (site.findings.length > 0 || (document.diagnostics ?? []).some(({ severity }) => severity === 1)) {
    throw new Error(`the site is not sound: ${site.findings[0]?.message ?? document.diagnostics?.[0]?.message}`);
  }
  const lines = text.split('\n').length - 1;
  return { milliseconds, lines, findings: findings.length, renamed: places.length };
}

function least(rounds: readonly Measured[]): Measured {
  const [first] = rounds;
  if (first === undefined) throw new Error('nothing was measured');
  const milliseconds = { ...first.milliseconds };
  for (const name of STAGES) milliseconds[name] = Math.min(...rounds.map((round) => round.milliseconds[name]));
  return { ...first, milliseconds };
}

const texts = twins(USES);
const all: { assemblies: Measured[]; written: Measured[] } = { assemblies: [], written: [] };
for (let round = 0; round <= ROUNDS; round++) {
  const one = await measure(texts.assemblies, 'RE');
  const other = await measure(texts.written, 'B001_RE');
  // The first round warms everything up.
  if (round === 0) continue;
  all.assemblies.push(one);
  all.written.push(other);
}
const one = least(all.assemblies);
const other = least(all.written);

const total = ({ milliseconds }: Measured) => STAGES.reduce((sum, name) => sum + milliseconds[name], 0);
const row = (name: string, mine: number, its: number) =>
  `| ${name} | ${mine.toFixed(1)} | ${its.toFixed(1)} | ${(mine / its).toFixed(2)} |`;
const table = [
  '| | assemblies, ms | written out, ms | ratio |',
  '| -- | --: | --: | --: |',
  ...STAGES.map((name) => row(name, one.milliseconds[name], other.milliseconds[name])),
  row('all', total(one), total(other)),
].join('\n');
const counts = [
  '| | assemblies | written out |',
  '| -- | --: | --: |',
  `| lines | ${one.lines} | ${other.lines} |`,
  `| findings told | ${one.findings} | ${other.findings} |`,
  `| places that a rename of one part changes | ${one.renamed} | ${other.renamed} |`,
].join('\n');

const root = join(import.meta.dirname, '..', '..');
const commit = execFileSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: root, encoding: 'utf8' }).trim();
const text = `# Assemblies and their written-out twin

Written by \`node test/bench/assemblies.ts\` on ${new Date().toISOString().slice(0, 10)} at commit ${commit}; Node ${process.version}, ${cpus().length} × ${cpus()[0]?.model.trim()}.

A site of ${USES} uses of one assembly, and the same site without it (test/support/twins.ts). test/language/twins.test.ts
holds that both come to the same design, and test/project/assemblies.test.ts that the rules find the same in both. Times are
processor time of one process, the least of ${ROUNDS} rounds in turns; a ratio below 1 says that the assemblies are the quicker.

${table}

${counts}
`;
writeFileSync(join(root, 'docs', 'benchmark-assemblies.md'), text);
console.log(`${table}\n\n${counts}`);
