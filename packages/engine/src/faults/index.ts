export * from './contract.ts';
export { CABLE_SHARE, JOINTS_OHMS, LEADS_OHMS, METER_OHMS, METER_OPEN, meterTolerance } from './meter.ts';
export type { Point } from './predict.ts';
export { faultTable, faultTableSteps } from './table.ts';
export { AS_WRITTEN, Tracer, trace, traceSteps } from './trace.ts';
export * from './trace-contract.ts';
export * from './words.ts';
