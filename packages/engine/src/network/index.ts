export type * from './contract.ts';
export { solve } from './solve.ts';
