/** Where words go: standard output and standard error of a process, or strings in a test. */

export interface Terminal {
  out(text: string): void;
  err(text: string): void;
  /** Absolute path that paths are read from and shown against. */
  readonly folder: string;
  readonly paint: Paint;
  /** True where somebody watches: progress may be shown on standard error. */
  readonly watched: boolean;
}

export type Shade = 'bold' | 'dim' | 'red' | 'yellow' | 'blue' | 'green';

/** Colours a text, or hands it back as it is. */
export type Paint = (shade: Shade, text: string) => string;

/** ECMA-48 'select graphic rendition' codes: on and off. */
const CODES: Readonly<Record<Shade, readonly [on: number, off: number]>> = {
  bold: [1, 22],
  dim: [2, 22],
  red: [31, 39],
  yellow: [33, 39],
  blue: [34, 39],
  green: [32, 39],
};

export const plain: Paint = (_shade, text) => text;

export const coloured: Paint = (shade, text) => {
  const [on, off] = CODES[shade];
  return `\u001b[${on}m${text}\u001b[${off}m`;
};

/** Colours only on a terminal that shows them, and never against the reader's wish (NO_COLOR set to anything). */
export function paintFor(isTerminal: boolean, environment: Readonly<Record<string, string | undefined>>): Paint {
  const wanted = isTerminal && !environment.NO_COLOR && environment.TERM !== 'dumb';
  return wanted ? coloured : plain;
}
