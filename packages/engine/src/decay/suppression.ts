/** The ways in which the current of a coil may die away after its switch has opened, as given data. */
import type { Suppressor } from '../design/components.ts';
import { type Ranged, ranged } from './extremes.ts';

/**
 * Suppression across a coil, conducting from A2 to A1, built in or fitted; `switch-clamp` lies across the switch.
 * Volts V, ohms Ω, farads F. A zener has its diode in series; a varistor holds its volts at any current.
 */
export type Suppression =
  | { readonly sort: 'diode'; readonly drop: Ranged; readonly slope?: Ranged }
  | { readonly sort: 'zener'; readonly volts: Ranged; readonly drop: Ranged; readonly slope?: Ranged }
  | { readonly sort: 'varistor'; readonly volts: Ranged }
  | { readonly sort: 'resistor'; readonly ohms: Ranged }
  | { readonly sort: 'rc'; readonly ohms: Ranged; readonly farads: Ranged }
  | { readonly sort: 'switch-clamp'; readonly volts: Ranged };

/** Forward volts of a suppression diode over the currents of small coils. Common practice, no source. */
const DIODE_DROP = { least: 0.6, usual: 0.7, most: 1 };

/** An element of resistor and capacitor whose values nobody gives. Common practice, no source. */
const RC_OHMS = { least: 47, usual: 100, most: 220 };
const RC_FARADS = { least: 47e-9, usual: 100e-9, most: 470e-9 };

/** The drop that is assumed of a suppression diode of which nothing is said, V. */
export function assumedDrop(name: string): Ranged {
  const assumption = `suppression diode of ${name} taken to drop 0.7 V (0.6 V .. 1 V; common practice, no source)`;
  return ranged(`${name} diode drop`, 'V', { ...DIODE_DROP, assumption });
}

/**
 * What is built into a coil: nothing for `none`; a word for what it lacks ('the volts of its zener') where it cannot be
 * judged.
 */
export function builtInSuppression(
  built: Suppressor,
  name: string,
): readonly Suppression[] | { readonly lacks: string } {
  if (built.sort === 'none') return [];
  if (built.sort === 'diode') return [{ sort: 'diode', drop: assumedDrop(name) }];
  if (built.sort === 'rc') {
    const assumption = `rc element of ${name} taken as 100 Ω (47 Ω .. 220 Ω) and 100 nF (47 nF .. 470 nF; common practice, no source)`;
    return [
      {
        sort: 'rc',
        ohms: ranged(`${name} rc ohms`, 'ohm', { ...RC_OHMS, assumption }),
        farads: ranged(`${name} rc farads`, 'F', { ...RC_FARADS, assumption }),
      },
    ];
  }
  if (built.volts === undefined) return { lacks: `the volts of its ${built.sort}` };
  const volts = ranged(`${name} ${built.sort}`, 'V', built.volts);
  if (built.sort === 'zener') return [{ sort: 'zener', volts, drop: assumedDrop(name) }];
  return [{ sort: 'varistor', volts: held(volts, name) }];
}

function held(volts: Ranged, name: string): Ranged {
  const clause = `varistor of ${name} taken to hold its volts at any current`;
  return { ...volts, assumption: volts.assumption === undefined ? clause : `${volts.assumption}; ${clause}` };
}
