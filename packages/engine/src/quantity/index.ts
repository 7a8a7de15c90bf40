export * from './dimensions.ts';
export * from './format.ts';
export * from './iec60062.ts';
export * from './parse.ts';
export * from './signs.ts';
export * from './spread.ts';
export * from './units.ts';
