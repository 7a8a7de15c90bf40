/** The time line of a case: a row a signal, its levels one above the other, and how early or late each change may come. */
import { formatFigure } from '@couplet/engine';
import type { DrawnTrack, TimeLine } from '../drawing/contract.ts';
import type { Theme } from '../drawing/style.ts';
import { FIGURE_SIZE, px, shortened, widthOf } from '../drawing/text.ts';
import { choice, path, rect, sheetSvg, text, WIDTH } from './frame.ts';

const LEFT = 190;
const RIGHT = WIDTH - 24;
const TOP = 78;
const ROW = 44;
/** px between the lowest and the highest level of a row. */
const LEVELS = 20;

export function timeLineSvg(timeLine: TimeLine, theme: Theme = {}): string {
  const { case: name, description, tracks } = timeLine;
  const title = description === undefined ? `Case ${name}` : `Case ${name}: ${description}`;
  const at = scaleOf(timeLine);
  const height = TOP + Math.max(1, tracks.length) * ROW + 26;
  const content = [
    text(
      { x: 16, y: 38, role: 'note' },
      'Times are in order and not to scale; the shaded stretch is where a change may come.',
    ),
    ...axis(timeLine, at, height),
    ...tracks.map((track, index) => row(track, TOP + index * ROW, at, timeLine)),
  ];
  if (tracks.length === 0) content.push(text({ x: LEFT, y: TOP + 24, role: 'note' }, 'Nothing changes in this case.'));
  const says = tracks.map(({ segments, title }) => `${title}: ${segments.map(segmentWords).join(', ')}`).join('; ');
  const sheet = {
    of: `time ${name}`,
    title: shortened(title, WIDTH - 40, 13),
    description: says || 'nothing changes',
    height,
  };
  return sheetSvg(sheet, content, theme);
}

type Scale = (seconds: number) => number;

/** Each stretch between two times gets room by the logarithm of its length, so that milliseconds show beside minutes. */
function scaleOf({ tracks, until }: TimeLine): Scale {
  const times = timesIn(tracks);
  times.add(0).add(until);
  const sorted = [...times].filter((time) => time <= until).sort((one, other) => one - other);
  const sizes = sorted.slice(1).map((time, index) => Math.log10(1 + (time - sorted[index]!) / 1e-3) + 0.35);
  const total = sizes.reduce((sum, size) => sum + size, 0) || 1;
  const left = LEFT + 72;
  const places = new Map<number, number>();
  let x = left;
  for (const [index, time] of sorted.entries()) {
    places.set(time, x);
    x += ((sizes[index] ?? 0) / total) * (RIGHT - left);
  }
  return (seconds) => {
    const known = places.get(seconds);
    if (known !== undefined) return known;
    const next = sorted.findIndex((time) => time > seconds);
    if (next <= 0) return RIGHT;
    const [a, b] = [sorted[next - 1]!, sorted[next]!];
    return places.get(a)! + ((seconds - a) / (b - a)) * (places.get(b)! - places.get(a)!);
  };
}

function timesIn(tracks: readonly DrawnTrack[]): Set<number> {
  return new Set(tracks.flatMap(({ segments }) => segments.flatMap(({ from }) => [from.least, from.usual, from.most])));
}

/** A tick at each usual time, its words where there is room. */
function axis({ tracks }: TimeLine, at: Scale, height: number): string[] {
  const usual = new Set(tracks.flatMap(({ segments }) => segments.slice(1).map(({ from }) => from.usual)));
  const times = [...usual.add(0)].sort((one, other) => one - other);
  let free = 0;
  return times.flatMap((time) => {
    const x = at(time);
    const words = formatFigure(time, 's');
    const width = widthOf(words, FIGURE_SIZE);
    const line = path('grid', `M${px(x)} ${TOP - 8}V${px(height - 20)}`);
    const begin = Math.min(x - width / 2, RIGHT + 20 - width);
    if (begin < free) return [line];
    free = begin + width + 8;
    return [line, text({ x: begin, y: TOP - 12, role: 'axis' }, words)];
  });
}

function row(track: DrawnTrack, y: number, at: Scale, { until }: TimeLine): string {
  const { id, repeats, segments, source, title } = track;
  const highest = Math.max(1, ...segments.map(({ level }) => level));
  const yOf = (level: number) => y + 6 + LEVELS - (level / highest) * LEVELS;
  const parts: string[] = [text({ x: 16, y: y + 22, role: 'name' }, shortened(title, LEFT - 30))];
  let d = '';
  for (const [index, { from, level, needs, states }] of segments.entries()) {
    const next = segments[index + 1];
    const begin = index === 0 ? LEFT : at(from.usual);
    const end = next === undefined ? at(until) : at(next.from.usual);
    if (index > 0 && from.most > from.least)
      parts.push(rect('area', at(from.least), y + 2, at(from.most) - at(from.least), LEVELS + 8));
    d += index === 0 ? `M${px(begin)} ${px(yOf(level))}` : `V${px(yOf(level))}`;
    d += `H${px(end)}`;
    const words =
      needs.length > 0 ? `time not evaluated: needs ${needs.join(', ')}` : states.join(' or ') || 'not evaluated';
    const role = needs.length > 0 || states.length === 0 ? 'lack' : 'figure';
    const room = end - begin - 6;
    if (room > 22) parts.push(text({ x: begin + 4, y: y + ROW - 5, role }, shortened(words, room, FIGURE_SIZE)));
  }
  parts.push(path('line', d));
  // A track that does not change in the stretch that comes again has nothing to repeat.
  if (repeats !== undefined && segments.some(({ from }) => from.usual > repeats.from.usual)) {
    const words = `again every ${formatFigure(repeats.period.usual, 's')}`;
    parts.push(text({ x: 16, y: y + 37, role: 'note' }, words));
  }
  return choice(`track ${id}`, [title, ...segments.map(segmentWords)].join('\n'), parts, source);
}

function segmentWords({ from, needs, states }: DrawnTrack['segments'][number]): string {
  const { least, most, usual } = from;
  const spread = least === most ? '' : ` (${formatFigure(least, 's')} .. ${formatFigure(most, 's')})`;
  const lack = needs.length === 0 ? '' : `, time not evaluated: needs ${needs.join(', ')}`;
  return `${states.join(' or ') || 'not evaluated'} from ${formatFigure(usual, 's')}${spread}${lack}`;
}
