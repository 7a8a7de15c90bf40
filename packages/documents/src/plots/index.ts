/** Plots as SVG, from the data of `../drawing/contract.ts`. */
export { bandChartSvg } from './band-chart.ts';
export { runtimeSvg } from './runtime.ts';
export { timeLineSvg } from './time-line.ts';
