/**
 * Star–mesh elimination of a large network of conductances (see dense.ts for the arithmetic). The node with fewest
 * neighbours goes first, so chains, trees and stars of tens of thousands of nodes cost next to nothing and fill in
 * nothing; a hash table of the joins finds the one between two neighbours at once, however many a hub has.
 */
export class SparseStars {
  private size = 0;
  private ground = new Float64Array(0);
  private star = new Float64Array(0);
  private order = new Int32Array(0);
  private gone = new Uint8Array(0);
  private degree = new Int32Array(0);
  /** First half-edge of each node; half-edges 2 e and 2 e + 1 belong to join e. */
  private head = new Int32Array(0);
  private bucket = new Int32Array(0);
  private bucketNext = new Int32Array(0);
  private bucketPrevious = new Int32Array(0);

  private joins = 0;
  private end = new Int32Array(64);
  private next = new Int32Array(64);
  private siemens = new Float64Array(32);
  private table = new Int32Array(128);

  /** Factor: neighbours and conductances of each node at the time it went, in `order`. */
  private columnStart = new Int32Array(1);
  private columnNode = new Int32Array(64);
  private columnSiemens = new Float64Array(64);

  reset(size: number): void {
    this.size = size;
    if (this.ground.length < size) {
      const room = Math.ceil(1.5 * size) + 8;
      this.ground = new Float64Array(room);
      this.star = new Float64Array(room);
      this.order = new Int32Array(room);
      this.gone = new Uint8Array(room);
      this.degree = new Int32Array(room);
      this.head = new Int32Array(room);
      this.bucket = new Int32Array(room);
      this.bucketNext = new Int32Array(room);
      this.bucketPrevious = new Int32Array(room);
      this.columnStart = new Int32Array(room + 1);
    }
    this.ground.fill(0, 0, size);
    this.gone.fill(0, 0, size);
    this.degree.fill(0, 0, size);
    this.head.fill(-1, 0, size);
    this.joins = 0;
    this.table.fill(-1);
  }

  addGround(i: number, siemens: number): void {
    this.ground[i]! += siemens;
  }

  /** True where the join is new. */
  addJoin(i: number, j: number, siemens: number): boolean {
    const low = Math.min(i, j);
    const high = Math.max(i, j);
    const mask = this.table.length - 1;
    let slot = slotOf(low, high) & mask;
    for (let e = this.table[slot]!; e >= 0; e = this.table[slot]!) {
      if (this.end[2 * e + 1] === low && this.end[2 * e] === high) {
        this.siemens[e]! += siemens;
        return false;
      }
      slot = (slot + 1) & mask;
    }
    const e = this.joins++;
    if (e >= this.siemens.length) this.grow();
    // The half-edge 2 e hangs in the list of `low` and points to `high`; 2 e + 1 the other way round.
    this.end[2 * e] = high;
    this.end[2 * e + 1] = low;
    this.siemens[e] = siemens;
    this.next[2 * e] = this.head[low]!;
    this.head[low] = 2 * e;
    this.next[2 * e + 1] = this.head[high]!;
    this.head[high] = 2 * e + 1;
    this.degree[low]!++;
    this.degree[high]!++;
    if (2 * this.joins > this.table.length) this.rehash(2 * this.table.length);
    else this.table[slot] = e;
    return true;
  }

  /** False where negative conductances outweigh the positive ones: the network does not hold its volts. */
  factor(): boolean {
    const { size, ground, gone, degree } = this;
    this.bucket.fill(-1, 0, size);
    for (let k = size - 1; k >= 0; k--) this.enterBucket(k);
    let least = 0;
    let used = 0;
    for (let turn = 0; turn < size; turn++) {
      while (this.bucket[least]! < 0) least++;
      const k = this.bucket[least]!;
      this.leaveBucket(k);
      gone[k] = 1;
      this.order[turn] = k;
      this.columnStart[turn] = used;
      const toReference = ground[k]!;
      let sum = toReference;
      for (let h = this.head[k]!; h >= 0; h = this.next[h]!) {
        const i = this.end[h]!;
        if (gone[i] === 1) continue;
        if (used >= this.columnNode.length) this.growColumns();
        this.columnNode[used] = i;
        const gi = this.siemens[h >> 1]!;
        this.columnSiemens[used] = gi;
        used++;
        sum += gi;
      }
      this.star[k] = sum;
      if (!(sum > 0 && Number.isFinite(sum))) return false;
      const from = this.columnStart[turn]!;
      for (let p = from; p < used; p++) this.leaveBucket(this.columnNode[p]!);
      for (let p = from; p < used; p++) {
        const i = this.columnNode[p]!;
        const share = this.columnSiemens[p]! / sum;
        ground[i]! += share * toReference;
        for (let q = p + 1; q < used; q++) this.addJoin(i, this.columnNode[q]!, share * this.columnSiemens[q]!);
      }
      for (let p = from; p < used; p++) {
        const i = this.columnNode[p]!;
        degree[i]!--;
        this.enterBucket(i);
        if (degree[i]! < least) least = degree[i]!;
      }
    }
    this.columnStart[size] = used;
    return true;
  }

  /** `x` holds the amperes injected into each unknown on entry, its volts on return. */
  solve(x: Float64Array): void {
    const { size, order, star, columnStart, columnNode, columnSiemens } = this;
    for (let turn = 0; turn < size; turn++) {
      const k = order[turn]!;
      const perStar = x[k]! / star[k]!;
      if (perStar === 0) continue;
      for (let p = columnStart[turn]!; p < columnStart[turn + 1]!; p++)
        x[columnNode[p]!]! += columnSiemens[p]! * perStar;
    }
    for (let turn = size - 1; turn >= 0; turn--) {
      const k = order[turn]!;
      let sum = x[k]!;
      for (let p = columnStart[turn]!; p < columnStart[turn + 1]!; p++) sum += columnSiemens[p]! * x[columnNode[p]!]!;
      x[k] = sum / star[k]!;
    }
  }

  private enterBucket(k: number): void {
    const d = this.degree[k]!;
    const first = this.bucket[d]!;
    this.bucketNext[k] = first;
    this.bucketPrevious[k] = -1;
    if (first >= 0) this.bucketPrevious[first] = k;
    this.bucket[d] = k;
  }

  private leaveBucket(k: number): void {
    const after = this.bucketNext[k]!;
    const before = this.bucketPrevious[k]!;
    if (after >= 0) this.bucketPrevious[after] = before;
    if (before >= 0) this.bucketNext[before] = after;
    else this.bucket[this.degree[k]!] = after;
  }

  private grow(): void {
    this.end = enlarged(this.end, new Int32Array(2 * this.end.length));
    this.next = enlarged(this.next, new Int32Array(2 * this.next.length));
    this.siemens = enlarged(this.siemens, new Float64Array(2 * this.siemens.length));
  }

  private growColumns(): void {
    this.columnNode = enlarged(this.columnNode, new Int32Array(2 * this.columnNode.length));
    this.columnSiemens = enlarged(this.columnSiemens, new Float64Array(2 * this.columnSiemens.length));
  }

  private rehash(length: number): void {
    this.table = new Int32Array(length).fill(-1);
    const mask = length - 1;
    for (let e = 0; e < this.joins; e++) {
      let slot = slotOf(this.end[2 * e + 1]!, this.end[2 * e]!) & mask;
      while (this.table[slot]! >= 0) slot = (slot + 1) & mask;
      this.table[slot] = e;
    }
  }
}

function slotOf(low: number, high: number): number {
  let h = Math.imul(low, 0x9e3779b1) ^ Math.imul(high, 0x85ebca6b);
  h ^= h >>> 15;
  h = Math.imul(h, 0x2c1b3c6d);
  return (h ^ (h >>> 13)) >>> 0;
}

function enlarged<T extends Int32Array | Float64Array>(old: T, room: T): T {
  room.set(old as never);
  return room;
}
