export * from './capacitor.ts';
export * from './coil-decay.ts';
export {
  type Direction,
  extremesOf,
  type Formula,
  fixed,
  type NotEvaluated,
  notEvaluated,
  type Ranged,
  ranged,
} from './extremes.ts';
export * from './first-order.ts';
export * from './inductance.ts';
export * from './law.ts';
export * from './operate.ts';
export * from './release.ts';
export * from './ring.ts';
export * from './suppression.ts';
