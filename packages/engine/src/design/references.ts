/**
 * Which properties of a design, and of what is said of one, are numbers that stand for something else: a component, a
 * terminal, a place, the place of a text. With it any of them is renumbered, whatever kinds are added.
 */

export type ReferenceSort = 'component' | 'terminal' | 'place' | 'origin';

/** Numbers under these names, and numbers in lists under these names, are references; everything else is a value. */
export const REFERENCES: ReadonlyMap<string, ReferenceSort> = new Map([
  ...named('component', [
    'battery',
    'cable',
    'charges',
    'component',
    'components',
    'concerns',
    'contacts',
    'cores',
    'driver',
    'explainsAt',
    'fedBy',
    'like',
    'members',
    'other',
    'owner',
    'rail',
    'subject',
    'target',
    'targets',
    'zones',
  ]),
  ...named('terminal', ['a', 'b', 'control', 'controlTo', 'earth', 'returns', 'spare']),
  ...named('place', ['ends', 'place']),
  ...named('origin', ['alternatingRating', 'origin']),
]);

/** The new number of a reference. */
export type Renumbering = Readonly<Record<ReferenceSort, (number: number) => number>>;

/** A copy of plain data with every reference in it renumbered. An `id` is left to the caller, who knows what it counts. */
export function renumbered<T>(data: T, by: Renumbering): T {
  return copied(data, by) as T;
}

/** Every reference in plain data, in the order in which it is written. */
export function eachReference(data: unknown, visit: (sort: ReferenceSort, number: number) => void): void {
  if (Array.isArray(data)) {
    for (const item of data) if (typeof item === 'object') eachReference(item, visit);
    return;
  }
  if (typeof data !== 'object' || data === null) return;
  for (const key in data) {
    const value = (data as Record<string, unknown>)[key];
    if (typeof value === 'number') {
      const sort = REFERENCES.get(key);
      if (sort !== undefined) visit(sort, value);
    } else if (typeof value === 'object' && value !== null) {
      const sort = Array.isArray(value) && typeof value[0] === 'number' ? REFERENCES.get(key) : undefined;
      if (sort === undefined) eachReference(value, visit);
      else for (const number of value as number[]) visit(sort, number);
    }
  }
}

function copied(data: unknown, by: Renumbering): unknown {
  if (Array.isArray(data)) return data.map((item) => (typeof item === 'object' ? copied(item, by) : item));
  if (typeof data !== 'object' || data === null) return data;
  const copy: Record<string, unknown> = {};
  for (const key in data) {
    const value = (data as Record<string, unknown>)[key];
    if (typeof value === 'number') {
      const sort = REFERENCES.get(key);
      copy[key] = sort === undefined ? value : by[sort](value);
    } else if (typeof value === 'object' && value !== null) {
      const sort = Array.isArray(value) && typeof value[0] === 'number' ? REFERENCES.get(key) : undefined;
      copy[key] = sort === undefined ? copied(value, by) : (value as number[]).map(by[sort]);
    } else copy[key] = value;
  }
  return copy;
}

function named(sort: ReferenceSort, names: readonly string[]): [string, ReferenceSort][] {
  return names.map((name) => [name, sort]);
}
