/** What readings say, as data: numbers SI, `null` as an end without limit. */
import type { FaultSpread, Trace } from '@couplet/engine';
import manifest from '../../package.json' with { type: 'json' };
import { JSON_FORMAT, written } from './json.ts';
import { type SiteTraces, whatOf } from './trace-text.ts';

export function jsonTraces({ title, file, traces }: SiteTraces): string {
  return written({ format: JSON_FORMAT, version: manifest.version, title, file, traces: traces.map(traceJson) });
}

function traceJson(trace: Trace) {
  const { candidates, next, readings, unexplained } = trace;
  return {
    readings: readings.map(({ allowed, class: name, predicted, reading, ...verdicts }) => ({
      case: reading.case,
      what: whatOf(trace, reading),
      value: reading.value,
      ...(predicted === undefined ? {} : { predicted: spreadJson(predicted) }),
      ...(allowed === undefined ? {} : { allowed: { least: finite(allowed.least), most: finite(allowed.most) } }),
      ...(name === undefined ? {} : { class: name }),
      ...verdicts,
    })),
    unexplained,
    candidates: candidates.map(({ fault, fits, group, name, weight }) => ({
      name,
      ...(fault === undefined ? {} : { word: fault.word, group: fault.group }),
      weight,
      readsLike: group,
      readings: fits.map(({ fits: isFit, off, predicted }) => ({
        fits: isFit,
        off,
        ...(predicted === undefined ? {} : { predicted: spreadJson(predicted) }),
      })),
    })),
    ...(next === undefined
      ? {}
      : {
          next: {
            case: next.case,
            what: next.what,
            outcomes: next.outcomes.map((outcome) => ({
              ...spreadJson(outcome.spread),
              candidates: outcome.candidates.map((index) => candidates[index]?.name ?? ''),
            })),
          },
        }),
  };
}

function spreadJson({ least, most, usual }: FaultSpread) {
  return { least: finite(least), usual: finite(usual), most: finite(most) };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
