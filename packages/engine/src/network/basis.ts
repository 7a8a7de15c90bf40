/** A square basis of columns with its explicit inverse: products, column exchanges, lexicographic comparisons. */
export class DenseBasis {
  readonly size: number;
  private readonly columns: Float64Array[];
  /** Row-major inverse. */
  private inverse: Float64Array;

  constructor(columns: readonly Float64Array[]) {
    this.size = columns.length;
    this.columns = [...columns];
    this.inverse = new Float64Array(this.size * this.size);
  }

  /** Inverts from the columns by Gauss–Jordan elimination with partial pivoting. False where they are dependent. */
  refresh(): boolean {
    const n = this.size;
    const m = new Float64Array(n * n);
    const inverse = new Float64Array(n * n);
    for (let j = 0; j < n; j++) {
      inverse[j * n + j] = 1;
      for (let r = 0; r < n; r++) m[r * n + j] = this.columns[j]![r]!;
    }
    for (let k = 0; k < n; k++) {
      let pivot = k;
      for (let r = k + 1; r < n; r++) if (Math.abs(m[r * n + k]!) > Math.abs(m[pivot * n + k]!)) pivot = r;
      const top = m[pivot * n + k]!;
      if (!(Math.abs(top) > 0 && Number.isFinite(top))) return false;
      if (pivot !== k) {
        swapRows(m, n, k, pivot);
        swapRows(inverse, n, k, pivot);
      }
      for (let j = 0; j < n; j++) {
        m[k * n + j]! /= top;
        inverse[k * n + j]! /= top;
      }
      for (let r = 0; r < n; r++) {
        const factor = m[r * n + k]!;
        if (r === k || factor === 0) continue;
        for (let j = k; j < n; j++) m[r * n + j]! -= factor * m[k * n + j]!;
        for (let j = 0; j < n; j++) inverse[r * n + j]! -= factor * inverse[k * n + j]!;
      }
    }
    this.inverse = inverse;
    return true;
  }

  /** Inverse times `right`. */
  times(right: Float64Array): Float64Array {
    const n = this.size;
    const out = new Float64Array(n);
    for (let r = 0; r < n; r++) {
      let sum = 0;
      for (let j = 0; j < n; j++) sum += this.inverse[r * n + j]! * right[j]!;
      out[r] = sum;
    }
    return out;
  }

  /** Puts `column` in place of the one at `position`; `against` is the inverse times it. False where it is dependent. */
  replace(position: number, column: Float64Array, against: Float64Array): boolean {
    const n = this.size;
    const top = against[position]!;
    if (!(Math.abs(top) > 1e-300 && Number.isFinite(top))) return false;
    this.columns[position] = column;
    const { inverse } = this;
    const base = position * n;
    for (let j = 0; j < n; j++) inverse[base + j]! /= top;
    for (let r = 0; r < n; r++) {
      const factor = against[r]!;
      if (r === position || factor === 0) continue;
      for (let j = 0; j < n; j++) inverse[r * n + j]! -= factor * inverse[base + j]!;
    }
    return true;
  }

  /** `column` takes the place `home`; what stood there moves to `away`, whose column leaves. */
  exchange(home: number, away: number, column: Float64Array, against: Float64Array): boolean {
    if (!this.replace(away, column, against)) return false;
    if (home === away) return true;
    const moved = this.columns[home]!;
    this.columns[home] = this.columns[away]!;
    this.columns[away] = moved;
    swapRows(this.inverse, this.size, home, away);
    return true;
  }

  /** Lexicographic order of row `p` ÷ `pRate` and row `q` ÷ `qRate` of the inverse. */
  compare(p: number, pRate: number, q: number, qRate: number): number {
    const n = this.size;
    for (let j = 0; j < n; j++) {
      const x = this.inverse[p * n + j]! / pRate;
      const y = q < 0 ? 0 : this.inverse[q * n + j]! / qRate;
      if (Math.abs(x - y) > 1e-12 * (Math.abs(x) + Math.abs(y))) return x - y;
    }
    return 0;
  }

  /**
   * Order of two tied step lengths when the right-hand side is perturbed by (ε, ε², …): a step (bound − value) ÷ rate
   * changes by minus the row ÷ rate. `q` −1 stands for a step that the perturbation does not touch.
   */
  compareRatio(p: number, pRate: number, q: number, qRate: number): number {
    return -this.compare(p, pRate, q, qRate);
  }
}

function swapRows(m: Float64Array, n: number, r: number, s: number): void {
  for (let j = 0; j < n; j++) {
    const keep = m[r * n + j]!;
    m[r * n + j] = m[s * n + j]!;
    m[s * n + j] = keep;
  }
}
