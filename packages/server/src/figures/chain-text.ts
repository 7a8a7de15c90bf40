/** The hover of a chain: what flows through each part of it and what each part drops, in every case. */
import type { Analysis, Component, Moment } from '@couplet/engine';
import { toldOf } from './columns.ts';
import { figureWords, plain } from './words.ts';

/** Cases that have a column; a wider table is not read. */
const MOST_CASES = 4;

/** Markdown for the parts that a chain passes through or joins, in its order; nothing where none has figures. */
export function chainHover(parts: readonly Component[], analysis: Analysis): string | undefined {
  const shown = parts.filter((part) => isPassed(part));
  if (shown.length === 0) return undefined;
  const cases = analysis.cases.slice(0, MOST_CASES);
  const head = ['part', ...cases.map(({ name }) => plain(name))];
  const rows = shown.map((part) => [
    plain(part.name),
    ...cases.map(({ moments }) => {
      const moment = moments.at(Math.min(1, moments.length - 1));
      return moment === undefined ? '' : plain(cell(part, moment, analysis));
    }),
  ]);
  const lines = [head, head.map(() => '---'), ...rows].map((cells) => `| ${cells.join(' | ')} |`);
  const more = analysis.cases.length - cases.length;
  return [...lines, ...(more > 0 ? ['', `and ${more} more cases`] : [])].join('\n');
}

/** Whether a current goes through the part from one of its terminals to the other. */
function isPassed(part: Component): boolean {
  return part.kind !== 'source' && part.kind !== 'feed' && (toldOf(part)?.columns.length ?? 0) > 1;
}

function cell(part: Component, moment: Moment, analysis: Analysis): string {
  const told = toldOf(part);
  const drop = told?.columns.find(({ title }) => title.startsWith('volts'));
  const current = figureWords(moment.amps(part.id), analysis.design);
  return drop === undefined ? current : `${current}, ${figureWords(drop.figure(moment), analysis.design)}`;
}
