/** Edits of texts as plain data: applied, and places followed through them. */
import type { TextPlace } from '@couplet/language';

/** `place` gives way to `text`; an empty place is where `text` is put in. */
export interface TextEdit {
  readonly place: TextPlace;
  readonly text: string;
}

/** Where each line of a text begins, in UTF-16 units. */
export class Lines {
  private readonly text: string;
  private readonly starts: number[] = [0];

  constructor(text: string) {
    this.text = text;
    for (let at = text.indexOf('\n'); at >= 0; at = text.indexOf('\n', at + 1)) this.starts.push(at + 1);
  }

  offset({ line, character }: TextPlace['start']): number {
    const start = this.starts[line] ?? this.text.length;
    const end = this.starts[line + 1] ?? this.text.length + 1;
    return Math.min(start + character, Math.max(start, end - 1));
  }

  position(offset: number): TextPlace['start'] {
    let line = 0;
    for (let high = this.starts.length; line + 1 < high; ) {
      const middle = (line + high) >> 1;
      if ((this.starts[middle] as number) <= offset) line = middle;
      else high = middle;
    }
    return { line, character: offset - (this.starts[line] as number) };
  }
}

interface Span {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

/** Spans of the edits of one file, in order; undefined where two of them overlap. */
function spansOf(lines: Lines, edits: readonly TextEdit[]): readonly Span[] | undefined {
  const spans = edits
    .map(({ place, text }) => ({ start: lines.offset(place.start), end: lines.offset(place.end), text }))
    .sort((one, other) => one.start - other.start || one.end - other.end);
  const overlap = spans.some((span, index) => index > 0 && span.start < (spans[index - 1] as Span).end);
  return overlap ? undefined : spans;
}

/** The text with all edits that are for it; undefined where two of them overlap. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string | undefined {
  const spans = spansOf(new Lines(text), edits);
  if (spans === undefined) return undefined;
  let result = '';
  let from = 0;
  for (const { start, end, text: put } of spans) {
    result += text.slice(from, start) + put;
    from = end;
  }
  return result + text.slice(from);
}

/**
 * Where a stretch of the text before stands in the text after: `start` and `end` in UTF-16 units. An edit inside it
 * stretches it, one that reaches over one of its ends takes it along.
 */
export function followed(text: string, edits: readonly TextEdit[], place: TextPlace): { start: number; end: number } {
  const lines = new Lines(text);
  let [start, end] = [lines.offset(place.start), lines.offset(place.end)];
  const spans = spansOf(lines, edits) ?? [];
  for (const span of [...spans].reverse()) {
    const grown = span.text.length - (span.end - span.start);
    if (span.start >= end && span.end > span.start) continue;
    if (span.start > end || (span.start === end && span.text !== '')) continue;
    if (span.end <= start) {
      start += grown;
      end += grown;
      continue;
    }
    start = Math.min(start, span.start);
    end = Math.max(end, span.end) + grown;
  }
  return { start, end };
}
