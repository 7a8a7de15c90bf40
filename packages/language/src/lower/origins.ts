/**
 * The way back from a number of the design to the text that said it. An origin is an index into columns of plain numbers,
 * so that trees can be dropped once they are lowered. What an assembly says is said again by each of its uses: such an
 * origin keeps its stretch of the assembly's text and the use, and so leads to both.
 */
import type { Origin } from '@couplet/engine';
import type { AstNode } from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import { isCoupletFile, isProgram } from '../generated/ast.ts';
import type { TextPlace, UseOfAssembly, WithinUses } from './contract.ts';

/** A use of an assembly, as a number; uses of assemblies within it come after it. */
export type UseId = number;

/** What is known of a use while trees are there. */
export interface UseFacts {
  /** As the site knows it: 'B03', or 'A.B03' of a use within a use. */
  readonly name: string;
  /** Its name in the row that declares it, and the declaration with what it gives and overrides. */
  readonly node: AstNode;
  readonly declaration: AstNode;
  /** The declaration of the assembly. */
  readonly type: AstNode & { readonly name: string };
}

interface Use extends Omit<UseFacts, 'node'> {
  readonly around: UseId;
  /** Its row, in the text that declares it. */
  readonly row: Origin;
}

/** What has offsets in a text: a node of the concrete tree. */
interface Segment {
  readonly offset: number;
  readonly end: number;
}

interface Source {
  readonly uri: string;
  /** Offset at which each line begins. */
  readonly lines: Uint32Array;
}

/** Line starts by tree: a tree is of one text, and most files of a site are as they were. */
const linesOf = new WeakMap<AstNode, Uint32Array>();

const FIRST_CAPACITY = 1024;
const NO_USE: UseId = -1;

export class Origins {
  private readonly sources: Source[] = [];
  private readonly sourceOf = new Map<AstNode, number>();
  private files: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  private starts: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  private ends: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  /** The use in which it was said, by origin; -1 for none. */
  private useOf: Int32Array = new Int32Array(FIRST_CAPACITY);
  private count = 0;
  private readonly uses: Use[] = [];
  /** How many uses an assembly has. */
  private readonly usesOfType = new Map<AstNode, number>();
  private use: UseId = NO_USE;
  /** What a part takes from a type that comes with the language stands at the part's name. */
  private part: AstNode | undefined;
  private readonly bundled = new Set<AstNode>();
  /** The first origin. */
  private readonly base: Origin;

  constructor(base: Origin = 0) {
    this.base = base;
  }

  /** How many origins there are. */
  get made(): number {
    return this.count;
  }

  addFile(root: AstNode, uri: string, text: string): void {
    this.sourceOf.set(root, this.sources.length);
    if (isBundledUri(uri)) this.bundled.add(root);
    let lines = linesOf.get(root);
    if (lines === undefined) {
      lines = lineStarts(text);
      linesOf.set(root, lines);
    }
    this.sources.push({ uri, lines });
  }

  /** The origin of a node of a tree; of a part of it where `segment` is given. */
  of(node: AstNode, segment: Segment | undefined = node.$cstNode): Origin {
    return this.stretch(node, segment, segment);
  }

  /** Takes in a use of an assembly. `around` is the use whose assembly holds its row, if any. */
  addUse({ declaration, name, node, type }: UseFacts, around: UseId | undefined): UseId {
    let row: Origin = -1;
    this.within(around, () => {
      row = this.of(node);
    });
    this.usesOfType.set(type, (this.usesOfType.get(type) ?? 0) + 1);
    return this.uses.push({ declaration, name, type, row, around: around ?? NO_USE }) - 1;
  }

  /** Does something for a use of an assembly, or for none. */
  within(use: UseId | undefined, work: () => void): void {
    const before = this.use;
    this.use = use ?? NO_USE;
    work();
    this.use = before;
  }

  /** Does something for a part with this name. */
  making(part: AstNode, work: () => void): void {
    this.part = part;
    work();
    this.part = undefined;
  }

  /** Whether the origin of a node is just now that of something else. */
  redirects(node: AstNode): boolean {
    if (this.use !== NO_USE) return true;
    return this.part !== undefined && this.bundled.size > 0 && this.bundled.has(rootOf(node));
  }

  /** From the beginning of one segment to the end of another of the same tree. */
  stretch(node: AstNode, from: Segment | undefined, to: Segment | undefined): Origin {
    const root = rootOf(node);
    if (this.part !== undefined && this.bundled.has(root)) return this.of(this.part);
    const file = this.sourceOf.get(root);
    if (file === undefined || from === undefined || to === undefined) return -1;
    if (this.count === this.starts.length) this.grow();
    this.useOf[this.count] = this.use === NO_USE ? NO_USE : this.useThatSays(node);
    this.files[this.count] = file;
    this.starts[this.count] = from.offset;
    this.ends[this.count] = to.end;
    return this.base + this.count++;
  }

  /** In a use of an assembly: the row of the use in the site, however deep the assemblies hold each other. */
  place(origin: Origin): TextPlace | undefined {
    let at = origin;
    for (let use = this.useAt(at); use !== NO_USE; use = this.useAt(at)) {
      at = (this.uses[use] as Use).row;
    }
    return this.written(at);
  }

  /** Where it is written, and the uses in which it is said by that, innermost first; undefined outside assemblies. */
  withinUses(origin: Origin): WithinUses | undefined {
    const place = this.written(origin);
    const first = this.useAt(origin);
    if (place === undefined || first === NO_USE) return undefined;
    const uses: UseOfAssembly[] = [];
    for (let id = first; id !== NO_USE; ) {
      const { around, name, row, type } = this.uses[id] as Use;
      const at = this.written(row);
      if (at === undefined) return undefined;
      uses.push({ id, name, assembly: type.name, uses: this.usesOfType.get(type) ?? 0, place: at });
      id = around;
    }
    return { place, uses };
  }

  /** The stretch of text itself. */
  written(origin: Origin): TextPlace | undefined {
    const at = origin - this.base;
    if (origin < 0 || at < 0 || at >= this.count) return undefined;
    const { uri, lines } = this.sources[this.files[at] as number] as Source;
    return {
      uri,
      start: position(lines, this.starts[at] as number),
      end: position(lines, this.ends[at] as number),
    };
  }

  /** The way back alone, which holds no node of a tree. */
  wayBack(): Pick<Origins, 'place' | 'withinUses'> {
    const alone = new Origins(this.base);
    alone.sources.push(...this.sources);
    alone.files = this.files;
    alone.starts = this.starts;
    alone.ends = this.ends;
    alone.useOf = this.useOf;
    alone.count = this.count;
    const types = new Map<AstNode, Use['type']>();
    for (const [type, count] of this.usesOfType) {
      const bare = { $type: type.$type, name: (type as Use['type']).name };
      types.set(type, bare);
      alone.usesOfType.set(bare, count);
    }
    for (const use of this.uses) {
      const type = types.get(use.type) as Use['type'];
      alone.uses.push({ ...use, declaration: type, type });
    }
    return alone;
  }

  /**
   * The use that a node speaks for. What a use gives or overrides is said once, by its row; and what is programmed from
   * outside is said there.
   */
  private useThatSays(node: AstNode): UseId {
    for (let at: AstNode | undefined = node; at !== undefined; at = at.$container) {
      for (let id = this.use; id !== NO_USE; id = (this.uses[id] as Use).around) {
        const use = this.uses[id] as Use;
        if (at === use.type) return id;
        if (at === use.declaration) return use.around;
      }
      if (isProgram(at) && isCoupletFile(at.$container)) return NO_USE;
    }
    return this.use;
  }

  private useAt(origin: Origin): UseId {
    return this.useOf[origin - this.base] ?? NO_USE;
  }

  private grow(): void {
    const size = this.count * 2;
    this.files = enlarged(this.files, new Uint32Array(size));
    this.starts = enlarged(this.starts, new Uint32Array(size));
    this.ends = enlarged(this.ends, new Uint32Array(size));
    const uses = new Int32Array(size);
    uses.set(this.useOf);
    this.useOf = uses;
  }
}

export function rootOf(node: AstNode): AstNode {
  let root = node;
  while (root.$container !== undefined) root = root.$container;
  return root;
}

function enlarged(from: Uint32Array, to: Uint32Array): Uint32Array {
  to.set(from);
  return to;
}

function lineStarts(text: string): Uint32Array {
  const starts = [0];
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i);
    if (code === 10 || (code === 13 && text.charCodeAt(i + 1) !== 10)) starts.push(i + 1);
  }
  return Uint32Array.from(starts);
}

function position(lines: Uint32Array, offset: number): TextPlace['start'] {
  let low = 0;
  let high = lines.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((lines[middle] as number) <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low, character: offset - (lines[low] as number) };
}
