import { ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { byOrigin } from '../support/group.ts';
import { isConnected } from '../support/place.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly names: readonly string[];
}

export const resetStateUndeclared = defineRule<Data>({
  name: 'reset-state-undeclared',
  thresholds: [],
  explains: [],
  *find({ design }) {
    const open = [...ofKind(design, 'output')].filter(
      (output) => output.atPowerUp === undefined && isConnected(design, output.id),
    );
    for (const group of byOrigin(open)) {
      yield {
        severity: 'warning',
        origin: group[0].origin,
        subject: group[0].id,
        alsoConcerns: group.slice(1).map((output) => output.id),
        data: { names: group.map((output) => output.name) },
      };
    }
  },
  word({ data }) {
    const names = listSome(data.names);
    return (
      `Nothing says how ${names} stands at power-up, at reset and when a link is lost. A load may come on by itself then, ` +
      `or a held relay drop. Look it up in the data of the unit, or try it, and write \`at-power-up: off\` (on, unchanged, undefined).`
    );
  },
});
