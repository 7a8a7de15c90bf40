import type { Component, ComponentId, Datum, Design, Origin } from '@couplet/engine';
import { feedingOf } from '../circuit/feeding.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { show } from '../support/words.ts';

interface Data {
  readonly name: string;
  readonly volts: number;
  readonly isAlternating: boolean;
  readonly limit: number;
}

export const voltageAboveElv = defineRule<Data>({
  name: 'voltage-above-elv',
  thresholds: [
    {
      key: 'direct',
      value: 120,
      unit: 'V',
      says: 'most volts, ripple-free d.c.',
      origin: 'IEC 61140; IEC 60364-4-41',
      standing: 'standard',
      settable: false,
    },
    {
      key: 'alternating',
      value: 50,
      unit: 'V',
      says: 'most volts a.c.',
      origin: 'IEC 61140; IEC 60364-4-41',
      standing: 'standard',
      settable: false,
    },
  ],
  explains: [],
  *find(context) {
    for (const component of context.design.components) {
      if (isFedAbove(context.design, component, context.threshold('direct').value)) continue;
      for (const found of voltagesOf(component)) {
        const limit = context.threshold(found.isAlternating ? 'alternating' : 'direct').value;
        if (found.volts <= limit) continue;
        yield {
          severity: 'error',
          origin: found.origin < 0 ? component.origin : found.origin,
          subject: component.id,
          alsoConcerns: driverOf(component),
          data: { name: component.name, volts: found.volts, isAlternating: found.isAlternating, limit },
        };
      }
    }
  },
  word({ data }) {
    const { name, volts, isAlternating, limit } = data;
    const kind = isAlternating ? 'a.c.' : 'd.c.';
    return (
      `${name} has ${show(volts, 'V')} ${kind}, above the ${show(limit, 'V')} ${kind} where extra-low voltage ends. ` +
      `Nothing here may be relied on for it: local wiring rules govern it, and a licensed person does it. ` +
      `Keep it out of this coupling, or bring its signal in through a listed interface that is made for it.`
    );
  },
});

function driverOf(component: Component): readonly ComponentId[] {
  return component.kind === 'contact' ? [component.driver] : [];
}

/** A load or coil that is fitting for its supply: the supply is the mistake, and is told. */
function isFedAbove(design: Design, component: Component, limit: number): boolean {
  if (component.kind !== 'load' && component.kind !== 'relay') return false;
  return wiringOf(design)
    .partsOf(component.id)
    .map((part) => feedingOf(design).sourcesOf(part))
    .flatMap(({ forward, backward }) => [...forward, ...backward])
    .some((id) => {
      const source = design.components[id];
      return source?.kind === 'source' && (source.volts?.most ?? 0) > limit;
    });
}

interface Found {
  readonly volts: number;
  readonly isAlternating: boolean;
  readonly origin: Origin;
}

/** Volts that a component gives, is rated for or carries, as declared. */
function voltagesOf(component: Component): readonly Found[] {
  switch (component.kind) {
    case 'source':
      return direct(component.volts);
    case 'zone':
    case 'input':
      return direct(component.feedVolts);
    case 'relay':
      return direct(component.rated);
    case 'load':
      return component.rating?.sort === 'amps' || component.rating?.sort === 'watts'
        ? direct(component.rating.atVolts)
        : [];
    case 'contact':
      return component.carries === undefined
        ? []
        : [
            {
              volts: component.carries.volts,
              isAlternating: component.carries.alternating,
              origin: component.carries.origin,
            },
          ];
    default:
      return [];
  }
}

function direct(datum: Datum | undefined): readonly Found[] {
  return datum === undefined ? [] : [{ volts: datum.most, isAlternating: false, origin: datum.origin }];
}
