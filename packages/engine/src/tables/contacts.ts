/** What contacts need to stay clean, and what inductive loads leave of their rating. */
import type { Provenance } from './provenance.ts';

export interface MinimumLoad {
  readonly contact: string;
  /** Least open-circuit volts; absent where the source names none. */
  readonly volts?: number;
  /** Least closed current, amperes. */
  readonly amps: number;
  readonly provenance: Provenance;
}

const RELAY_PAGE = 'data page of a plug-in relay (novapart.co, C4 series)';

export const MINIMUM_CONTACT_LOADS: readonly MinimumLoad[] = [
  { contact: 'silver-nickel', volts: 5, amps: 0.01, provenance: { source: RELAY_PAGE, status: 'confirmed' } },
  {
    contact: 'silver-nickel with 5 µm gold',
    volts: 5,
    amps: 0.005,
    provenance: { source: RELAY_PAGE, status: 'confirmed' },
  },
  {
    contact: 'power relay 10 A',
    amps: 0.01,
    provenance: { source: 'januselevator.com, questions on relays, no. 4', status: 'confirmed' },
  },
  {
    contact: 'silver alloy, power',
    volts: 12,
    amps: 0.4,
    provenance: { source: 'docslib.org/doc/8900786, contact protection', status: 'confirmed' },
  },
  {
    contact: 'silver, self-cleaning above',
    amps: 0.02,
    provenance: { source: 'goldrefiningwiki.com, contact points', status: 'confirmed' },
  },
  {
    contact: 'bifurcated gold',
    volts: 0.01,
    amps: 1e-5,
    provenance: { source: 'electronics.stackexchange.com/questions/214139', status: 'confirmed' },
  },
];

/** The least load of a contact of which nothing is declared: silver. */
export const ASSUMED_MINIMUM_LOAD: MinimumLoad = MINIMUM_CONTACT_LOADS[0] as MinimumLoad;

/** Share of a resistive rating that is left for an inductive load without suppression (direct current, L/R 7 ms). */
export const UNSUPPRESSED_SHARE = 0.3;

export const UNSUPPRESSED_SHARE_PROVENANCE: Provenance = {
  source: 'IEC 60947-5-1 (DC-13 beside DC-12); 30 % to 50 % of the resistive rating',
  status: 'from memory',
};

/** Ohms of a closed contact of which nothing is declared. */
export const CLOSED_CONTACT_OHMS = 0.1;

export const CLOSED_CONTACT_PROVENANCE: Provenance = {
  source: 'common practice: relays are specified at 0.05 Ω to 0.1 Ω when new',
  status: 'common practice',
};
