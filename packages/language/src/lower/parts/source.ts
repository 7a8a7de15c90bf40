/** Supplies and batteries, and what a source that charges a battery gives where it does not say. */
import {
  type BatteryChemistry,
  batteryEnds,
  batteryVolts,
  cellsOf,
  chemistryOf,
  type Datum,
  exact,
  type Source,
} from '@couplet/engine';
import type { Facts } from '../facts.ts';
import type { Mutable, Site } from '../site.ts';
import type { PartBuilder } from './builder.ts';

export function buildSource(b: PartBuilder): void {
  const { facts, part, site } = b;
  const id = b.next;
  part.id = id;
  const a = b.terminal('plus', id);
  const minus = b.terminal('minus', id);
  b.noteAlternating('=', 'volts');
  const battery = part.kind === 'battery';
  b.add<Source>({
    kind: 'source',
    sort: battery ? 'battery' : 'supply',
    ...b.head(),
    a,
    b: minus,
    volts: facts.datum('volts', 'V') ?? facts.datum('=', 'V'),
    limit: facts.datum('limit') ?? (battery ? undefined : facts.datum('=', 'A')),
    ohms: facts.datum('ohms'),
    ownDraw: facts.datum('own-draw'),
    chargeLimit: facts.datum('charge-limit'),
    earthed: facts.choice('earthed'),
    ...(battery ? batteryFacts(b) : {}),
  });
  site.later.push(() => {
    const source = site.components[id] as Mutable<Source>;
    source.charges = b.thing('charges');
    source.fedBy = b.thing('fed-by');
    assumeFloat(site, source);
  });
}

function batteryFacts(b: PartBuilder) {
  const { facts, part } = b;
  const chemistry = facts.choice('chemistry');
  const row = chemistryOf(chemistry?.word ?? '');
  const volts = spanOf(facts, part.name, row);
  return {
    ...(volts === undefined ? {} : { volts }),
    ampereHours: facts.datum('=', 'Ah'),
    ratedTime: facts.datum('rated-time'),
    nominalVolts: facts.datum('=', 'V') ?? facts.datum('volts', 'V'),
    chemistry,
  };
}

/** A battery that says one number goes from its end of discharge to full, by what it is made of. */
function spanOf(facts: Facts, name: string, chemistry: BatteryChemistry | undefined): Datum | undefined {
  const end = facts.datum('end-volts');
  const written = facts.amount('volts', 'V') ?? facts.amount('=', 'V');
  if (written === undefined) return undefined;
  const said = facts.datumOf(written, facts.amount('volts', 'V') === undefined ? '=' : 'volts');
  if (written.form !== 'single' || chemistry === undefined) {
    if (end === undefined) return said;
    return { ...said, least: end.least, usual: Math.max(said.usual, end.least), most: Math.max(said.most, end.least) };
  }
  const { least, usual, most, assumption } = batteryVolts({
    name,
    chemistry,
    nominal: written.usual,
    ...(end === undefined ? {} : { end: end.least }),
  });
  return { least, usual, most, origin: said.origin, ...(assumption === undefined ? {} : { assumption }) };
}

/** A source that charges a battery and does not say its volts gives the float volts of that battery. */
export function assumeFloat(site: Site, source: Mutable<Source>): void {
  const battery = source.charges === undefined ? undefined : site.components[source.charges];
  if (source.volts !== undefined || battery?.kind !== 'source' || battery.nominalVolts === undefined) return;
  const chemistry = chemistryOf(battery.chemistry?.word ?? '');
  if (chemistry === undefined) return;
  const cells = cellsOf(chemistry, battery.nominalVolts.usual);
  const { float } = batteryEnds({ name: battery.name, chemistry, cells });
  source.volts = exact(float.usual, source.origin, float.assumption);
}
