export * from './element.ts';
export * from './layout.ts';
export * from './model.ts';
export * from './parameters.ts';
