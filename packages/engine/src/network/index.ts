/** Networks of two-terminal laws and their operating points: numbers only, no components. */
export type * from './contract.ts';
export { deliverableWatts, solve, solvePoint } from './solve.ts';
