/**
 * The way back from a number of the design to the text that said it. An origin is an index into columns of plain numbers,
 * so that trees can be dropped once they are lowered.
 */
import type { Origin } from '@couplet/engine';
import type { AstNode } from 'langium';
import { isBundledUri } from '../files/bundled.ts';
import type { TextPlace } from './contract.ts';

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

const FIRST_CAPACITY = 1024;

export class Origins {
  private readonly sources: Source[] = [];
  private readonly sourceOf = new Map<AstNode, number>();
  private files: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  private starts: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  private ends: Uint32Array = new Uint32Array(FIRST_CAPACITY);
  private count = 0;
  /** Inside a use of an assembly everything stands at the row of the use. */
  private use: AstNode | undefined;
  /** What a part takes from a type that comes with the language stands at the part's name. */
  private part: AstNode | undefined;
  private readonly bundled = new Set<AstNode>();
  private readonly ofUse = new Map<AstNode, Origin>();

  addFile(root: AstNode, uri: string, text: string): void {
    this.sourceOf.set(root, this.sources.length);
    if (isBundledUri(uri)) this.bundled.add(root);
    this.sources.push({ uri, lines: lineStarts(text) });
  }

  /** The origin of a node of a tree; of a part of it where `segment` is given. */
  of(node: AstNode, segment: Segment | undefined = node.$cstNode): Origin {
    return this.stretch(node, segment, segment);
  }

  /** Does something for a use of an assembly, or for none. */
  within(use: AstNode | undefined, work: () => void): void {
    const before = this.use;
    this.use = use;
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
    if (this.use !== undefined) return true;
    return this.part !== undefined && this.bundled.size > 0 && this.bundled.has(rootOf(node));
  }

  /** From the beginning of one segment to the end of another of the same tree. */
  stretch(node: AstNode, from: Segment | undefined, to: Segment | undefined): Origin {
    if (this.use !== undefined) return this.useOrigin(this.use);
    if (this.part !== undefined && this.redirects(node)) return this.of(this.part);
    const file = this.sourceOf.get(rootOf(node));
    if (file === undefined || from === undefined || to === undefined) return -1;
    if (this.count === this.starts.length) this.grow();
    this.files[this.count] = file;
    this.starts[this.count] = from.offset;
    this.ends[this.count] = to.end;
    return this.count++;
  }

  place(origin: Origin): TextPlace | undefined {
    if (origin < 0 || origin >= this.count) return undefined;
    const { uri, lines } = this.sources[this.files[origin] as number] as Source;
    return {
      uri,
      start: position(lines, this.starts[origin] as number),
      end: position(lines, this.ends[origin] as number),
    };
  }

  /** The way back alone, which holds no node of a tree. */
  wayBack(): (origin: Origin) => TextPlace | undefined {
    const alone = new Origins();
    alone.sources.push(...this.sources);
    alone.files = this.files;
    alone.starts = this.starts;
    alone.ends = this.ends;
    alone.count = this.count;
    return (origin) => alone.place(origin);
  }

  private useOrigin(use: AstNode): Origin {
    let origin = this.ofUse.get(use);
    if (origin === undefined) {
      this.use = undefined;
      origin = this.of(use);
      this.use = use;
      this.ofUse.set(use, origin);
    }
    return origin;
  }

  private grow(): void {
    const size = this.count * 2;
    this.files = enlarged(this.files, new Uint32Array(size));
    this.starts = enlarged(this.starts, new Uint32Array(size));
    this.ends = enlarged(this.ends, new Uint32Array(size));
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
