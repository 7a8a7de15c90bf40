/** What is written beside a part: its data as text, most important first. One entry a kind. */
import {
  type Component,
  type ComponentKind,
  type ComponentOf,
  type Datum,
  type Dimension,
  UNITS,
  writeQuantity,
} from '@couplet/engine';

type Values = { readonly [K in ComponentKind]: (part: ComponentOf<K>) => readonly (string | undefined)[] };

const VALUES: Values = {
  unit: () => [],
  feed: () => [],
  source: ({ ampereHours, limit, volts }) => [
    usual(volts, 'V'),
    usual(ampereHours, 'Ah'),
    prefixed('limit', limit, 'A'),
  ],
  common: () => [],
  terminal: () => [],
  joint: () => [],
  output: () => [],
  input: () => [],
  zone: () => [],
  contact: () => [],
  actuator: () => [],
  switch: () => [],
  relay: ({ ohms, rated, timer }) => [
    usual(rated, 'V'),
    usual(ohms, 'ohm'),
    timer === undefined ? undefined : [timer.function.word, usual(timer.time, 's')].filter(Boolean).join(' '),
  ],
  resistor: ({ ohms, tolerance }) => [
    ohms === undefined
      ? undefined
      : `${usual(ohms, 'ohm')}${tolerance === undefined ? '' : ` ±${written(tolerance, 'ratio')}`}`,
  ],
  capacitor: ({ farads }) => [usual(farads, 'F')],
  diode: ({ clamps, rated }) => [prefixed('clamps', clamps, 'V'), usual(rated, 'A')],
  fuse: ({ rated, speed }) => [usual(rated, 'A'), speed?.word],
  arrester: ({ clamps, ohms }) => [prefixed('clamps', clamps, 'V'), usual(ohms, 'ohm')],
  load: ({ rating }) => {
    if (rating === undefined) return [];
    if (rating.sort === 'ohms') return [usual(rating.ohms, 'ohm')];
    const size = rating.sort === 'amps' ? usual(rating.amps, 'A') : usual(rating.watts, 'W');
    return [rating.atVolts === undefined ? size : `${size} at ${usual(rating.atVolts, 'V')}`];
  },
  cable: ({ length, section }) => [usual(length, 'm'), usual(section, 'mm2')],
  core: () => [],
  confirm: () => [],
};

/** Texts of the data that are given. */
export function valuesOf(part: Component): readonly string[] {
  const values = VALUES[part.kind] as (part: Component) => readonly (string | undefined)[];
  return values(part).filter((text): text is string => text !== undefined && text !== '');
}

function usual(datum: Datum | undefined, dimension: Dimension): string | undefined {
  return datum === undefined || !Number.isFinite(datum.usual) ? undefined : written(datum.usual, dimension);
}

/** As a site file has it ('4k7', '0.22 mm²'), with the sign of the unit where it has one. */
function written(value: number, dimension: Dimension): string {
  const text = writeQuantity(value, dimension);
  const symbol = text.split(' ').at(1);
  const sign = UNITS.find((unit) => unit.symbol === symbol && unit.dimension === dimension)?.sign;
  return symbol === undefined || sign === undefined ? text : `${text.slice(0, -symbol.length)}${sign}`;
}

function prefixed(word: string, datum: Datum | undefined, dimension: Dimension): string | undefined {
  const text = usual(datum, dimension);
  return text === undefined ? undefined : `${word} ${text}`;
}
