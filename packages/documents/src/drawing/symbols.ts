/**
 * Symbols after IEC 60617 (forms from memory), as paths on a grid: a part lies along the x axis from 0 to `LENGTH`, its
 * first terminal at 0. One entry a symbol; contacts have one picture a position.
 */
import type { SymbolName } from './contract.ts';

export interface Stroke {
  readonly d: string;
  /** 'line' unless given; 'solid' is filled with the colour of lines, 'paper' with that of the ground. */
  readonly fill?: 'solid' | 'paper';
  readonly dashed?: true;
}

export type Position = 'open' | 'closed' | 'undecided';

export interface SymbolArt {
  /** px above and below the axis. */
  readonly half: number;
  readonly strokes: readonly Stroke[];
}

/** px from terminal to terminal. */
export const LENGTH = 60;

/** px between the throws of a changeover contact and its axis. */
export const THROW = 16;

const lead = (from: number, to: number): Stroke => ({ d: `M${from} 0H${to}` });
const box = (x: number, width: number, half: number): Stroke => ({
  d: `M${x} ${-half}h${width}v${2 * half}h${-width}z`,
  fill: 'paper',
});
const ring = (x: number, radius: number, fill: 'solid' | 'paper' = 'paper'): Stroke => ({
  d: `M${x - radius} 0a${radius} ${radius} 0 1 0 ${2 * radius} 0a${radius} ${radius} 0 1 0 ${-2 * radius} 0z`,
  fill,
});
const coilBox = [lead(0, 20), lead(40, 60), box(20, 20, 18)];

/** What stays the same whatever state a part is in. */
export const SYMBOLS: { readonly [S in SymbolName]: SymbolArt } = {
  unit: { half: 0, strokes: [] },
  block: { half: 0, strokes: [] },
  cable: { half: 0, strokes: [] },
  // 02-02-01 general box with the sign of direct current, 02-02-04.
  supply: {
    half: 16,
    strokes: [lead(0, 14), lead(46, 60), box(14, 32, 16), { d: 'M25 -8v16M31 -8v4M31 -2v4M31 4v4' }],
  },
  // 06-15-01: the longer line is plus.
  battery: {
    half: 14,
    strokes: [
      lead(0, 22),
      lead(38, 60),
      { d: 'M22 -13v26M33 -13v26' },
      { d: 'M26 -6h2.5v12h-2.5zM35.5 -6h2.5v12h-2.5z', fill: 'solid' },
      { d: 'M28 0h5', dashed: true },
    ],
  },
  // 02-15-01.
  earth: { half: 12, strokes: [{ d: 'M0 0v8M-11 8h22M-7 13h14M-3 18h6' }] },
  joint: { half: 4, strokes: [ring(0, 3.5, 'solid')] },
  terminal: { half: 4, strokes: [ring(0, 3.5)] },
  // 07-15-01.
  coil: { half: 18, strokes: coilBox },
  // 07-15-14, remanent.
  'latching-coil': { half: 18, strokes: [...coilBox, { d: 'M35 -18v36' }, { d: 'M35 -18h5v36h-5z', fill: 'solid' }] },
  // 07-15-08, slow to operate.
  'timer-coil': { half: 18, strokes: [...coilBox, { d: 'M20 8h20M20 8l20 10M40 8l-20 10' }] },
  make: { half: 14, strokes: [lead(0, 18), lead(42, 60), ring(42, 1.5, 'solid')] },
  break: { half: 14, strokes: [lead(0, 18), lead(42, 60), { d: 'M18 0v-10' }, ring(42, 1.5, 'solid')] },
  // 07-02-04; the common at the end, the throws at the beginning.
  changeover: {
    half: THROW + 4,
    strokes: [lead(42, 60), ring(42, 1.5, 'solid'), { d: `M0 ${-THROW}H18v10` }, { d: `M0 ${THROW}H18` }],
  },
  // 04-01-01.
  resistor: { half: 6, strokes: [lead(0, 14), lead(46, 60), box(14, 32, 6)] },
  // 04-02-01.
  capacitor: { half: 12, strokes: [lead(0, 27), lead(33, 60), { d: 'M27 -11v22M33 -11v22' }] },
  // 05-03-01.
  diode: { half: 10, strokes: [lead(0, 60), { d: 'M21 -9v18L38 0z', fill: 'paper' }, { d: 'M38 -9v18' }] },
  // 05-03-06, breakdown in one direction.
  zener: { half: 10, strokes: [lead(0, 60), { d: 'M21 -9v18L38 0z', fill: 'paper' }, { d: 'M33 -9h5v18' }] },
  // 07-21-01.
  fuse: { half: 6, strokes: [box(14, 32, 6), lead(0, 60)] },
  // 07-22-03.
  arrester: {
    half: 8,
    strokes: [
      lead(0, 14),
      lead(46, 60),
      box(14, 32, 8),
      { d: 'M14 0h8M46 0h-8' },
      { d: 'M28 0l-7 -4v8zM32 0l7 -4v8z', fill: 'solid' },
    ],
  },
  load: { half: 13, strokes: [lead(0, 14), lead(46, 60), box(14, 32, 13), { d: 'M18 -9h24M18 9h24' }] },
  // 08-10-01.
  lamp: {
    half: 13,
    strokes: [lead(0, 17), lead(43, 60), ring(30, 13), { d: 'M20.8 -9.2l18.4 18.4M20.8 9.2l18.4 -18.4' }],
  },
  // 08-10-06, as a bell.
  sounder: { half: 13, strokes: [lead(0, 24), lead(37, 60), { d: 'M24 -13a13 13 0 0 1 0 26z', fill: 'paper' }] },
};

/** The moving blade of a contact with one throw; it turns about the end of its second terminal. */
export const BLADES: { readonly [S in 'make' | 'break']: { readonly [P in Position]: readonly Stroke[] } } = {
  make: {
    open: [{ d: 'M42 0L19 -13' }],
    closed: [{ d: 'M42 0L17 0' }, ring(18, 1.5, 'solid')],
    undecided: [{ d: 'M42 0L18 -6', dashed: true }],
  },
  break: {
    open: [{ d: 'M42 0L21 -19' }],
    closed: [{ d: 'M42 0L15 -8' }],
    undecided: [{ d: 'M42 0L17 -14', dashed: true }],
  },
};

/** The blade of a changeover contact: towards the throw that is closed, or between both. */
export const CHANGEOVER_BLADES = {
  first: { d: `M42 0L15 ${-THROW + 9}` },
  second: { d: `M42 0L15 ${THROW}` },
  undecided: { d: 'M42 0L17 0', dashed: true },
} as const satisfies Readonly<Record<string, Stroke>>;

/** Across a contact with the delay of a timer, 07-05-01: a parachute at the blade. */
export const LATE: Stroke = { d: 'M29 -4v14M33 -3v13M24 10a7.5 7.5 0 0 0 14 0' };

/** Below a contact that is worked by hand or by the world, 02-13-01. */
export const BY_HAND: Stroke = { d: 'M30 -5v-14M26 -19h8', dashed: true };
