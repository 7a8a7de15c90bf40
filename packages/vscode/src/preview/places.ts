/** From a place in a text to what is drawn of it, and back. */
import type { Place, Point } from './messages.ts';

/** Something drawn, and where it is written. */
export interface Written {
  readonly id: string;
  readonly source?: Place;
}

/**
 * Ids of what is written at a point: of all stretches that hold it, those that are the shortest. Several, where one
 * statement is drawn as several things.
 */
export function writtenAt(parts: Iterable<Written>, uri: string, point: Point): string[] {
  let least: Place | undefined;
  let ids: string[] = [];
  for (const { id, source } of parts) {
    if (source === undefined || source.uri !== uri || !holds(source, point)) continue;
    const order = least === undefined ? -1 : compareLengths(source, least);
    if (order < 0) {
      least = source;
      ids = [];
    }
    if (order <= 0) ids.push(id);
  }
  return ids;
}

/** The end belongs to a stretch: the cursor often stands right behind what was typed. */
function holds({ end, start }: Place, point: Point): boolean {
  return compare(start, point) <= 0 && compare(point, end) <= 0;
}

function compare(one: Point, other: Point): number {
  return one.line - other.line || one.character - other.character;
}

/** Of two stretches that hold the same point: by lines, then by characters. */
function compareLengths(one: Place, other: Place): number {
  const lines = ({ end, start }: Place) => end.line - start.line;
  const characters = ({ end, start }: Place) => end.character - start.character;
  return lines(one) - lines(other) || characters(one) - characters(other);
}
