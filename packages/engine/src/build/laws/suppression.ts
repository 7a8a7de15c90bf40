/** Suppression that is built into a coil or a load: from its minus side to its plus side. */
import type { Suppressor } from '../../design/components.ts';
import { type Answer, OPEN } from '../element.ts';
import { blocking } from './passive.ts';

/** Forward drop of a small silicon diode; common practice. */
const SILICON_DROP = 0.7;

/**
 * The law from minus to plus. It conducts steadily only where the part is fed the wrong way round, and there the
 * finding is the direction, not the digits; an rc member carries no direct current.
 */
export function suppressionLaw(suppressor: Suppressor): Answer {
  const law = LAWS[suppressor.sort];
  return law(suppressor.volts?.usual);
}

const LAWS: Record<Suppressor['sort'], (volts: number | undefined) => Answer> = {
  none: () => OPEN,
  rc: () => OPEN,
  diode: () => clamp(SILICON_DROP),
  zener: (volts) => clamp(SILICON_DROP + (volts ?? 0)),
  varistor: (volts) => {
    if (volts === undefined) return OPEN;
    const curve = {
      points: [
        [-volts, 0],
        [volts, 0],
      ],
      before: [0, 1],
      after: [0, 1],
    } as const;
    return { sort: 'law', parameters: [], aligned: true, shape: () => ({ sort: 'curve', curve }), assumptions: [] };
  },
};

function clamp(volts: number): Answer {
  const curve = blocking(volts, 0);
  return { sort: 'law', parameters: [], aligned: true, shape: () => ({ sort: 'curve', curve }), assumptions: [] };
}
