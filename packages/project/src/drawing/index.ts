/**
 * Drawings and plots of a site as data.
 *
 *   contract.ts   what is handed on, as plain data
 */
export type * from './contract.ts';
