/** What all plots share: the sheet around them, texts, and rows with their names at the left. */
import type { SourceRange } from '../drawing/contract.ts';
import { styleOf, type Theme } from '../drawing/style.ts';
import { escaped, px } from '../drawing/text.ts';

/** px; all plots are as wide, so that they stand below each other. */
export const WIDTH = 860;

export interface Sheet {
  /** What it is of: by this the ids of its title and description differ from those of other plots on a page. */
  readonly of: string;
  readonly title: string;
  readonly description: string;
  readonly height: number;
}

export function sheetSvg(sheet: Sheet, content: readonly string[], theme: Theme): string {
  const { description, height, title } = sheet;
  const kind = sheet.of.replaceAll(/[^A-Za-z0-9]+/g, '-');
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" class="couplet" role="img" viewBox="0 0 ${WIDTH} ${px(height)}" width="${WIDTH}" height="${px(height)}" aria-labelledby="couplet-${kind}-title couplet-${kind}-desc">`,
    `<title id="couplet-${kind}-title">${escaped(title)}</title>`,
    `<desc id="couplet-${kind}-desc">${escaped(description)}</desc>`,
    ...(theme.style === false ? [] : [`<style>${styleOf(theme)}</style>`]),
    text({ x: 16, y: 20, role: 'title' }, title),
    ...content,
    '</svg>',
  ];
  return `${parts.join('\n')}\n`;
}

export interface TextAt {
  readonly x: number;
  readonly y: number;
  readonly role?: string;
  readonly anchor?: 'start' | 'middle' | 'end';
}

export function text({ anchor = 'start', role = 'value', x, y }: TextAt, words: string): string {
  return `<text class="${role}" text-anchor="${anchor}" x="${px(x)}" y="${px(y)}">${escaped(words)}</text>`;
}

export function path(className: string, d: string): string {
  return `<path class="${className}" d="${d}"/>`;
}

export function rect(className: string, x: number, y: number, width: number, height: number): string {
  return `<rect class="${className}" x="${px(x)}" y="${px(y)}" width="${px(Math.max(0, width))}" height="${px(height)}"/>`;
}

/** Something that can be chosen: by mouse, and by keyboard as it takes the focus. */
export function choice(ref: string, title: string, content: readonly string[], source?: SourceRange): string {
  const focus = source === undefined ? '' : ' tabindex="0"';
  const words = escaped(title);
  return `<g data-ref="${escaped(ref)}"${focus} aria-label="${words}"><title>${words}</title>${content.join('')}</g>`;
}
