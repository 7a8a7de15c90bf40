/** Pictures of what the server tells, as SVG texts, and the style sheet that they share. */
import type { BandChart, Drawing, DrawingFigures, RuntimeCurve, TimeLine } from '@couplet/documents';
import { bandChartSvg, layoutOf, runtimeSvg, styleOf, svgOf, timeLineSvg } from '@couplet/documents';

/** Pictures come without a style of their own: the page's policy allows none in them. */
const BARE = { style: false };

export const PICTURE_STYLE = styleOf();

/** The layout is made here and kept by its shape: another case or figure does not move anything. */
export async function drawingText(drawing: Drawing, { figures }: { readonly figures: boolean }): Promise<string> {
  const layout = await layoutOf(drawing.shape);
  return svgOf(figures ? drawing : { ...drawing, figures: withoutFigures(drawing.figures) }, layout, BARE);
}

/** Contacts still stand as they do. */
function withoutFigures({ nodes }: DrawingFigures): DrawingFigures {
  const bare = Object.entries(nodes).map(([id, { closed }]) => [id, { states: [], figures: [], closed }] as const);
  return { nodes: Object.fromEntries(bare), members: {}, wires: {} };
}

export function timeLineText(line: TimeLine): string {
  return timeLineSvg(line, BARE);
}

export function bandsText(chart: BandChart): string {
  return bandChartSvg(chart, BARE);
}

export function runtimeText(curve: RuntimeCurve): string {
  return runtimeSvg(curve, BARE);
}
