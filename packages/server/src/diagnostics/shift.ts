/** Places found in one text, looked up in a later one while nothing newer has been computed. */

/** A stretch of a text in UTF-16 units; `end` is not part of it. */
export interface Span {
  readonly start: number;
  readonly end: number;
}

/**
 * Where spans of `before` lie in `after`, taking what both texts begin and end with as untouched and all between as one
 * edit. A span before or after the edit moves with its text; one that reaches into the edit keeps the part outside it,
 * together with the edited text where it held some on both sides. `undefined`: the edit replaced all of it.
 */
export function shifter(before: string, after: string): (span: Span) => Span | undefined {
  if (before === after) return (span) => span;
  const shorter = Math.min(before.length, after.length);
  let head = 0;
  while (head < shorter && before.charCodeAt(head) === after.charCodeAt(head)) head += 1;
  let tail = 0;
  while (
    tail < shorter - head &&
    before.charCodeAt(before.length - 1 - tail) === after.charCodeAt(after.length - 1 - tail)
  ) {
    tail += 1;
  }
  const editEnd = before.length - tail;
  const moved = after.length - before.length;
  return ({ start, end }) => {
    if (end <= head) return { start, end };
    if (start >= editEnd) return { start: start + moved, end: end + moved };
    const startsBefore = start < head;
    const endsAfter = end > editEnd;
    if (startsBefore && endsAfter) return { start, end: end + moved };
    if (startsBefore) return { start, end: head };
    if (endsAfter) return { start: editEnd + moved, end: end + moved };
    return undefined;
  };
}
