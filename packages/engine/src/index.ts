/** The engine: plain data in, plain data out. It knows no text, no editor, no file. */
export * from './analysis/index.ts';
export * from './decay/index.ts';
export * from './design/index.ts';
export * from './faults/index.ts';
export * from './network/index.ts';
export * from './quantity/index.ts';
export * from './standby/index.ts';
export * from './tables/index.ts';
export * from './time/index.ts';
