export * from './cases.ts';
export * from './components.ts';
export * from './couplings.ts';
export * from './datum.ts';
export * from './design.ts';
export * from './earth.ts';
export * from './references.ts';
