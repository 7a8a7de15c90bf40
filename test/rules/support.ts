/** Sites as text, changed in one place, checked by the rules. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse, type Design } from '@couplet/engine';
import { type Finding, type RunOptions, type RunResult, run } from '@couplet/rules';
import { lowerText } from '../language/lower/site.ts';

const fixture = (name: string) => readFileSync(join(import.meta.dirname, 'fixtures', name), 'utf8');
export const TYPES = fixture('types.couplet');
export const HEALTHY = fixture('healthy.couplet');

/** The date that tests judge acceptances by. */
export const TODAY = '2026-11-01';

/** A change of text: what is replaced by what, or a line that is added at the end. */
export type Edit = readonly [from: string, to: string] | string;

/** The healthy site with changes. What shall be replaced must be there. */
export function changed(...edits: readonly Edit[]): string {
  let text = HEALTHY;
  for (const edit of edits) {
    if (typeof edit === 'string') {
      text = `${text}${edit}\n`;
      continue;
    }
    const [from, to] = edit;
    if (!text.includes(from)) throw new Error(`The site does not say: ${from}`);
    text = text.replace(from, to);
  }
  return text;
}

/** Lowers a site that uses `types.couplet`; what the language itself finds is thrown. */
export function designOf(text: string): Design {
  const lowered = lowerText({ 'site.couplet': text, 'types.couplet': TYPES });
  const [finding] = lowered.findings.filter((each) => each.severity === 'error');
  if (finding !== undefined) throw new Error(`${finding.code}: ${finding.message}`);
  return lowered.design;
}

export function check(text: string, options: Partial<RunOptions> = {}): RunResult & { readonly design: Design } {
  const design = designOf(text);
  return { design, ...run(design, analyse(design), { today: TODAY, ...options }) };
}

/** `error output-overloaded ctl.Q1`. */
export function brief(design: Design, finding: Finding): string {
  const fault = finding.fault === undefined ? '' : ` ${finding.fault}`;
  return `${finding.severity} ${finding.rule}${fault} ${design.components[finding.subject]?.name}`;
}

/** Errors and warnings of a site, in short. */
export function verdicts(text: string, options: Partial<RunOptions> = {}): readonly string[] {
  const { design, findings } = check(text, options);
  return findings.filter((finding) => finding.severity !== 'information').map((finding) => brief(design, finding));
}
