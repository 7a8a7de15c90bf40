/**
 * One measurement in a process of its own: `node test/bench/measure.ts COUPLINGS FILES` prints one line of JSON with the
 * seconds of each stage and the largest resident memory. Stages follow the way of the data.
 */
import { resourceUsage } from 'node:process';
import { analyseSteps, couplingsOf, type Design } from '@couplet/engine';
import { CouplingMemory, judge } from '@couplet/project';
import { gather, judgementSteps, solveFaults } from '@couplet/rules';
import { lowered } from './lowered.ts';

const couplings = Number(process.argv[2]);
const fileCount = Number(process.argv[3]);
/** Processor seconds of each stage: other work on the machine is not in them. */
const seconds: Record<string, number> = {};

function spent(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1e6;
}

async function stage<T>(name: string, work: () => T | Promise<T>): Promise<T> {
  const start = spent();
  const result = await work();
  seconds[name] = spent() - start;
  return result;
}

const { files, lowered: site } = await lowered(couplings, fileCount, stage);
const options = { today: '2026-12-01' };
const memory = new CouplingMemory();
/** Work is told apart by what is asked of the processor between two moments. */
const pieces: Record<string, number> = { solve: 0, faults: 0, rules: 0 };
function timed<T>(piece: string, steps: Generator<void, T>): T {
  const start = spent();
  for (;;) {
    const step = steps.next();
    if (!step.done) continue;
    pieces[piece]! += spent() - start;
    return step.value;
  }
}
const cut = await stage('cut', () => couplingsOf(site.design));
const judged = cut.map((coupling) => {
  const design = coupling.toDesign();
  const analysis = timed('solve', analyseSteps(design));
  timed('faults', solveFaults(design));
  const judgement = timed('rules', judgementSteps(design, analysis, options.today));
  return { coupling, judgement };
});
Object.assign(seconds, pieces);
const result = await stage('gather', () => gather(site.design, judged, options));
if (process.argv.includes('--again')) {
  await stage('first', () => judge(site, 'memory:///bench/site.couplet', { ...options, memory }));
  memory.passed();
  await stage('changed', () =>
    judge({ ...site, design: changed(site.design) }, 'memory:///bench/site.couplet', { ...options, memory }),
  );
}

const errors = result.findings.filter((finding) => finding.severity === 'error');
if (site.findings.length > 0 || errors.length > 0) {
  throw new Error(`the generated site is not sound: ${site.findings[0]?.message ?? errors[0]?.message}`);
}
const lines = files.reduce((sum, file) => sum + file.text.split('\n').length - 1, 0);
console.log(
  JSON.stringify({
    couplings,
    files: fileCount,
    lines,
    components: site.design.components.length,
    seconds,
    megabytes: resourceUsage().maxRSS / 1024,
  }),
);

/** One resistor of another value. */
function changed(design: Design): Design {
  const at = design.components.findIndex((part) => part.kind === 'resistor' && part.name === 'RE7');
  const components = design.components.map((part, id) => {
    if (id !== at || part.kind !== 'resistor' || part.ohms === undefined) return part;
    const { ohms } = part;
    return { ...part, ohms: { ...ohms, least: ohms.least * 1.1, usual: ohms.usual * 1.1, most: ohms.most * 1.1 } };
  });
  return { ...design, components };
}
