/** What is said of a part of each kind at a moment: one table, for hovers and whatever shows figures beside the text. */
import type { Component, Figure, Moment, TerminalId } from '@couplet/engine';

export interface Column {
  /** Head of the column: 'volts', 'volts A1 to A2'. */
  readonly title: string;
  figure(moment: Moment): Figure;
}

export interface Told {
  /** Whether its states are worth a column. */
  readonly states: boolean;
  readonly columns: readonly Column[];
  /** What its demand is held against: the rating or limit in amperes, and its word. */
  readonly against?: { readonly word: string; readonly amps: number };
}

type Tell<K extends Component['kind']> = (part: Extract<Component, { kind: K }>) => Told;

const volts = (a: TerminalId, b: TerminalId, title = 'volts'): Column => ({
  title,
  figure: (moment) => moment.volts(a, b),
});
const amps = (part: Component): Column => ({ title: 'amperes', figure: (moment) => moment.amps(part.id) });
const watts = (part: Component): Column => ({ title: 'watts', figure: (moment) => moment.watts(part.id) });

const twoEnds = (part: Component & { a: TerminalId; b: TerminalId }): Told => ({
  states: false,
  columns: [volts(part.a, part.b), amps(part), watts(part)],
});

/** Kinds without an entry have no figures of their own. */
const TELL: { readonly [K in Component['kind']]?: Tell<K> } = {
  zone: (part) => ({
    states: true,
    columns: [
      { title: 'ohms', figure: (moment) => moment.reading(part.id).ohms },
      { title: 'volts', figure: (moment) => moment.reading(part.id).volts },
    ],
  }),
  input: (part) => ({ states: true, columns: [volts(part.a, part.b), amps(part)] }),
  output: (part) => ({
    states: true,
    columns: [amps(part), ...(part.returns === undefined ? [] : [volts(part.a, part.returns, 'volts to its return')])],
    ...(part.rated === undefined ? {} : { against: { word: 'rated', amps: part.rated.least } }),
  }),
  source: (part) => ({
    states: false,
    columns: [volts(part.a, part.b), amps(part)],
    ...(part.limit === undefined ? {} : { against: { word: 'limit', amps: part.limit.least } }),
  }),
  feed: (part) => ({ states: false, columns: [volts(part.a, part.b), amps(part)] }),
  relay: (part) => ({
    states: true,
    columns:
      part.secondCoil === undefined
        ? [volts(part.coil.a, part.coil.b), amps(part)]
        : [
            volts(part.coil.a, part.coil.b, 'volts A1 to A2'),
            volts(part.secondCoil.a, part.secondCoil.b, 'volts B1 to B2'),
            amps(part),
          ],
  }),
  load: (part) => ({ ...twoEnds(part), states: true }),
  switch: () => ({ states: true, columns: [] }),
  actuator: () => ({ states: true, columns: [] }),
  contact: twoEnds,
  resistor: twoEnds,
  diode: twoEnds,
  fuse: twoEnds,
  arrester: twoEnds,
  capacitor: (part) => ({ states: false, columns: [volts(part.a, part.b)] }),
  core: (part) => ({ states: false, columns: [volts(part.a, part.b, 'volts dropped'), amps(part)] }),
};

/** What to say of a part, or nothing where its kind has no figures. */
export function toldOf(part: Component): Told | undefined {
  return (TELL[part.kind] as Tell<Component['kind']> | undefined)?.(part as never);
}
