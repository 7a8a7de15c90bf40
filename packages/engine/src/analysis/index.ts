export { analyse, analyseSteps } from './analyse.ts';
export * from './contract.ts';
