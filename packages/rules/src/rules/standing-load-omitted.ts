import { componentOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { evaluated, restOf } from '../support/instants.ts';
import { percent, show } from '../support/words.ts';

interface Data {
  readonly unit: string;
  readonly declared: number;
  readonly computed: number;
}

export const standingLoadOmitted = defineRule<Data>({
  name: 'standing-load-omitted',
  thresholds: [
    {
      key: 'share',
      value: 0.05,
      unit: '',
      says: 'computed total over the declared one, less 1',
      origin: 'rounding in data sheets',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const unit of ofKind(context.design, 'unit')) {
      if (unit.standing === undefined) continue;
      let computed = 0;
      let isWhole = true;
      for (const id of unit.members) {
        const feed = componentOf(context.design, id, 'feed');
        if (feed === undefined) continue;
        const amps = evaluated(context, unit.id, rest.amps(feed.id));
        if (amps === undefined) isWhole = false;
        else computed += amps.usual;
      }
      if (!isWhole || computed <= unit.standing.usual * (1 + context.threshold('share').value)) continue;
      yield {
        severity: 'warning',
        origin: unit.standing.origin < 0 ? unit.origin : unit.standing.origin,
        subject: unit.id,
        caseName: context.analysis.cases[0]!.name,
        data: { unit: unit.name, declared: unit.standing.usual, computed },
      };
    }
  },
  word({ data }) {
    const { unit, declared, computed } = data;
    return (
      `${unit} is declared to draw ${show(declared, 'A')} standing, and draws ${show(computed, 'A')} at rest by its parts, ` +
      `${percent(computed / declared - 1)} more: something was left out of the total, and batteries sized by it are too small. Correct the total.`
    );
  },
});
