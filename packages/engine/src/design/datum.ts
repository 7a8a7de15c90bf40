/** What a design knows about one number, and where it came from. */

/**
 * An opaque mark that leads back to the place in a text where something was written.
 * The engine only hands it on; `NO_ORIGIN` marks what nobody wrote.
 */
export type Origin = number;

export const NO_ORIGIN: Origin = -1;

/** A number in SI units with its spread. `least <= usual <= most`, all finite or ±Infinity, never NaN. */
export interface Datum {
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  /** Where the author wrote it; the component's own origin when it is a default. */
  readonly origin: Origin;
  /** A clause that says what the author did not ('closed contact taken as 0.1 Ω'); absent when all of it was given. */
  readonly assumption?: string;
}

/** A datum without spread. */
export function exact(value: number, origin: Origin = NO_ORIGIN, assumption?: string): Datum {
  return assumption === undefined
    ? { least: value, usual: value, most: value, origin }
    : { least: value, usual: value, most: value, origin, assumption };
}

/** A word the author chose, with its place ('sink', 'yes', 'open'). */
export interface Choice<W extends string = string> {
  readonly word: W;
  readonly origin: Origin;
  readonly assumption?: string;
}
