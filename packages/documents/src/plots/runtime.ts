/** How long a battery lasts: seconds against amperes on logarithmic scales, with what it shall carry. */
import { formatFigure } from '@couplet/engine';
import type { RuntimeCurve } from '../drawing/contract.ts';
import type { Theme } from '../drawing/style.ts';
import { FIGURE_SIZE, px, shortened, widthOf } from '../drawing/text.ts';
import { choice, path, sheetSvg, text, WIDTH } from './frame.ts';

const LEFT = 80;
const RIGHT = WIDTH - 30;
const TOP = 56;
const BOTTOM = 340;

/** Seconds that a scale is marked with. */
const TIMES = [60, 300, 900, 3600, 3 * 3600, 12 * 3600, 24 * 3600, 72 * 3600, 240 * 3600, 720 * 3600, 2400 * 3600];
/** Shares of a power of ten that amperes are marked with. */
const STEPS = [1, 2, 5];

export function runtimeSvg(curve: RuntimeCurve, theme: Theme = {}): string {
  const { battery, description, marks, points, says } = curve;
  const title = `Battery ${battery}${description === undefined ? '' : `: ${description}`}`;
  const sheet = { of: `runtime ${battery}`, title: shortened(title, WIDTH - 40, 13), height: BOTTOM + 46 };
  const told = marks.map(({ text, title }) => `${title}: ${text}`).join('; ');
  if (points.length === 0) {
    return sheetSvg({ ...sheet, height: 60, description: says }, [text({ x: 16, y: 44, role: 'lack' }, says)], theme);
  }
  const x = logScale([...points.map(({ amps }) => amps), ...marks.map(({ amps }) => amps)], LEFT, RIGHT);
  const y = logScale(
    [...points.flatMap(({ least, most }) => [least, most]), ...marks.map(({ wanted }) => wanted)],
    BOTTOM,
    TOP,
  );
  const line = (pick: (point: (typeof points)[number]) => number, list = points) =>
    list.map((point) => `${px(x.at(point.amps))} ${px(y.at(pick(point)))}`).join('L');
  const area = `M${line(({ most }) => most)}L${line(({ least }) => least, points.toReversed())}z`;
  const content = [
    text({ x: 16, y: 38, role: 'note' }, `${says}; shaded from an old battery at its coldest to a new one.`),
    ...axes(x, y),
    path('area', area),
    path('curve', `M${line(({ usual }) => usual)}`),
    ...marks.map((mark) => markSvg(mark, x, y)),
  ];
  return sheetSvg({ ...sheet, description: `${says}. ${told}` }, content, theme);
}

interface LogScale {
  readonly low: number;
  readonly high: number;
  at(value: number): number;
}

/** From a little below the least to a little above the greatest value. */
function logScale(values: readonly number[], from: number, to: number): LogScale {
  const positive = values.filter((value) => value > 0);
  const low = Math.min(...positive) / 1.3;
  const high = Math.max(...positive) * 1.15;
  const span = Math.log(high / low) || 1;
  return { low, high, at: (value) => from + (Math.log(Math.max(value, low) / low) / span) * (to - from) };
}

function axes(x: LogScale, y: LogScale): string[] {
  const lines = [path('line', `M${LEFT} ${TOP}V${BOTTOM}H${RIGHT}`)];
  for (const time of TIMES.filter((each) => each > y.low && each < y.high)) {
    const at = y.at(time);
    lines.push(path('grid', `M${LEFT} ${px(at)}H${RIGHT}`));
    lines.push(text({ x: LEFT - 8, y: at + 4, anchor: 'end', role: 'axis' }, formatFigure(time, 's')));
  }
  for (let power = Math.floor(Math.log10(x.low)); power <= Math.ceil(Math.log10(x.high)); power++) {
    for (const amps of STEPS.map((step) => step * 10 ** power).filter((each) => each > x.low && each < x.high)) {
      const at = x.at(amps);
      lines.push(path('grid', `M${px(at)} ${TOP}V${BOTTOM}`));
      lines.push(
        text({ x: at, y: BOTTOM + 16, anchor: 'middle', role: 'axis' }, formatFigure(amps, 'A', { digits: 1 })),
      );
    }
  }
  lines.push(text({ x: (LEFT + RIGHT) / 2, y: BOTTOM + 36, anchor: 'middle', role: 'axis' }, 'current'));
  return lines;
}

/** A cross at what is wanted, and a line up to what it lasts. */
function markSvg(
  { amps, seconds, text: words, title, wanted }: RuntimeCurve['marks'][number],
  x: LogScale,
  y: LogScale,
): string {
  const [left, top] = [x.at(amps), y.at(wanted)];
  const says = `${title}: ${words}; wanted for ${formatFigure(wanted, 's')}`;
  const label = `${title}: wanted ${formatFigure(wanted, 's')}${seconds === undefined ? '' : `, lasts ${formatFigure(seconds, 's')}`}`;
  const width = widthOf(label, FIGURE_SIZE);
  const right = left + 10 + width < RIGHT;
  return choice(`carries ${title}`, says, [
    ...(seconds === undefined ? [] : [path('wire dashed', `M${px(left)} ${px(top)}V${px(y.at(seconds))}`)]),
    path('blade', `M${px(left - 5)} ${px(top - 5)}l10 10M${px(left + 5)} ${px(top - 5)}l-10 10`),
    text({ x: right ? left + 10 : left - 10, y: top + 4, anchor: right ? 'start' : 'end', role: 'figure halo' }, label),
  ]);
}
