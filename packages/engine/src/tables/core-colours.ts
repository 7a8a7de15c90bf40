/** Letter codes of core colours. */
import type { Provenance } from './provenance.ts';

export const CORE_COLOUR_PROVENANCE: Provenance = {
  source: 'IEC 60757, code for designation of colours',
  status: 'confirmed',
};

/** In the order of the standard, in which the letters of a core of two colours follow each other. */
export const CORE_COLOURS: readonly { readonly code: string; readonly colour: string }[] = [
  { code: 'BK', colour: 'black' },
  { code: 'BN', colour: 'brown' },
  { code: 'RD', colour: 'red' },
  { code: 'OG', colour: 'orange' },
  { code: 'YE', colour: 'yellow' },
  { code: 'GN', colour: 'green' },
  { code: 'BU', colour: 'blue' },
  { code: 'VT', colour: 'violet' },
  { code: 'GY', colour: 'grey' },
  { code: 'WH', colour: 'white' },
  { code: 'PK', colour: 'pink' },
  { code: 'GD', colour: 'gold' },
  { code: 'TQ', colour: 'turquoise' },
  { code: 'SR', colour: 'silver' },
];

/** The green-and-yellow of protective conductors: one colour of its own, not a core of two colours. */
export const PROTECTIVE_COLOUR = { code: 'GNYE', colour: 'green-yellow' } as const;

/**
 * The colour or colours of a code in words: `GN` green, `RDBU` red-blue, `GNYE` green-yellow. Undefined for what is no
 * such code, as a core may have any name.
 */
export function coreColour(code: string): string | undefined {
  if (code === PROTECTIVE_COLOUR.code) return PROTECTIVE_COLOUR.colour;
  if (!/^(?:[A-Z]{2}){1,2}$/.test(code)) return undefined;
  const words = (code.match(/../g) ?? []).map((letters) => CORE_COLOURS.find((row) => row.code === letters)?.colour);
  return words.includes(undefined) ? undefined : words.join('-');
}

/**
 * The core colours of alarm cable by the number of its cores.
 * Source: BS 4737 cable as listed on a secondary page.
 */
export const ALARM_CABLE_CORES: Readonly<Record<number, readonly string[]>> = {
  4: ['RD', 'BK', 'YE', 'BU'],
  6: ['RD', 'BK', 'YE', 'BU', 'GN', 'WH'],
  8: ['RD', 'BK', 'YE', 'BU', 'GN', 'WH', 'OG', 'BN'],
  12: ['RD', 'BK', 'YE', 'BU', 'GN', 'WH', 'OG', 'BN', 'TQ', 'GY', 'VT', 'PK'],
};
