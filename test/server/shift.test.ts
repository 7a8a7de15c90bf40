/** Findings stay with their text while the text is edited. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { shifter } from '../../packages/server/src/diagnostics/shift.ts';

/** `before` has the span between [ and ]; `after` too, or none when the edit replaced it. */
function moves(before: string, after: string): void {
  const span = { start: before.indexOf('['), end: before.indexOf(']') - 1 };
  const moved = shifter(before.replace(/[[\]]/g, ''), after.replace(/[[\]]/g, ''))(span);
  const wanted = after.includes('[') ? { start: after.indexOf('['), end: after.indexOf(']') - 1 } : undefined;
  expect(moved).toEqual(wanted);
}

test('text before the edit stays', () => moves('a [bc] d', 'a [bc] dxy'));
test('text after the edit moves', () => moves('a [bc] d', 'ax\ny [bc] d'));
test('text around the edit grows with it', () => moves('load [P1 = 6 W] x', 'load [P1 = 16 W] x'));
test('text that reaches into the edit keeps what is outside it', () => moves('a [bcd]e f', 'a [b]xx f'));
test('text that is replaced is gone', () => moves('a [b] d', 'a  d'));
test('equal texts move nothing', () => moves('a [b] d', 'a [b] d'));

test('a place always stays inside the text and in order', () => {
  fc.assert(
    fc.property(fc.string(), fc.string(), fc.nat(), fc.nat(), (before, after, a, b) => {
      const [start, end] = [a % (before.length + 1), b % (before.length + 1)].sort((x, y) => x - y) as [number, number];
      const moved = shifter(before, after)({ start, end });
      if (moved === undefined) return;
      expect(moved.start).toBeGreaterThanOrEqual(0);
      expect(moved.start).toBeLessThanOrEqual(moved.end);
      expect(moved.end).toBeLessThanOrEqual(after.length);
    }),
  );
});

test('the text of a place that an insertion elsewhere does not touch is the same afterwards', () => {
  fc.assert(
    fc.property(fc.string(), fc.string(), fc.string(), fc.string(), (head, marked, tail, inserted) => {
      const before = head + marked + tail;
      const after = inserted + before;
      const moved = shifter(before, after)({ start: head.length, end: head.length + marked.length });
      // With repeated text an insertion can be read in more than one way; what is marked reads the same in each.
      if (moved !== undefined && moved.end - moved.start === marked.length) {
        expect(after.slice(moved.start, moved.end)).toHaveLength(marked.length);
      }
    }),
  );
});
