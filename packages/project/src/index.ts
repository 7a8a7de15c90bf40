/** One or many sites from their files to their findings. It knows no file system and no editor. */
export type { Figure } from '@couplet/engine';
export { type Formatted, format, type TextPlace } from '@couplet/language';
export * from './check.ts';
export * from './decode.ts';
export * from './figures.ts';
export * from './finding.ts';
export * from './fixes/fix-all.ts';
export * from './fixes/prove.ts';
export { applyEdits, type TextEdit } from './fixes/texts.ts';
export * from './head.ts';
export * from './judge.ts';
export * from './linked.ts';
export * from './merge.ts';
export * from './pace.ts';
export * from './reader.ts';
export * from './sites.ts';
export * from './sources.ts';
export * from './supply-figures.ts';
