export { assumedAgeing, type Battery, batteryOf, cellsOf, chemistryOf } from './battery.ts';
export * from './prospective.ts';
export * from './recharge.ts';
export * from './runtime.ts';
export { type BatterySizing, batterySizing, type CarriedCase, type SizedCase } from './sizing.ts';
export * from './standby.ts';
export * from './state-of-charge.ts';
