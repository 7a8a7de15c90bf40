/** What goes to site and into the file: pure functions of a design and what was computed of it. */

export * from './drawing/index.ts';
export * from './plots/index.ts';
export * from './sheet/csv.ts';
export * from './sheet/html.ts';
export * from './sheet/markdown.ts';
export * from './sheet/model.ts';
export * from './sheet/sheet.ts';
