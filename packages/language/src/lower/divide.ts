/**
 * Which files of a site can be lowered without each other. Two files belong together where one names what the other
 * declares. Places, values and types are declared for every piece, so that they tie nothing together. It goes by the
 * names as they are written, so that what is known of a tree holds as long as the tree.
 */
import {
  type CoupletFile,
  isAccept,
  isCase,
  isComponent,
  isConfirm,
  isNamedValue,
  isPlace,
  isReference,
  isSite,
  isTypeDeclaration,
  isUse,
  type Statement,
} from '../generated/ast.ts';
import { nodesOf } from '../references/walk.ts';

/** What a file declares and names. */
export interface FileNames {
  /** Components, confirmations and cases. */
  readonly declares: ReadonlySet<string>;
  /** First names of references that do not lead to these; the words of values are among them. */
  readonly names: ReadonlySet<string>;
  /** First names of references in the statements that are declared for every piece. */
  readonly shared: ReadonlySet<string>;
  readonly types: ReadonlySet<string>;
  /** What acceptances are for. */
  readonly accepted: ReadonlySet<string>;
  /** Statements that are declared for every piece: places, values, types. */
  readonly declarations: readonly Statement[];
  /** It uses assemblies or gives another file a name: what is said of all uses is said of the whole site. */
  readonly indivisible: boolean;
}

const known = new WeakMap<CoupletFile, FileNames>();

export function fileNames(file: CoupletFile): FileNames {
  let names = known.get(file);
  if (names === undefined) {
    names = namesOf(file);
    known.set(file, names);
  }
  return names;
}

function namesOf(file: CoupletFile): FileNames {
  const declares = new Set<string>();
  const types = new Set<string>();
  const accepted = new Set<string>();
  const shared = new Set<string>();
  const declarations: Statement[] = [];
  let indivisible = false;
  for (const item of file.statements) {
    if (isComponent(item)) {
      if (item.kind === 'assembly') indivisible = true;
      for (const { name } of item.names) if (name !== undefined) declares.add(name);
    } else if (isCase(item) || isConfirm(item)) {
      if (item.name !== undefined) declares.add(item.name);
    } else if (isUse(item)) {
      if (item.name !== undefined) indivisible = true;
    } else if (isAccept(item)) {
      const head = item.target?.head?.$refText;
      if (head !== undefined) accepted.add(head);
    }
    if (isTypeDeclaration(item) && item.name !== undefined) types.add(item.name);
    if (isPlace(item) || isNamedValue(item) || isTypeDeclaration(item) || isConfirm(item)) declarations.push(item);
    if (isPlace(item) || isNamedValue(item) || isTypeDeclaration(item) || isSite(item)) addHeads(item, shared);
  }
  const names = new Set<string>();
  addHeads(file, names);
  for (const name of declares) names.delete(name);
  return { declares, names, shared, types, accepted, declarations, indivisible };
}

function addHeads(within: Parameters<typeof nodesOf>[0], to: Set<string>): void {
  for (const node of nodesOf(within)) {
    const head = isReference(node) ? node.head?.$refText : undefined;
    if (head !== undefined) to.add(head);
  }
}

/** More pieces than that gain nothing: what is done once for each of them would grow with their number. */
const MOST_PIECES = 64;

/** Files by piece, as numbers in their order; a single piece where the site cannot be divided. */
export function divided(files: readonly CoupletFile[]): readonly (readonly number[])[] {
  const all = files.map(fileNames);
  const whole = [files.map((_, index) => index)];
  if (all.some(({ indivisible }) => indivisible)) return whole;
  const parents = files.map((_, index) => index);
  const root = (index: number): number => {
    let at = index;
    while (parents[at] !== at) at = parents[at] as number;
    return at;
  };
  // The earlier file leads, so that pieces come in the order of their first files.
  const unite = (one: number, other: number) => {
    const a = root(one);
    const b = root(other);
    if (a !== b) parents[Math.max(a, b)] = Math.min(a, b);
  };
  const owners = new Map<string, number>();
  // Several files may declare one name: cases called `rest` are one, and of others the first counts.
  for (const [index, { declares }] of all.entries()) {
    for (const name of declares) {
      const owner = owners.get(name);
      if (owner === undefined) owners.set(name, index);
      else unite(owner, index);
    }
  }
  const types = new Set(all.flatMap((each) => [...each.types]));
  for (const { accepted, shared } of all) {
    // A type that names a component takes it into every piece; an acceptance for a type is for components anywhere.
    for (const name of shared) if (owners.has(name)) return whole;
    for (const name of accepted) if (types.has(name)) return whole;
  }
  for (const [index, { names }] of all.entries()) {
    for (const name of names) {
      const owner = owners.get(name);
      if (owner !== undefined) unite(owner, index);
      // Earth is one terminal of the site, and belongs to whoever names it first.
      else if (name === 'earth') owners.set(name, index);
    }
  }
  const pieces = new Map<number, number[]>();
  for (const index of files.keys()) {
    const first = root(index);
    const piece = pieces.get(first);
    if (piece === undefined) pieces.set(first, [index]);
    else piece.push(index);
  }
  return few([...pieces.values()]);
}

/** Neighbouring pieces put together until there are not too many. */
function few(pieces: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const size = Math.ceil(pieces.length / MOST_PIECES);
  if (size <= 1) return pieces;
  const fewer: number[][] = [];
  for (let from = 0; from < pieces.length; from += size) {
    fewer.push(
      pieces
        .slice(from, from + size)
        .flat()
        .sort((a, b) => a - b),
    );
  }
  return fewer;
}
