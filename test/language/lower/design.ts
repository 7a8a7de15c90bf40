/** Designs in a form that can be compared: by names in place of numbers, without origins and assumptions. */
import type { Case, Component, Design } from '@couplet/engine';

/** Fields that hold the number of a component, a terminal or a place, or a list of such numbers. */
const COMPONENTS = new Set(['owner', 'driver', 'cable', 'fedBy', 'charges', 'rail', 'component', 'target', 'other']);
const COMPONENT_LISTS = new Set(['members', 'contacts', 'cores', 'targets', 'zones']);
const TERMINALS = new Set(['a', 'b', 'returns', 'control', 'controlTo', 'earth']);
const LEFT_OUT = new Set(['id', 'origin', 'assumption', 'proven']);

/** What a design says, in sorted lists; the same for two designs that differ only in the order of their numbers. */
export function said(design: Design): Record<string, unknown> {
  const plain = (value: unknown, key = ''): unknown => {
    if (typeof value === 'number') {
      if (COMPONENTS.has(key)) return design.components[value]?.name;
      if (TERMINALS.has(key)) return design.terminals[value]?.name;
      if (key === 'place' || key === 'ends') return design.places[value]?.name;
      return Number(value.toPrecision(12));
    }
    if (Array.isArray(value)) {
      if (COMPONENT_LISTS.has(key)) return value.map((id) => design.components[id as number]?.name).sort();
      return value.map((each) => plain(each, key));
    }
    if (typeof value !== 'object' || value === null) return value;
    const entries = Object.entries(value).filter(([name, each]) => each !== undefined && !LEFT_OUT.has(name));
    return Object.fromEntries(entries.map(([name, each]) => [name, plain(each, name)]));
  };
  const named = (parts: readonly { readonly name: string }[]) =>
    Object.fromEntries(
      parts.map((part) => [part.name, plain(part)]).sort(([x], [y]) => (String(x) < String(y) ? -1 : 1)),
    );
  const afters = (each: Case) => ({
    ...each,
    after: each.after === undefined ? undefined : design.cases[each.after]?.name,
  });
  return {
    site: plain(design.site),
    places: named(design.places),
    components: named(design.components.map((part) => ({ ...part, name: `${part.kind} ${part.name}` }) as Component)),
    terminals: named(design.terminals),
    joins: design.joins
      .map((join) =>
        [join.a, join.b]
          .map((end) => design.terminals[end]?.name)
          .sort()
          .join(' '),
      )
      .sort(),
    cases: named(design.cases.map(afters) as unknown as Case[]),
    acceptances: design.acceptances.map((each) => plain(each)).sort(byText),
    readings: design.readings.map((each) => plain(each)).sort(byText),
    spare: design.spare.map((terminal) => design.terminals[terminal]?.name).sort(),
    uncomputed: design.uncomputed.map((each) => each.what).sort(),
  };
}

function byText(one: unknown, other: unknown): number {
  const [x, y] = [JSON.stringify(one), JSON.stringify(other)];
  return x < y ? -1 : Number(x > y);
}
