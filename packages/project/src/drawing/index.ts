/**
 * Drawings and plots of a site as data.
 *
 *   contract.ts    what is handed on, as plain data
 *   couplings.ts   a site in pieces that fit on one drawing
 *   shape.ts       what is drawn of one, whatever happens
 *   figures.ts     what is written on it at one moment
 *   plots.ts       time lines, band charts, runtimes
 */
export type * from './contract.ts';
export { caseChoicesOf, couplingsOf, couplingWith, type DrawingWish, type DrawnSite, drawingOf } from './drawing.ts';
export { type BandWish, bandChartsOf, runtimeCurvesOf, timeLineOf } from './plots.ts';
