/** Where the readings of a zone lie within its bands: each with its spread, and below them the single faults. */
import { formatFigure, LOOP_DIGITS } from '@couplet/engine';
import type { BandChart, DrawnReading } from '../drawing/contract.ts';
import type { Theme } from '../drawing/style.ts';
import { FIGURE_SIZE, px, shortened, widthOf } from '../drawing/text.ts';
import { choice, path, rect, sheetSvg, text, WIDTH } from './frame.ts';

const LEFT = 300;
const RIGHT = WIDTH - 74;
const TOP = 76;
const ROW = 26;

/** Faults that are listed by name, worst first; the others are marks on one row a kind. */
const LISTED: readonly string[] = ['blind', 'misread', 'not-evaluated'];
const ON_ONE_ROW: readonly string[] = ['quiet', 'announced'];

/** A shape for each answer, so that it is told without colour. */
const MARKS: Readonly<Record<string, { readonly role: string; readonly d: string }>> = {
  blind: { role: 'bad', d: 'M0 -6L6 0L0 6L-6 0z' },
  misread: { role: 'warn', d: 'M0 -6L6 5H-6z' },
  quiet: { role: 'good', d: 'M-4 0a4 4 0 1 0 8 0a4 4 0 1 0 -8 0z' },
  announced: { role: 'good', d: 'M-1.5 -6h3v12h-3z' },
  'not-evaluated': { role: 'lack', d: 'M-5 -5h10v10h-10zM-3 -3v6h6v-6z' },
};

interface Row {
  readonly title: string;
  readonly readings: readonly DrawnReading[];
}

export function bandChartSvg(chart: BandChart, theme: Theme = {}): string {
  const { bands, description, faults, readings, unit, zone } = chart;
  const at = scaleOf(chart);
  const rows: Row[] = [
    ...readings.map((reading) => ({ title: reading.title, readings: [reading] })),
    ...LISTED.flatMap((answer) =>
      faults
        .filter((each) => each.answer === answer)
        .map((each) => ({ title: `${answer}: ${each.title}`, readings: [each] })),
    ),
    ...ON_ONE_ROW.flatMap((answer) => {
      const there = faults.filter((each) => each.answer === answer);
      return there.length === 0 ? [] : [{ title: `${answer}: ${there.length} faults told apart`, readings: there }];
    }),
  ];
  const height = TOP + rows.length * ROW + 30;
  const title = `Zone ${zone}${description === undefined ? '' : `: ${description}`}`;
  const content = [
    text(
      { x: 16, y: 38, role: 'note' },
      `Readings in ${unit === 'V' ? 'volts' : 'ohms'}, least to most; a dot at the usual figure.`,
    ),
    ...bandsSvg(chart, at, height),
    ...rows.map((row, index) => rowSvg(row, TOP + index * ROW, at)),
  ];
  if (bands.length === 0)
    content.push(text({ x: LEFT, y: TOP - 12, role: 'lack' }, `not evaluated: needs ${zone} scheme or bands`));
  const says = readings.map(({ states, text, title }) => `${title}: ${text}, ${states.join(' or ')}`).join('; ');
  return sheetSvg(
    { of: `bands ${zone}`, title: shortened(title, WIDTH - 40, 13), description: says, height },
    content,
    theme,
  );
}

/** px of a figure; an open end lies beyond the scale. */
type Scale = (value: number | undefined, open: 'low' | 'high') => number;

/** Ohms lie on a logarithmic scale, volts on a plain one. */
function scaleOf({ bands, faults, readings, unit }: BandChart): Scale {
  const given = [
    ...bands.flatMap(({ from, to }) => [from, to]),
    ...[...readings, ...faults].flatMap(({ least, most, usual }) => [least, most, usual]),
  ];
  const values = given.filter((value): value is number => value !== undefined);
  const positive = values.filter((value) => value > 0);
  if (unit === 'V') {
    // A fault may bring a voltage from elsewhere: it lies at the edge, and its words say how much it is.
    const own = [
      ...bands.flatMap(({ from, to }) => [from, to]),
      ...readings.flatMap(({ least, most }) => [least, most]),
    ];
    const volts = own.filter((value) => value !== undefined);
    const low = Math.min(0, ...volts);
    const high = Math.max(1, ...volts) * 1.2;
    return (value, open) => {
      if (value === undefined) return open === 'low' ? LEFT : RIGHT;
      return LEFT + Math.min(1, Math.max(0, (value - low) / (high - low))) * (RIGHT - LEFT);
    };
  }
  const edges = bands
    .flatMap(({ from, to }) => [from, to])
    .filter((value): value is number => value !== undefined && value > 0);
  // What is far below the lowest edge is as good as nothing, and what is far above the highest as good as open.
  const low = Math.log10(Math.max(Math.min(...positive, 1e9), Math.min(...edges, 1e9) / 30)) - 0.12;
  const high = Math.log10(Math.min(Math.max(...positive, 1), Math.max(...edges, 1) * 30)) + 0.25;
  const span = high - low || 1;
  return (value, open) => {
    if (value === undefined) return open === 'low' ? LEFT : RIGHT;
    const share = (Math.log10(Math.max(value, 1e-12)) - low) / span;
    return LEFT + Math.min(1, Math.max(0, share)) * (RIGHT - LEFT);
  };
}

function bandsSvg({ bands, unit }: BandChart, at: Scale, height: number): string[] {
  const bottom = height - 20;
  let free = 0;
  return bands.flatMap(({ from, label, source, to }, index) => {
    const [left, right] = [at(from, 'low'), at(to, 'high')];
    const parts = [rect(index % 2 === 0 ? 'ground' : 'paperless', left, TOP - 22, right - left, bottom - TOP + 22)];
    parts.push(
      text({ x: (left + right) / 2, y: TOP - 8, anchor: 'middle', role: 'name' }, shortened(label, right - left - 4)),
    );
    const edges = [from, to]
      .filter((edge) => edge !== undefined)
      .map((edge) => {
        const words = formatFigure(edge, unit, { digits: 3 });
        const x = at(edge, 'low');
        const begin = x - widthOf(words, FIGURE_SIZE) / 2;
        const label = begin < free ? '' : text({ x: begin, y: height - 6, role: 'axis' }, words);
        if (label !== '') free = begin + widthOf(words, FIGURE_SIZE) + 6;
        return path('edge', `M${px(x)} ${TOP - 22}V${px(bottom)}`) + label;
      });
    return [choice(`band ${label}`, `${label}: ${rangeWords(from, to, unit)}`, [...parts, ...edges], source)];
  });
}

function rangeWords(from: number | undefined, to: number | undefined, unit: 'ohm' | 'V'): string {
  const word = (value: number) => formatFigure(value, unit, { digits: LOOP_DIGITS });
  if (from === undefined) return to === undefined ? 'everything' : `below ${word(to)}`;
  return to === undefined ? `${word(from)} and above` : `${word(from)} .. ${word(to)}`;
}

function rowSvg({ readings, title }: Row, y: number, at: Scale): string {
  const middle = y + ROW / 2;
  const head = text({ x: 16, y: middle + 4 }, shortened(title, LEFT - 30));
  const line = path('grid', `M${LEFT} ${px(middle)}H${RIGHT}`);
  const marks = readings.map((reading) => markSvg(reading, middle, at));
  return head + line + marks.join('');
}

function markSvg(reading: DrawnReading, y: number, at: Scale): string {
  const { answer, least, most, sort, source, states, text: words, title, usual } = reading;
  const says = [title, words, states.join(' or '), answer ?? ''].filter((each) => each !== '').join('\n');
  if (sort !== 'value') {
    return choice(
      `reading ${title}`,
      says,
      [
        text(
          { x: LEFT + 6, y: y - 3, role: sort === 'not-evaluated' ? 'lack' : 'note' },
          shortened(words, RIGHT - LEFT, FIGURE_SIZE),
        ),
      ],
      source,
    );
  }
  const x = at(usual, 'high');
  const parts: string[] = [];
  const mark = answer === undefined ? undefined : MARKS[answer];
  if (mark === undefined) {
    parts.push(
      path('spread', `M${px(at(least, 'low'))} ${px(y)}H${px(Math.max(at(most, 'high'), at(least, 'low') + 1))}`),
    );
    for (const end of [at(least, 'low'), at(most, 'high')]) parts.push(path('line', `M${px(end)} ${px(y - 6)}v12`));
    parts.push(`<circle class="solid" cx="${px(x)}" cy="${px(y)}" r="3"/>`);
    const short = `${words.split(' (')[0]} ${states[0] ?? ''}`;
    const width = widthOf(short, FIGURE_SIZE);
    const right = x + 10 + width < RIGHT + 64;
    parts.push(
      text({ x: right ? x + 10 : x - 10, y: y - 3, anchor: right ? 'start' : 'end', role: 'figure halo' }, short),
    );
  } else {
    parts.push(`<path class="${mark.role}" transform="translate(${px(x)} ${px(y)})" d="${mark.d}"/>`);
  }
  return choice(`reading ${title}`, says, parts, source);
}
