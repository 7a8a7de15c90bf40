/**
 * What an assembly says is found again in each of its uses. Here such findings become one where every use has it, told in
 * the assembly's own text; what only some uses have is told at their rows. Assemblies in assemblies are taken from the
 * inside out: what all uses of the inner one have is told there, what all uses of the outer one have is told in its text.
 */
import type { Origin } from '@couplet/engine';
import type { Lowered, TextPlace, UseOfAssembly } from './contract.ts';

/** What is asked of a finding. */
export interface Told {
  readonly origin: Origin;
  /** What makes it another finding at the same place: its rule, what kind of thing it is about. */
  readonly key: string;
  /** Names in it that begin with that of a use are those of the assembly: 'B03.opened' is 'opened'. */
  readonly names: readonly (string | undefined)[];
}

/** A finding, or the same one of every use of an assembly. */
export interface ToldOnce<T> {
  /** In the order of what was given. */
  readonly items: readonly T[];
  /** The use that each of them stands in; empty outside of assemblies. */
  readonly uses: readonly UseOfAssembly[];
  /** Whether it is told in the text of an assembly, for all of its uses. */
  readonly inAssembly: boolean;
  /** Where it is told; undefined where its origin has no place. */
  readonly place: TextPlace | undefined;
  /** Where and in which assembly it is written, when it is told at the row of a use. */
  readonly written: { readonly place: TextPlace; readonly assembly: string } | undefined;
}

interface Open<T> {
  readonly item: T;
  readonly told: Told;
  readonly place: TextPlace;
  readonly uses: readonly UseOfAssembly[];
  /** How many uses were found to differ, from the innermost. */
  depth: number;
}

/** Findings in their order, those of all uses of an assembly as one, where the first of them stands. */
export function tellOnce<T>(
  items: readonly T[],
  lowered: Pick<Lowered, 'place' | 'withinUses'>,
  of: (item: T) => Told,
): ToldOnce<T>[] {
  const result = new Map<T, ToldOnce<T>>();
  let open: Open<T>[] = [];
  for (const item of items) {
    const told = of(item);
    const within = lowered.withinUses(told.origin);
    if (within !== undefined) open.push({ item, told, ...within, depth: 0 });
    else {
      const place = lowered.place(told.origin);
      result.set(item, { items: [item], uses: [], inAssembly: false, place, written: undefined });
    }
  }
  while (open.length > 0) {
    const left: Open<T>[] = [];
    for (const group of groupsOf(open)) {
      const [first] = group;
      if (first === undefined) continue;
      const use = first.uses[first.depth];
      if (use !== undefined && new Set(group.map(({ uses, depth }) => uses[depth]?.id)).size === use.uses) {
        result.set(first.item, inAssembly(group));
        continue;
      }
      for (const each of group) {
        each.depth += 1;
        if (each.depth < each.uses.length) left.push(each);
        else result.set(each.item, atRow(each));
      }
    }
    open = left;
  }
  return items.flatMap((item) => result.get(item) ?? []);
}

/**
 * Findings that are the same but for the use, as far as they were looked at. Where a use has several that nothing tells
 * apart, its first one goes with the first one of the others.
 */
function groupsOf<T>(open: readonly Open<T>[]): Iterable<Open<T>[]> {
  const groups = new Map<string, Open<T>[]>();
  const met = new Map<string, number>();
  for (const each of open) {
    const { depth, told, uses } = each;
    const use = uses[depth] as UseOfAssembly;
    const names = told.names.map((name) => (name === undefined ? '' : nameWithin(name, use)));
    const way = [each.place, ...uses.slice(0, depth).map(({ place }) => place)].map(textOfPlace);
    const key = [use.assembly, told.key, ...way, ...names].join('\n');
    const own = `${use.id}\n${key}`;
    const count = (met.get(own) ?? 0) + 1;
    met.set(own, count);
    const full = `${count}\n${key}`;
    const group = groups.get(full);
    if (group === undefined) groups.set(full, [each]);
    else group.push(each);
  }
  return groups.values();
}

function textOfPlace({ end, start, uri }: TextPlace): string {
  return `${uri} ${start.line} ${start.character} ${end.line} ${end.character}`;
}

/** The place in the text that says it for all uses at this depth. */
function toldAt<T>({ depth, place, uses }: Open<T>): TextPlace {
  return depth === 0 ? place : (uses[depth - 1] as UseOfAssembly).place;
}

function inAssembly<T>(found: readonly Open<T>[]): ToldOnce<T> {
  const number = ({ depth, uses }: Open<T>) => uses[depth]?.id ?? 0;
  const group = [...found].sort((one, other) => number(one) - number(other));
  const first = group[0] as Open<T>;
  return {
    items: group.map(({ item }) => item),
    uses: group.map(({ depth, uses }) => uses[depth] as UseOfAssembly),
    inAssembly: true,
    place: toldAt(first),
    written: first.depth === 0 ? undefined : writtenIn(first),
  };
}

function atRow<T>(open: Open<T>): ToldOnce<T> {
  const row = open.uses.at(-1) as UseOfAssembly;
  return { items: [open.item], uses: [row], inAssembly: false, place: row.place, written: writtenIn(open) };
}

function writtenIn<T>({ place, uses }: Open<T>): ToldOnce<T>['written'] {
  return { place, assembly: (uses[0] as UseOfAssembly).assembly };
}

/** A name as the assembly itself has it. */
export function nameWithin(name: string, use: UseOfAssembly): string {
  return name.startsWith(`${use.name}.`) ? name.slice(use.name.length + 1) : name;
}

/** Uses that a message names, and rows that are shown beside it. */
const MOST_NAMED = 12;

/**
 * The words for what every use of an assembly has. Where the uses say the same but for their own names, it is said of the
 * assembly; else the words of the one at `worst` stand for all. A use that is the only one keeps its words.
 */
export function wordsForAll(messages: readonly string[], uses: readonly UseOfAssembly[], worst = 0): string {
  const own = messages[worst] as string;
  const [first] = uses;
  if (first === undefined || uses.length === 1) return own;
  const bare = messages.map((message, index) => withoutUse(message, uses[index] as UseOfAssembly));
  const names = uses.slice(0, MOST_NAMED).map(({ name }) => name);
  const further = uses.length - names.length;
  const list = further > 0 ? `${names.join(', ')} and ${further} more` : names.join(', ');
  if (bare.every((each) => each === bare[0])) return `${bare[0]} So it is in every use of ${first.assembly}: ${list}.`;
  return `${own} So it is in ${uses[worst]?.name}; every use of ${first.assembly} has the like: ${list}.`;
}

/** What a message rests on stands at its end; beside a finding it would be said once more a use. */
const ASSUMED = / Assumed: .*$/s;

/** The rows of the uses, each with what it says itself. */
export function rowsOfUses(
  messages: readonly string[],
  uses: readonly UseOfAssembly[],
): { readonly place: TextPlace; readonly message: string }[] {
  const bare = messages.map((message, index) => withoutUse(message, uses[index] as UseOfAssembly));
  const alike = bare.every((each) => each === bare[0]);
  return uses.slice(0, MOST_NAMED).map(({ assembly, name, place }, index) => ({
    place,
    message: alike ? `${name} is a use of ${assembly}` : `${name}: ${messages[index]?.replace(ASSUMED, '')}`,
  }));
}

/** A text with the names of a use as its assembly has them. */
export function withoutUse(message: string, { name }: UseOfAssembly): string {
  return message.replaceAll(new RegExp(`(?<![\\p{L}\\p{N}_.-])${escaped(name)}\\.(?=\\S)`, 'gu'), '');
}

function escaped(text: string): string {
  return text.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
}
