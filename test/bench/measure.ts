/**
 * One measurement in a process of its own: `node test/bench/measure.ts COUPLINGS FILES` prints one line of JSON with the
 * seconds of each stage and the largest resident memory. Stages follow the way of the data.
 */
import { resourceUsage } from 'node:process';
import { analyse } from '@couplet/engine';
import { run } from '@couplet/rules';
import { lowered } from './lowered.ts';

const couplings = Number(process.argv[2]);
const fileCount = Number(process.argv[3]);
const seconds: Record<string, number> = {};

async function stage<T>(name: string, work: () => T | Promise<T>): Promise<T> {
  const start = performance.now();
  const result = await work();
  seconds[name] = (performance.now() - start) / 1000;
  return result;
}

const { files, lowered: site } = await lowered(couplings, fileCount, stage);
const analysis = await stage('solve', () => analyse(site.design));
const result = await stage('check', () => run(site.design, analysis, { today: '2026-12-01' }));

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
    verdicts: analysis.cases.reduce((sum, each) => sum + each.verdicts.length, 0),
    seconds,
    megabytes: resourceUsage().maxRSS / 1024,
  }),
);
