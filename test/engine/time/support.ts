/** What the time lines of a case say, in short, and the parts that the tests here are made of. */
import { type Analysis, analyse, type CaseAnalysis, type Design, type Track } from '@couplet/engine';
import { atMost, datum } from '../../support/data.ts';
import type { SiteBuilder } from '../../support/site.ts';

/** A relay of 12 V that needs exactly 8 V, without temperature: operates in 6 ms and releases in 4 ms at most. */
export const COIL = {
  rated: datum(12),
  ohms: datum(400),
  operates: datum(8),
  releases: datum(1.2),
  rise: datum(0),
  operateTime: atMost(0.006),
  releaseTime: atMost(0.004),
} as const;

/** Times without spread, for lines that are worked out by hand. */
export const EXACT = { ...COIL, operateTime: datum(0.006), releaseTime: datum(0.004) } as const;

export const BANDS = [
  ['normal', undefined, 4000],
  ['alarm', 4000, 9000],
  ['open', 9000, undefined],
] as const;

/** `0.006: operated`, `0.494 .. 0.504: released`; the beginning without a time. */
export function lineOf(site: SiteBuilder, one: CaseAnalysis, part: string, what?: Track['what']): readonly string[] {
  const id = site.id(part);
  const track = one.timeline.find((each) => each.component === id && (what ?? each.what) === each.what);
  return (track?.points ?? []).map(({ time, states }, i) => {
    const text = states.join(' or ');
    if (i === 0) return text;
    const [least, most] = [round(time.least), round(time.most)];
    return least === most ? `${least}: ${text}` : `${least} .. ${most}: ${text}`;
  });
}

export function round(seconds: number): number {
  return Number(seconds.toPrecision(9));
}

export function caseOf(analysis: Analysis, name: string): CaseAnalysis {
  const found = analysis.cases.find((each) => each.name === name);
  if (found === undefined) throw new Error(`There is no case ${name}`);
  return found;
}

/** Verdicts of the case `it`. */
export function verdictsOf(design: Design): readonly (boolean | 'not-evaluated')[] {
  return caseOf(analyse(design), 'it').verdicts.map(({ holds }) => holds);
}
