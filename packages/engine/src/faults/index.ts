export * from './contract.ts';
export { faultTable, faultTableSteps } from './table.ts';
export * from './words.ts';
