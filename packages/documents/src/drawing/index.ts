/**
 * Drawings of couplings as SVG.
 *
 *   contract.ts   what is drawn, as plain data
 *   sides.ts      which way parts lie
 *   symbols.ts    the symbols, as paths
 *   boxes.ts      the room that each node takes
 *   graph.ts      the graph that is laid out, layout.ts its layout
 *   svg.ts        the drawing at one moment
 */
export type * from './contract.ts';
export { type DrawingLayout, layoutOf } from './layout.ts';
export { type Colour, PALETTE, styleOf, type Theme } from './style.ts';
export { svgOf } from './svg.ts';
