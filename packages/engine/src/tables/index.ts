export * from './awg.ts';
export * from './copper.ts';
