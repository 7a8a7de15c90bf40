import { ASSUMED_MINIMUM_LOAD, type ComponentOf, type Figure, type Value } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, worstOf } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { corner, show, when } from '../support/words.ts';

interface Data {
  readonly contact: ComponentOf<'contact'>;
  readonly value: Value;
  readonly least: number;
  readonly wanted: number;
  readonly at: Instant;
}

export const contactBelowMinimumLoad = defineRule<Data>({
  name: 'contact-below-minimum-load',
  thresholds: [
    {
      key: 'share',
      value: 1,
      unit: '',
      says: 'current or open volts over the minimum of the contact',
      origin: 'IEC 61810-1 contact categories; of a contact that does not say: silver, 5 V 10 mA',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const wiring = wiringOf(context.design);
    for (const contact of ofKind(context.design, 'contact')) {
      if (!wiring.isWired(contact.a) || !wiring.isWired(contact.b)) continue;
      const share = context.threshold('share').value;
      const declared = contact.minimumLoad;
      const minimum = {
        amps: declared?.amps.most ?? ASSUMED_MINIMUM_LOAD.amps,
        volts: declared === undefined ? ASSUMED_MINIMUM_LOAD.volts : declared.volts?.most,
      };
      // What the contact carries in the state in which it carries most: leakage through others is not its work.
      const closed = bestOf(contact, 'closed', (at) => at.moment.amps(contact.id));
      const open = bestOf(contact, 'open', (at) => at.moment.volts(contact.a, contact.b));
      if (closed === undefined || Math.max(Math.abs(closed.value.least), Math.abs(closed.value.most)) <= NOTHING)
        continue;
      const amps = sizeOf(closed.value);
      const volts = open === undefined ? undefined : sizeOf(open.value);
      // A contact that no case opens under volts leaves its open volts unknown: only the current is judged.
      const lowAmps = amps < minimum.amps * share;
      const lowVolts =
        minimum.volts !== undefined && volts !== undefined && volts > NOTHING && volts < minimum.volts * share;
      if (!lowAmps && !lowVolts) continue;
      const found = lowAmps ? closed : open!;
      const silver = `contacts of ${context.design.components[contact.driver]?.name ?? contact.name} are silver and need ${show(minimum.amps, 'A')} at ${show(minimum.volts ?? 0, 'V')}`;
      yield {
        severity: 'warning',
        origin: whereWired(context.design, contact.id, contact.a),
        subject: contact.id,
        alsoConcerns: [contact.driver],
        caseName: found.at.of.name,
        related:
          declared === undefined
            ? []
            : [{ origin: declared.amps.origin, message: `${contact.name} needs ${show(minimum.amps, 'A')} at least` }],
        assumptions: declared === undefined ? [silver] : assumptionOf(declared.amps),
        data: {
          contact,
          value: found.value,
          least: lowAmps ? amps : volts!,
          wanted: lowAmps ? minimum.amps : minimum.volts!,
          at: found.at,
        },
      };
    }

    /** The greatest of a figure over the moments at which the contact certainly is in a state. */
    function bestOf(contact: ComponentOf<'contact'>, state: string, pick: (at: Instant) => Figure) {
      const instants = instantsOf(context.analysis, contact.id).filter((at) =>
        isOnly(at.moment.states(contact.id), state),
      );
      return worstOf(context, contact.id, instants, pick, sizeOf);
    }
  },
  word({ data }) {
    const { contact, value, least, wanted, at } = data;
    const unit = value.unit;
    const carries = unit === 'A' ? 'carries' : 'opens at';
    return (
      `${contact.name} ${carries} ${show(least, unit)} at least ${when(at)}${corner(value.leastCorner)}, below the ` +
      `${show(wanted, unit)} it needs: a film grows on it, and one day it stays open although it is closed. ` +
      `Take a relay with gold contacts for small loads, and declare its minimum-load.`
    );
  },
  figures: ({ data }) => [
    {
      label: `${data.value.unit === 'V' ? 'open volts of' : 'current through'} ${data.contact.name}`,
      figure: data.value,
    },
  ],
});

/** Amperes, or volts, below which nothing is there that anybody meant. */
const NOTHING = 1e-9;

function sizeOf(value: Value): number {
  if (value.least <= 0 && value.most >= 0) return 0;
  return Math.min(Math.abs(value.least), Math.abs(value.most));
}

function isOnly(states: readonly string[], word: string): boolean {
  return states.length === 1 && states[0] === word;
}
