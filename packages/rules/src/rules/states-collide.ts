import type { Analysis, ComponentId, Verdict, Zone } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { NORMAL, wiredZones } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly reads: string;
  readonly wanted: readonly { readonly caseName: string; readonly word: string }[];
}

export const statesCollide = defineRule<Data>({
  name: 'states-collide',
  thresholds: [],
  explains: ['expectation-failed'],
  *find(context) {
    const verdicts = verdictsByZone(context.analysis);
    for (const zone of wiredZones(context)) {
      // What cases expect of the zone, by the class that it reads as there.
      const byReading = new Map<
        string,
        { readonly caseName: string; readonly word: string; readonly origin: number }[]
      >();
      for (const { caseName, expect, found } of verdicts.get(zone.id) ?? []) {
        if (expect.predicate.sort !== 'state' || expect.predicate.word === 'any' || expect.times !== undefined)
          continue;
        const reads = found.states?.[0];
        // An alarm that does not come at all, or a state that is not certain, is for the rules on those.
        if (reads === undefined || found.states?.length !== 1 || reads === NORMAL || expect.predicate.word === NORMAL)
          continue;
        const entry = { caseName, word: expect.predicate.word, origin: expect.origin };
        byReading.set(reads, [...(byReading.get(reads) ?? []), entry]);
      }
      for (const [reads, wanted] of byReading) {
        // A single answer that fails is the rule on expectations; two answers that one reading cannot give is this one.
        const words = new Set(wanted.map((entry) => entry.word));
        if (words.size < 2 || !words.has(reads)) continue;
        const failing = wanted.filter((entry) => entry.word !== reads);
        const meeting = wanted.find((entry) => entry.word === reads)!;
        yield {
          severity: 'error',
          origin: whereWired(context.design, zone.id, zone.a),
          subject: zone.id,
          caseName: failing[0]!.caseName,
          related: wanted.map((entry) => ({
            origin: entry.origin,
            message: `case ${entry.caseName} expects ${entry.word}`,
          })),
          data: { zone, reads, wanted: [meeting, ...failing] },
        };
        break;
      }
    }
  },
  word({ data }) {
    const { zone, reads, wanted } = data;
    const cases = list(wanted.map((entry) => `${entry.caseName} (${entry.word})`));
    return (
      `${zone.name} reads ${reads} in ${cases}: states that need different answers look alike to the panel. ` +
      `Give one of them another resistance: a resistor across its contact, or a place outside the other's resistor.`
    );
  },
});

/** What is expected of each component, in the order of the cases. */
function verdictsByZone(
  analysis: Analysis,
): ReadonlyMap<ComponentId, readonly (Verdict & { readonly caseName: string })[]> {
  const found = new Map<ComponentId, (Verdict & { readonly caseName: string })[]>();
  for (const one of analysis.cases) {
    for (const verdict of one.verdicts) {
      const { subject } = verdict.expect;
      if (subject.sort !== 'component') continue;
      const entry = { ...verdict, caseName: one.name };
      const known = found.get(subject.component);
      if (known === undefined) found.set(subject.component, [entry]);
      else known.push(entry);
    }
  }
  return found;
}
