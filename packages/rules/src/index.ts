/** The rules: one file a rule, the registry of all of them, and the run that turns results into findings. */
export * from './catalogue.ts';
export { type Wiring, wiringOf } from './circuit/wiring.ts';
export { type Explained, explanationOrder } from './explain.ts';
export { type Judgement, judgementSteps } from './judgement.ts';
export {
  dimensionsOfThreshold,
  type ThresholdInForce,
  thresholdsInForce,
  thresholdText,
} from './limits.ts';
export * from './registry.ts';
export * from './rule.ts';
export * from './run.ts';
export { expectationWords, foundWords } from './support/expectation.ts';
export { faultClassesOf, faultsOf, solveAllFaults, solveFaults } from './support/faults.ts';
export { reasonUncomputed } from './uncomputed.ts';
