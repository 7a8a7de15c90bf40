/** Rows to lines: which bodies stand on one line, and where long rows are broken. */
import type { Body, Row, Word } from './rows.ts';

/** Columns of a line; notes behind it are not counted. */
export const WIDTH = 120;
const STEP = 2;

/** The lines of a row, indented by `indent` columns. */
export function linesOf(row: Row, indent: number): string[] {
  const lines: string[] = [];
  writeRow(row, indent, lines);
  return lines;
}

function writeRow({ body, note, words }: Row, indent: number, lines: string[]): void {
  lines.push(...wordLines(words, indent, body === undefined ? 0 : ' {'.length));
  if (body === undefined) return;
  const closed = words.at(-1)?.note === true;
  const head = closed ? ' '.repeat(indent + STEP) : `${lines.pop()} `;
  const behind = note === undefined ? '' : `  ${note}`;
  const flat = flatBody(body);
  if (flat !== undefined && head.length + flat.length <= WIDTH) {
    lines.push(head + flat + behind);
    return;
  }
  lines.push(`${head}{${body.note === undefined ? '' : `  ${body.note}`}`);
  for (const row of body.rows) {
    if (row.parted) lines.push('');
    writeRow(row, indent + STEP, lines);
  }
  lines.push(`${' '.repeat(indent)}}${behind}`);
}

/** A body on one line; undefined where it must stand on several. */
function flatBody({ broken, note, rows, style }: Body): string | undefined {
  if (note !== undefined) return undefined;
  if (rows.length === 0) return '{}';
  if (broken || style === 'lines') return undefined;
  const flat = rows.map(flatRow);
  return flat.includes(undefined) ? undefined : `{ ${flat.join('  ')} }`;
}

function flatRow({ body, note, words }: Row): string | undefined {
  if (note !== undefined || words.some((word) => word.note || word.line === 'must')) return undefined;
  const text = joined(words);
  if (body === undefined) return text;
  const flat = flatBody(body);
  return flat === undefined ? undefined : `${text} ${flat}`;
}

/** Words on as few lines as they need; `reserve` columns are kept free on the last one. */
function wordLines(words: readonly Word[], indent: number, reserve: number): string[] {
  const written = splitAt(words, (word) => word.line === 'must');
  const room = (index: number, all: readonly unknown[]) =>
    WIDTH - indent - (index > 0 ? STEP : 0) - (index === all.length - 1 ? reserve : 0);
  const tooLong = written.some((line, i) => widthOf(line) > room(i, written));
  const apart = tooLong ? splitAt(words, (word) => word.line === 'must' || word.line === 'first') : written;
  const filled = tooLong ? apart.flatMap((line, i) => fill(line, room(i, apart), WIDTH - indent - STEP)) : apart;
  return filled.map((line, i) => ' '.repeat(indent + (i > 0 ? STEP : 0)) + joined(line));
}

/** Breaks a line at the last word that may begin one, as often as it is too long. */
function fill(words: readonly Word[], first: number, further: number): Word[][] {
  const lines: Word[][] = [];
  let line: Word[] = [];
  for (const chunk of splitAt(words, (word) => word.line !== 'never')) {
    const room = lines.length === 0 ? first : further;
    if (line.length > 0 && widthOf([...line, ...chunk]) > room) {
      lines.push(line);
      line = [];
    }
    line.push(...chunk);
  }
  lines.push(line);
  return lines;
}

function splitAt(words: readonly Word[], begins: (word: Word) => boolean): Word[][] {
  const lines: Word[][] = [];
  for (const word of words) {
    const line = lines.at(-1);
    if (line === undefined || begins(word)) lines.push([word]);
    else line.push(word);
  }
  return lines;
}

function widthOf(words: readonly Word[]): number {
  return joined(words.filter((word) => !word.note)).length;
}

function joined(words: readonly Word[]): string {
  return words.map(({ glue, text }, i) => (i === 0 ? text : glue + text)).join('');
}
