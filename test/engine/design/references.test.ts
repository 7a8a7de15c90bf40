/** Every property of the design that names a component, terminal, place or origin is listed as a reference, and no other. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { eachReference, REFERENCES, renumbered } from '@couplet/engine';
import { expect, test } from 'vitest';
import { ROOT } from '../../cli/command.ts';

const SORTS = { ComponentId: 'component', TerminalId: 'terminal', PlaceId: 'place', Origin: 'origin' } as const;

/** `readonly NAME?: [readonly] SORT[]` wherever it is written in the types of the design. */
const PROPERTY = /readonly (\w+)\??: (?:readonly )?(ComponentId|TerminalId|PlaceId|Origin)\b/g;

function declared(): Map<string, Set<string>> {
  const folder = join(ROOT, 'packages', 'engine', 'src', 'design');
  const found = new Map<string, Set<string>>();
  // The couplings themselves say of lists what they are lists of; they are not part of a design.
  for (const file of readdirSync(folder).filter((name) => name !== 'couplings.ts')) {
    for (const [, name, type] of readFileSync(join(folder, file), 'utf8').matchAll(PROPERTY)) {
      if (name === 'id') continue;
      found.set(name!, (found.get(name!) ?? new Set()).add(SORTS[type as keyof typeof SORTS]));
    }
  }
  return found;
}

test('all that the types of the design declare are listed, each as one sort', () => {
  const names = declared();
  expect(names.size).toBeGreaterThan(25);
  for (const [name, sorts] of names) expect([name, [...sorts]]).toEqual([name, [REFERENCES.get(name)]]);
});

test('no property of the design that holds plain numbers has the name of a reference', () => {
  const folder = join(ROOT, 'packages', 'engine', 'src', 'design');
  const files = readdirSync(folder).filter((name) => name !== 'couplings.ts');
  const plain = files.flatMap((file) =>
    [...readFileSync(join(folder, file), 'utf8').matchAll(/readonly (\w+)\??: (?:readonly )?number\b/g)].map(
      ([, name]) => name!,
    ),
  );
  expect(plain.length).toBeGreaterThan(5);
  expect(plain.filter((name) => REFERENCES.has(name))).toEqual([]);
});

test('references are renumbered wherever they stand, values are left alone', () => {
  const data = {
    a: 3,
    value: 3,
    contacts: [1, 2],
    ohms: { usual: 3, origin: 7 },
    list: [{ owner: 1 }, 'a'],
    none: undefined,
  };
  const by = {
    component: (id: number) => id + 100,
    terminal: (id: number) => id + 200,
    place: (id: number) => id + 300,
    origin: (id: number) => id + 400,
  };
  expect(renumbered(data, by)).toEqual({
    a: 203,
    value: 3,
    contacts: [101, 102],
    ohms: { usual: 3, origin: 407 },
    list: [{ owner: 101 }, 'a'],
    none: undefined,
  });
  const met: string[] = [];
  eachReference(data, (sort, number) => met.push(`${sort} ${number}`));
  expect(met).toEqual(['terminal 3', 'component 1', 'component 2', 'origin 7', 'component 1']);
});
