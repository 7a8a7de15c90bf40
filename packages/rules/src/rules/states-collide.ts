import type { Zone } from '@couplet/engine';
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
    for (const zone of wiredZones(context)) {
      // What cases expect of the zone, by the class that it reads as there.
      const byReading = new Map<
        string,
        { readonly caseName: string; readonly word: string; readonly origin: number }[]
      >();
      for (const one of context.analysis.cases) {
        for (const { expect, found } of one.verdicts) {
          if (expect.subject.sort !== 'component' || expect.subject.component !== zone.id) continue;
          if (expect.predicate.sort !== 'state' || expect.predicate.word === 'any' || expect.times !== undefined)
            continue;
          const reads = found.states?.[0];
          // An alarm that does not come at all, or a state that is not certain, is for the rules on those.
          if (reads === undefined || found.states?.length !== 1 || reads === NORMAL || expect.predicate.word === NORMAL)
            continue;
          const entry = { caseName: one.name, word: expect.predicate.word, origin: expect.origin };
          byReading.set(reads, [...(byReading.get(reads) ?? []), entry]);
        }
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
