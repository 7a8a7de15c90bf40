/** Digests of plain data: the same for the same data, another for anything that differs. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { Digest } from '../../../packages/engine/src/design/digest.ts';

const SAME = {
  component: (id: number) => id,
  terminal: (id: number) => id,
  place: (id: number) => id,
  origin: (id: number) => id,
};

function digestOf(data: unknown, by = SAME): string {
  const digest = new Digest();
  digest.add(data, by);
  return digest.take();
}

test('differs where data differs, and only there', () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.jsonValue(), (one, other) => {
      expect(digestOf(one)).toBe(digestOf(structuredClone(one)));
      const alike = JSON.stringify(one) === JSON.stringify(other);
      expect(digestOf(one) === digestOf(other)).toBe(alike);
    }),
  );
});

test('tells numbers that a notation writes alike, and names from values', () => {
  const different = [
    0,
    -0,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    null,
    '',
    'a',
    ['a'],
    [['a']],
    { a: 'b' },
    { b: 'a' },
  ];
  expect(new Set(different.map((each) => digestOf(each))).size).toBe(different.length);
});

test('a reference counts as it is renumbered; an id and what is undefined do not count', () => {
  const moved = { ...SAME, component: (id: number) => id - 10 };
  expect(digestOf({ id: 11, owner: 12 }, moved)).toBe(digestOf({ id: 1, owner: 2, place: undefined }));
  expect(digestOf({ owner: 12 }, moved)).not.toBe(digestOf({ owner: 3 }));
});

test('one that is taken leaves nothing behind', () => {
  const digest = new Digest();
  digest.add({ a: 1 }, SAME);
  digest.take();
  digest.add('x', SAME);
  expect(digest.take()).toBe(digestOf('x'));
});

test('tells names apart that are met in the same place', () => {
  expect(digestOf({ rated: 5 })).not.toBe(digestOf({ peak: 5 }));
});

test('is the same whatever other digests were made before', () => {
  const digest = new Digest();
  digest.add({ first: 1, second: 2 }, SAME);
  digest.take();
  digest.add({ second: 2 }, SAME);
  expect(digest.take()).toBe(digestOf({ second: 2 }));
});
