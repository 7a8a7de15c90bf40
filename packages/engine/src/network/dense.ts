/**
 * Star–mesh elimination of a small network of conductances, as a dense matrix. Every node either joins other unknown
 * nodes (`join`) or the reference (`ground`). Eliminating a node replaces its star by the equivalent mesh: only sums,
 * products and quotients of positive conductances, so nothing cancels and every factor is good to the last digits
 * however far apart the conductances are. It is the LU factorisation of the nodal matrix, written without its diagonal.
 * Source: the star–mesh transformation (textbook network theory); the accuracy of the diagonal-free form is the
 * Grassmann–Taksar–Heyman argument (from memory).
 */
export class DenseStars {
  private size = 0;
  private join = new Float64Array(16);
  private ground = new Float64Array(4);
  private star = new Float64Array(4);

  reset(size: number): void {
    this.size = size;
    if (this.ground.length < size) {
      this.ground = new Float64Array(2 * size);
      this.star = new Float64Array(2 * size);
      this.join = new Float64Array(4 * size * size);
    }
    this.ground.fill(0, 0, size);
    this.join.fill(0, 0, size * size);
  }

  /** Siemens between unknowns `i` and `j`. */
  addJoin(i: number, j: number, siemens: number): void {
    const at = i < j ? i * this.size + j : j * this.size + i;
    this.join[at]! += siemens;
  }

  /** Siemens between unknown `i` and the reference. */
  addGround(i: number, siemens: number): void {
    this.ground[i]! += siemens;
  }

  /** False where negative conductances outweigh the positive ones: the network does not hold its volts. */
  factor(): boolean {
    const { size, join, ground, star } = this;
    for (let k = 0; k < size; k++) {
      const row = k * size;
      const toReference = ground[k]!;
      let sum = toReference;
      for (let j = k + 1; j < size; j++) sum += join[row + j]!;
      star[k] = sum;
      if (!(sum > 0 && Number.isFinite(sum))) return false;
      for (let i = k + 1; i < size; i++) {
        const gi = join[row + i]!;
        if (gi === 0) continue;
        const share = gi / sum;
        ground[i]! += share * toReference;
        const rowI = i * size;
        for (let j = i + 1; j < size; j++) join[rowI + j]! += share * join[row + j]!;
      }
    }
    return true;
  }

  /** `x` holds the amperes injected into each unknown on entry, its volts on return. */
  solve(x: Float64Array): void {
    const { size, join, star } = this;
    for (let k = 0; k < size; k++) {
      const row = k * size;
      const perStar = x[k]! / star[k]!;
      if (perStar === 0) continue;
      for (let i = k + 1; i < size; i++) x[i]! += join[row + i]! * perStar;
    }
    for (let k = size - 1; k >= 0; k--) {
      const row = k * size;
      let sum = x[k]!;
      for (let j = k + 1; j < size; j++) sum += join[row + j]! * x[j]!;
      x[k] = sum / star[k]!;
    }
  }
}
