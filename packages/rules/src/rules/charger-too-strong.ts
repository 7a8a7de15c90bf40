import type { ComponentOf, Recharge } from '@couplet/engine';
import { ranged, recharge } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { whereWired } from '../support/place.ts';
import { batteries, chargingOf } from '../support/standby.ts';
import { list, show } from '../support/words.ts';

interface Data {
  readonly battery: ComponentOf<'source'>;
  readonly chargers: readonly string[];
  readonly found: Recharge;
  readonly strongest: number;
  /** Set where it is charged in frost that it does not bear. */
  readonly frost?: string;
}

/** The time that charging takes does not matter here. */
const ANY_TIME = ranged('any time', 's', { least: 1, usual: 1, most: 1 });

export const chargerTooStrong = defineRule<Data>({
  name: 'charger-too-strong',
  thresholds: [
    {
      key: 'strongest',
      value: 0.25,
      unit: '',
      says: 'charging current in amperes for each ampere-hour',
      origin: 'EN 50131-6',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    for (const battery of batteries(context)) {
      const charging = chargingOf(context, battery);
      if (charging === undefined) continue;
      const strongest = context.threshold('strongest').value;
      const { chargerAmps, chargers } = charging;
      const found = recharge({ battery: charging.battery, chargerAmps, seconds: ANY_TIME, strongest });
      if (!found.tooStrong && found.frost === undefined) continue;
      const [charger] = chargers;
      const capacity = battery.ampereHours!;
      yield {
        severity: found.tooStrong ? 'error' : 'warning',
        origin: whereWired(context.design, charger!),
        subject: charger!,
        alsoConcerns: [battery.id, ...chargers],
        related: [{ origin: capacity.origin, message: `${battery.name} holds ${show(capacity.least, 'Ah')}` }],
        assumptions: chargerAmps.assumption === undefined ? [] : [chargerAmps.assumption],
        data: {
          battery,
          chargers: chargers.map((id) => nameOf(context.design, id)),
          found,
          strongest,
          ...(found.tooStrong ? {} : { frost: found.frost! }),
        },
      };
    }
  },
  word({ data }) {
    const { battery, chargers, found, frost, strongest } = data;
    if (frost !== undefined) {
      return `${frost}: ${list(chargers)} would spoil it. Heat its place, or take a battery that bears the cold.`;
    }
    const { chargerAmps, strongestAmps } = found;
    return (
      `${list(chargers)} may push ${show(chargerAmps.most, 'A')} into ${battery.name}, more than the ${show(strongestAmps.least, 'A')} that it ` +
      `bears (${strongest} A for each Ah): it gasses, dries out and swells. Say the charger's \`charge-limit\`, or take one that limits ` +
      `to ${show(strongestAmps.least, 'A')}, or a battery of at least ${show(chargerAmps.most / strongest, 'Ah')}.`
    );
  },
  figures: ({ data }) => [
    { label: `charging current that ${data.battery.name} bears`, figure: data.found.strongestAmps },
  ],
});
