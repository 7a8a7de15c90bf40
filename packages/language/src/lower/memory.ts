/**
 * What the pieces of a site lowered to, for the next time: a key in one file of a large site lowers that file's piece
 * anew and takes the others as they are. A piece is the same where its own trees are, where every tree that declares
 * places, values or types is, and where its components, terminals, cases and origins begin at the same numbers.
 */
import type { Design } from '@couplet/engine';
import type { CoupletFile } from '../generated/ast.ts';
import type { LanguageFinding, Lowered } from './contract.ts';
import { divided, fileNames } from './divide.ts';

/** The numbers that the first component, terminal, case and origin of a piece have. */
export interface Bases {
  readonly components: number;
  readonly terminals: number;
  readonly cases: number;
  readonly origins: number;
}

export const NO_BASES: Bases = { components: 0, terminals: 0, cases: 0, origins: 0 };

/** Files of a site lowered by themselves, in the numbers of the whole. */
export interface Piece extends Pick<Lowered, 'place' | 'withinUses' | 'findings'> {
  /** Its lists are those of the piece alone but for the places, which are all of the site's. */
  readonly design: Design;
  readonly origins: number;
}

interface Kept {
  readonly own: readonly CoupletFile[];
  readonly shared: readonly CoupletFile[];
  readonly bases: Bases;
  readonly piece: Piece;
}

/** Origins of a piece have room to grow before the numbers of the pieces behind it move. */
const ROOM = 4096;

export class LoweringMemory {
  /** Of the last site lowered with this, by first file: never more than there are pieces. */
  private kept = new Map<CoupletFile, Kept>();

  /** `make` lowers the files of these numbers. */
  lower(files: readonly CoupletFile[], make: (own: readonly number[], bases: Bases) => Piece): Lowered {
    const shared = files.filter((file) => fileNames(file).declarations.length > 0);
    const now = new Map<CoupletFile, Kept>();
    let bases = NO_BASES;
    for (const numbers of divided(files)) {
      const own = numbers.map((number) => files[number] as CoupletFile);
      const first = own[0] as CoupletFile;
      const before = this.kept.get(first);
      const kept =
        before !== undefined && isSame(before, own, shared, bases)
          ? before
          : { own, shared, bases, piece: make(numbers, bases) };
      now.set(first, kept);
      bases = behind(bases, kept.piece);
    }
    this.kept = now;
    return joined([...now.values()]);
  }
}

function isSame(kept: Kept, own: Kept['own'], shared: Kept['shared'], bases: Bases): boolean {
  return (
    areSame(kept.own, own) &&
    areSame(kept.shared, shared) &&
    kept.bases.components === bases.components &&
    kept.bases.terminals === bases.terminals &&
    kept.bases.cases === bases.cases &&
    kept.bases.origins === bases.origins
  );
}

function areSame(one: readonly CoupletFile[], other: readonly CoupletFile[]): boolean {
  return one.length === other.length && one.every((file, i) => file === other[i]);
}

function behind(bases: Bases, { design, origins }: Piece): Bases {
  return {
    components: bases.components + design.components.length,
    terminals: bases.terminals + design.terminals.length,
    cases: bases.cases + design.cases.length,
    origins: Math.ceil((bases.origins + origins + 1) / ROOM) * ROOM,
  };
}

/** The site of all its pieces; the first one holds the site's own facts. */
function joined(kept: readonly Kept[]): Lowered {
  const pieces = kept.map(({ piece }) => piece);
  const [first] = pieces;
  if (first === undefined) throw new Error('a site has files');
  if (pieces.length === 1) return first;
  const all = <T>(list: (design: Design) => readonly T[]): readonly T[] =>
    ([] as T[]).concat(...pieces.map(({ design }) => list(design)));
  const starts = kept.map(({ bases }) => bases.origins);
  const pieceOf = (origin: number): Piece | undefined => {
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if ((starts[middle] as number) <= origin) low = middle;
      else high = middle - 1;
    }
    return pieces[low];
  };
  const place: Lowered['place'] = (origin) => pieceOf(origin)?.place(origin);
  // What the site does not compute is told once for each file and kind; a type may be used in several pieces.
  const told = new Set<string>();
  const uncomputed = all((design) => design.uncomputed).filter(({ origin, what }) => {
    const key = `${place(origin)?.uri} ${what}`;
    return !told.has(key) && told.add(key);
  });
  const design: Design = {
    site: first.design.site,
    fragment: first.design.fragment,
    places: first.design.places,
    terminals: all(({ terminals }) => terminals),
    components: all(({ components }) => components),
    joins: all(({ joins }) => joins),
    earth: pieces.find((piece) => piece.design.earth !== undefined)?.design.earth,
    cases: all(({ cases }) => cases),
    autonomies: all(({ autonomies }) => autonomies),
    acceptances: all(({ acceptances }) => acceptances),
    readings: all(({ readings }) => readings),
    spare: all(({ spare }) => spare),
    uncomputed,
  };
  return {
    design,
    place,
    withinUses: (origin) => pieceOf(origin)?.withinUses(origin),
    findings: pieces.flatMap(({ findings }): readonly LanguageFinding[] => findings),
  };
}
