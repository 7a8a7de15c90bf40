/** A look-up of names: what a reference can lead to at one place. */
import type { Named } from '../generated/ast.ts';
import type { Names } from './names.ts';

export interface Lookup {
  get(name: string): Named | undefined;
  /** Everything that could be named, nearest first, for completion and for suggestions. */
  entries(): Iterable<readonly [string, Named]>;
}

export const EMPTY_LOOKUP: Lookup = { get: () => undefined, entries: () => [] };

/** Several tables, asked in order. */
export function inTables(tables: readonly Names[], admits?: (node: Named) => boolean): Lookup {
  return {
    get(name) {
      for (const table of tables) {
        if (admits === undefined) {
          const first = table.first(name);
          if (first !== undefined) return first;
        } else {
          const found = table.all(name).find(admits);
          if (found !== undefined) return found;
        }
      }
      return undefined;
    },
    *entries() {
      for (const table of tables) {
        for (const [name, nodes] of table.entries()) {
          const node = admits === undefined ? nodes[0] : nodes.find(admits);
          if (node !== undefined) yield [name, node] as const;
        }
      }
    },
  };
}

/** Several look-ups, asked in order. */
export function firstOf(...lookups: readonly Lookup[]): Lookup {
  return {
    get(name) {
      for (const lookup of lookups) {
        const found = lookup.get(name);
        if (found !== undefined) return found;
      }
      return undefined;
    },
    *entries() {
      for (const lookup of lookups) yield* lookup.entries();
    },
  };
}
