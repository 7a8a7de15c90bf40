import type { Moment, Value } from '@couplet/engine';
import { defineRule, levels } from '../define.ts';
import { type CableCure, cureByCable, sayCable } from '../support/cable.ts';
import type { Instant } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { corner, percent, show, when } from '../support/words.ts';
import { extremeVolts, type Fed, fedParts, sourceBehind, worksOf } from '../support/working-range.ts';

interface Data {
  readonly part: Fed;
  readonly volts: Value;
  readonly works: number;
  readonly at: Instant;
  readonly cable: CableCure;
  readonly source?: { readonly name: string; readonly least: number };
}

export const loadUndervoltage = defineRule<Data>({
  name: 'load-undervoltage',
  thresholds: levels(
    {
      value: 0,
      unit: '',
      says: 'volts over the least that the load works at, less 1',
      origin: 'data of the load',
      standing: 'physics',
      settable: false,
    },
    {
      value: 0.03,
      unit: '',
      says: 'margin above the least volts',
      origin: 'spread of meters and terminals',
      standing: 'common practice',
      settable: true,
    },
  ),
  explains: ['reading-outside-band', 'expectation-failed', 'rest-inverted'],
  reach: 'downstream',
  *find(context) {
    for (const part of fedParts(context)) {
      const worst = extremeVolts(context, part, (value) => -value.least);
      if (worst === undefined || worst.value.most <= 0) continue;
      const works = worksOf(context, part);
      if (works === undefined || works.least <= 0) continue;
      const margin = worst.value.least / works.least - 1;
      if (margin >= Math.max(context.threshold('error').value, context.threshold('warning').value)) continue;
      const isError = margin < context.threshold('error').value;
      const wanted = works.least * (1 + (isError ? 0 : context.threshold('warning').value));
      const reaches = (least: number) => (moment: Moment) => {
        const volts = moment.volts(part.a, part.b);
        return volts.sort === 'value' && volts.least >= least;
      };
      const clear = works.least * (1 + context.threshold('warning').value);
      const source = sourceBehind(context, part);
      yield {
        severity: isError ? 'error' : 'warning',
        origin: whereWired(context.design, part.id),
        subject: part.id,
        caseName: worst.at.of.name,
        related:
          part.works === undefined
            ? []
            : [{ origin: part.works.origin, message: `${part.name} works from ${show(works.least, 'V')}` }],
        data: {
          part,
          volts: worst.value,
          works: works.least,
          at: worst.at,
          cable: cureByCable(context, worst.at.moment, part.id, reaches(wanted), reaches(clear)),
          source,
        },
      };
    }
  },
  word({ data, severity }) {
    const { part, volts, works, at, cable, source } = data;
    const got = `${part.name} gets ${show(volts.least, 'V')} at least ${when(at)}${corner(volts.leastCorner)}`;
    const lacking = works - volts.least;
    const needs =
      severity === 'error'
        ? `${show(lacking, 'V')} less than the ${show(works, 'V')} it works from. It may stay dark, silent or shut.`
        : `only ${percent(volts.least / works - 1)} above the ${show(works, 'V')} it works from.`;
    const supply =
      source === undefined || lacking <= 0
        ? 'it takes a supply with a higher least voltage'
        : `it takes about ${show(source.least + lacking, 'V')} at least from ${source.name} (it gives ${show(source.least, 'V')})`;
    return `${got}, ${needs} ${sayCable(cable, `${supply}, or a load that works from ${show(volts.least, 'V')}.`)}`;
  },
  figures: ({ data }) => [{ label: `volts at ${data.part.name}`, figure: data.volts }],
  cures: ({ data }) => (data.cable.sort === 'section' ? data.cable.cures : []),
});
