/** Disjoint sets over 0 .. n − 1, with path halving and union by size. */
export class DisjointSets {
  private readonly parent: Int32Array;
  private readonly size: Int32Array;

  constructor(count: number) {
    this.parent = new Int32Array(count);
    this.size = new Int32Array(count).fill(1);
    for (let i = 0; i < count; i++) this.parent[i] = i;
  }

  find(member: number): number {
    let at = member;
    while (this.parent[at] !== at) {
      this.parent[at] = this.parent[this.parent[at]!]!;
      at = this.parent[at]!;
    }
    return at;
  }

  /** False where both were in one set already. */
  unite(one: number, other: number): boolean {
    let keep = this.find(one);
    let give = this.find(other);
    if (keep === give) return false;
    if (this.size[keep]! < this.size[give]!) [keep, give] = [give, keep];
    this.parent[give] = keep;
    this.size[keep]! += this.size[give]!;
    return true;
  }

  /** The set of every member, numbered 0 .. in order of first appearance. */
  numbered(): { readonly of: Int32Array; readonly count: number } {
    const of = new Int32Array(this.parent.length);
    const numbers = new Int32Array(this.parent.length).fill(-1);
    let count = 0;
    for (let i = 0; i < of.length; i++) {
      const root = this.find(i);
      if (numbers[root] === -1) numbers[root] = count++;
      of[i] = numbers[root]!;
    }
    return { of, count };
  }
}
