/** Text in a drawing: how wide it may get, where it is broken, and how it is written into XML. */

export const TEXT_SIZE = 12;
export const FIGURE_SIZE = 11;
export const LINE = 15;

/** px that a text takes at most in a plain sans-serif face of `TEXT_SIZE`; wide letters are counted as such. */
export function widthOf(text: string, size: number = TEXT_SIZE): number {
  let em = 0;
  for (const sign of text) em += WIDE.test(sign) ? 1.05 : /[A-Z0-9mwµΩ]/.test(sign) ? 0.68 : 0.56;
  return Math.ceil(em * size);
}

/** Signs as wide as they are high: ideographs, kana, Hangul, full-width forms, emoji. */
const WIDE = /[\u1100-\u11ff\u2e80-\ua4cf\uac00-\ud7af\uf900-\ufaff\ufe30-\ufe4f\uff00-\uff60\u{1f000}-\u{3fffd}]/u;

/** A text in at most `lines` lines of `most` px; what has no room ends in an ellipsis. */
export function wrapped(text: string, most: number, lines: number, size: number = TEXT_SIZE): readonly string[] {
  const made: string[] = [];
  let line = '';
  const words = text.split(/\s+/).filter((word) => word !== '');
  for (const [index, word] of words.entries()) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (line === '' || widthOf(longer, size) <= most) {
      line = longer;
      continue;
    }
    if (made.length === lines - 1) return [...made, shortened([line, ...words.slice(index)].join(' '), most, size)];
    made.push(shortened(line, most, size));
    line = word;
  }
  return line === '' ? made : [...made, shortened(line, most, size)];
}

export function shortened(text: string, most: number, size: number = TEXT_SIZE): string {
  if (widthOf(text, size) <= most) return text;
  const signs = [...text];
  while (signs.length > 1 && widthOf(`${signs.join('')}…`, size) > most) signs.pop();
  return `${signs.join('').trimEnd()}…`;
}

/** For text and attributes; what XML cannot carry at all becomes a replacement sign. */
export function escaped(text: string): string {
  return text
    .replaceAll(FORBIDDEN, '\ufffd')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');
}

/** Source: XML 1.0, production Char: control signs, lone surrogates, and two non-characters are in no document. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML forbids.
const FORBIDDEN = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu;

/** px with at most two decimals: the same text on every machine. */
export function px(value: number): string {
  return String(Math.round(value * 100) / 100 + 0);
}
