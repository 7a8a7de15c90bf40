import { type ComponentOf, UNSUPPRESSED_SHARE, type Value } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { type Instant, instantsOf, lacks, worstOf } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { inductivePartsIn, isSuppressed } from '../support/suppression.ts';
import { corner, list, percent, show, when } from '../support/words.ts';

interface Data {
  readonly contact: ComponentOf<'contact'>;
  readonly value: Value;
  readonly size: number;
  readonly allowed: number;
  readonly rated: number;
  readonly at: Instant;
  /** Inductive parts without suppression that the contact switches. */
  readonly bare: readonly string[];
}

export const contactOverloaded = defineRule<Data>({
  name: 'contact-overloaded',
  thresholds: [
    {
      key: 'share',
      value: UNSUPPRESSED_SHARE,
      unit: '',
      says: 'share of the rating that is left where an inductive part has no suppression',
      origin: 'IEC 60947-5-1, d.c. inductive beside resistive duty',
      standing: 'standard from memory',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const wiring = wiringOf(context.design);
    for (const contact of ofKind(context.design, 'contact')) {
      if (!wiring.isWired(contact.a) || !wiring.isWired(contact.b)) continue;
      const amps = worst(context, contact, (at) => at.moment.amps(contact.id));
      const volts = worst(context, contact, (at) => at.moment.volts(contact.a, contact.b));
      if (amps === undefined && volts === undefined) continue;
      if (contact.rating === undefined) {
        if ((amps?.score ?? 0) > 0 && contact.alternatingRating !== undefined) {
          const reason = 'its rating at alternating volts says nothing of direct current: it needs one at direct volts';
          context.gap({ subject: contact.id, needs: [], reason });
        } else if ((amps?.score ?? 0) > 0) {
          const isUnits = context.design.components[contact.driver]?.kind === 'actuator';
          lacks(context, contact.id, isUnits ? 'rating' : 'contact-rating', contact.driver);
        }
        continue;
      }
      const bare = inductivePartsIn(context.design, contact.id).filter((id) => !isSuppressed(context.design, id));
      const share = bare.length === 0 ? 1 : context.threshold('share').value;
      const byAmps = amps !== undefined && amps.score > contact.rating.amps.least * share;
      const byVolts =
        volts !== undefined && contact.rating.volts !== undefined && volts.score > contact.rating.volts.least;
      if (!byAmps && !byVolts) continue;
      const found = byAmps ? amps : volts!;
      const rated = byAmps ? contact.rating.amps : contact.rating.volts!;
      yield {
        severity: 'error',
        origin: whereWired(context.design, contact.id, contact.a),
        subject: contact.id,
        alsoConcerns: [contact.driver, ...bare],
        caseName: found.at.of.name,
        related: [{ origin: rated.origin, message: `${contact.name} is rated ${show(rated.least, found.value.unit)}` }],
        assumptions: assumptionOf(rated),
        beyondLimits: !byAmps || bare.length === 0,
        data: {
          contact,
          value: found.value,
          size: found.score,
          allowed: rated.least * (byAmps ? share : 1),
          rated: rated.least,
          at: found.at,
          bare: byAmps ? bare.map((id) => nameOf(context.design, id)) : [],
        },
      };
    }
  },
  word({ data, subject }, context) {
    const { value, size, allowed, rated, at, bare } = data;
    const name = nameOf(context.design, subject);
    if (value.unit === 'V') {
      return (
        `${name} must break ${show(size, 'V')} ${when(at)}${corner(value.mostCorner)}, more than the ` +
        `${show(rated, 'V')} it is rated for: the arc may not go out. Take a contact rated for at least ${show(size, 'V')}.`
      );
    }
    const carries = `${name} carries ${show(size, 'A')} ${when(at)}${corner(value.mostCorner)}`;
    if (bare.length === 0) {
      return (
        `${carries}, ${percent(size / rated)} of the ${show(rated, 'A')} it is rated for: it may weld. ` +
        `Take a contact rated for at least ${show(size, 'A')}, or let a stronger relay follow.`
      );
    }
    return (
      `${carries}. With ${list(bare)} unsuppressed it may carry ${show(allowed, 'A')}, ${percent(allowed / rated)} of ` +
      `its ${show(rated, 'A')}: each opening draws an arc, and the contact burns or welds. Suppress ${list(bare)}, or ` +
      `take a contact rated for at least ${show((size * rated) / allowed, 'A')}.`
    );
  },
  figures: ({ data }) => [
    {
      label: `${data.value.unit === 'V' ? 'volts across' : 'current through'} ${data.contact.name}`,
      figure: data.value,
    },
  ],
});

function worst(
  context: RuleContext,
  contact: ComponentOf<'contact'>,
  pick: (at: Instant) => ReturnType<Instant['moment']['amps']>,
) {
  return worstOf(context, contact.id, instantsOf(context.analysis, contact.id), pick, (value) =>
    Math.max(Math.abs(value.least), Math.abs(value.most)),
  );
}
