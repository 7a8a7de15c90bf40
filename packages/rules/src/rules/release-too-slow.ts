import {
  assumedInductance,
  builtInSuppression,
  type ComponentOf,
  coilDecay,
  ranged,
  releaseLevel,
  type Suppression,
  type SwitchedCoil,
  type Value,
} from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { ambientOf } from '../support/coil.ts';
import { mostSize } from '../support/coil-volts.ts';
import { instantsOf, lacks, worstOf } from '../support/instants.ts';
import { diodesAcross } from '../support/suppression.ts';
import { show, spread } from '../support/words.ts';

type Coil = ComponentOf<'relay'> | ComponentOf<'load'>;

interface Data {
  readonly coil: Coil;
  readonly seconds: Value;
  readonly budget: number;
}

/** A lock, valve or other magnet may take as many times longer than a relay. Common practice, no source. */
const LOCKS_TAKE = 10;

/** A magnet lets go at about this share of the least volts that it works at; the language's default for `off-below`. */
const LETS_GO = 0.1;

export const releaseTooSlow = defineRule<Data>({
  name: 'release-too-slow',
  thresholds: [
    {
      key: 'warning',
      value: 0.05,
      unit: 's',
      says: 'time by which suppression lengthens the release of a relay; of a lock or another magnet ten times as much',
      origin: 'common practice, no source',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const limit = context.threshold('warning').value;
    const relays = ofKind(context.design, 'relay').filter(({ timer }) => timer === undefined);
    for (const coil of [...relays, ...ofKind(context.design, 'load')]) {
      const seconds = decayOf(context, coil);
      const budget = coil.kind === 'relay' ? limit : LOCKS_TAKE * limit;
      if (seconds === undefined || !(seconds.most > budget)) continue;
      const related = (coil.suppressor?.origin ?? -1) < 0 ? [] : [coil.suppressor!.origin];
      yield {
        severity: 'warning',
        origin: coil.origin,
        subject: coil.id,
        related: related.map((origin) => ({ origin, message: `the suppression of ${coil.name}` })),
        data: { coil, seconds, budget },
      };
    }
  },
  word({ data }) {
    const { coil, seconds, budget } = data;
    return (
      `Its suppression lets the current of ${coil.name} die away in ${spread(seconds)} before it lets go, ` +
      `beyond ${show(budget, 's')}: contacts that open so slowly wear, and what hangs on them comes late. ` +
      `A zener in series with the diode, or a varistor, is quicker at the price of more volts at the switch.`
    );
  },
  figures: ({ data }) => [{ label: 'decay', figure: data.seconds }],
});

/** Seconds by which suppression delays the release; nothing where nothing suppresses, or the part is no coil. */
function decayOf(context: RuleContext, coil: Coil): Value | undefined {
  const suppressions = suppressionsOf(context, coil);
  if (suppressions === undefined || suppressions.length === 0) return undefined;
  const volts = worstOf(
    context,
    coil.id,
    instantsOf(context.analysis, coil.id),
    ({ moment }) => (coil.kind === 'relay' ? moment.volts(coil.coil.a, coil.coil.b) : moment.volts(coil.a, coil.b)),
    mostSize,
  );
  if (volts === undefined || !(mostSize(volts.value) > 0)) return undefined;
  const switched = switchedOf(context, coil, volts.value);
  if (switched === undefined) return undefined;
  const level = levelOf(context, coil, switched);
  if (level === undefined) return undefined;
  const decay = coilDecay(switched, suppressions, level);
  if (decay.sort === 'decay') return decay.seconds;
  context.gap({ subject: coil.id, needs: [], reason: decay.reason });
  return undefined;
}

/** Built in and right across it; undefined where a datum of it is missing. */
function suppressionsOf(context: RuleContext, coil: Coil): readonly Suppression[] | undefined {
  const built = coil.suppressor === undefined ? [] : builtInSuppression(coil.suppressor, coil.name);
  if ('lacks' in built) {
    lacks(context, coil.id, 'suppressor');
    return undefined;
  }
  const fitted = diodesAcross(context.design, coil.id).flatMap((id): readonly Suppression[] => {
    const diode = context.design.components[id];
    return diode?.kind === 'diode' ? [{ sort: 'diode', drop: ranged(diode.name, 'V', diode.drop) }] : [];
  });
  return [...built, ...fitted];
}

function switchedOf(context: RuleContext, coil: Coil, volts: Value): SwitchedCoil | undefined {
  const { name } = coil;
  const ohms = coil.kind === 'relay' ? coil.ohms : ohmsOf(coil);
  if (ohms === undefined) return undefined;
  const rated = coil.kind === 'relay' ? coil.rated?.usual : undefined;
  const henries =
    coil.inductance === undefined
      ? rated === undefined
        ? undefined
        : assumedInductance(name, rated, ohms.usual)
      : ranged(`${name} inductance`, 'H', coil.inductance);
  if (henries === undefined) return undefined;
  const ambient = coil.kind === 'relay' ? ambientOf(context, coil) : undefined;
  const { least, usual, most } = volts;
  const sizes = usual < 0 ? { least: -most, usual: -usual, most: -least } : { least, usual, most };
  return {
    name,
    ohms: ranged(`${name} coil`, 'ohm', ohms),
    celsius: ranged(`${name} coil`, 'degC', ambient ?? { least: 20, usual: 20, most: 20 }),
    henries,
    volts: ranged(`${name} volts`, 'V', { ...sizes, least: Math.max(0, sizes.least) }),
  };
}

function ohmsOf({ rating }: ComponentOf<'load'>) {
  if (rating === undefined) return undefined;
  if (rating.sort === 'ohms') return rating.ohms;
  if (rating.atVolts === undefined) return undefined;
  const { least, usual, most } = rating.atVolts;
  if (rating.sort === 'amps') {
    const { amps } = rating;
    return { least: least / amps.most, usual: usual / amps.usual, most: most / amps.least };
  }
  const { watts } = rating;
  return { least: least ** 2 / watts.most, usual: usual ** 2 / watts.usual, most: most ** 2 / watts.least };
}

function levelOf(context: RuleContext, coil: Coil, { volts }: SwitchedCoil) {
  if (coil.kind === 'relay') {
    if (coil.releases !== undefined) return releaseLevel(coil.name, coil.releases, coil.holds, volts);
    lacks(context, coil.id, 'releases');
    return undefined;
  }
  if (coil.works === undefined) {
    lacks(context, coil.id, 'works');
    return undefined;
  }
  const level = coil.offBelow?.usual ?? LETS_GO * coil.works.least;
  const assumption =
    coil.offBelow === undefined ? `${coil.name} lets go at a tenth of the least volts that it works at` : '';
  const spreadOut = { least: level, usual: level, most: level };
  return ranged(`${coil.name} lets go`, 'V', assumption === '' ? spreadOut : { ...spreadOut, assumption });
}
