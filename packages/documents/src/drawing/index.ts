/**
 * Drawings of couplings as SVG.
 *
 *   contract.ts   what is drawn, as plain data
 */
export type * from './contract.ts';
