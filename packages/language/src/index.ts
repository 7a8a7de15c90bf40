/**
 * From text to names and values. See `module.ts` for the services, `generated/ast.ts` for the shape of a parsed file.
 */
export * from './generated/ast.ts';
export { CoupletGeneratedModule, CoupletGeneratedSharedModule } from './generated/module.ts';
export type * from './lower/contract.ts';
export * from './module.ts';
