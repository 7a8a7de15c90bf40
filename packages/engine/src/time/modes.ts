/** Natural modes of a symmetric matrix. */

export interface Modes {
  /** Eigenvalues, in no order. */
  readonly values: readonly number[];
  /** `vectors[row][k]`: component of the k-th mode; the modes are orthonormal. */
  readonly vectors: readonly (readonly number[])[];
}

/** Sweeps after which what is left beside the diagonal is rounding: each one squares it. */
const MOST_SWEEPS = 30;

/**
 * Jacobi's method with cyclic rotations. `matrix` is n × n and symmetric; it is not changed.
 * Source: Golub and Van Loan, Matrix Computations, section 8.5 (Jacobi methods).
 */
export function modesOf(matrix: readonly (readonly number[])[]): Modes {
  const n = matrix.length;
  const a = matrix.map((row) => [...row]);
  const v = a.map((_, i) => a.map((__, k) => (i === k ? 1 : 0)));
  for (let sweep = 0; sweep < MOST_SWEEPS; sweep++) {
    let rotated = false;
    for (let p = 0; p < n; p++) {
      for (let q = p + 1; q < n; q++) {
        const beside = a[p]![q]!;
        if (Math.abs(beside) <= Number.EPSILON * Math.sqrt(Math.abs(a[p]![p]! * a[q]![q]!))) continue;
        rotated = true;
        rotate(a, v, p, q, beside);
      }
    }
    if (!rotated) break;
  }
  return { values: a.map((row, i) => row[i]!), vectors: v };
}

/** Turns the plane of p and q so that nothing is left between them. */
function rotate(a: number[][], v: number[][], p: number, q: number, beside: number): void {
  const lean = (a[q]![q]! - a[p]![p]!) / (2 * beside);
  const t = (lean >= 0 ? 1 : -1) / (Math.abs(lean) + Math.hypot(1, lean));
  const c = 1 / Math.hypot(1, t);
  const s = t * c;
  for (const row of a) turn(row, p, q, c, s);
  const [up, uq] = [a[p]!, a[q]!];
  for (let k = 0; k < a.length; k++) {
    const [one, other] = [up[k]!, uq[k]!];
    up[k] = c * one - s * other;
    uq[k] = s * one + c * other;
  }
  up[q] = 0;
  uq[p] = 0;
  for (const row of v) turn(row, p, q, c, s);
}

function turn(row: number[], p: number, q: number, c: number, s: number): void {
  const [one, other] = [row[p]!, row[q]!];
  row[p] = c * one - s * other;
  row[q] = s * one + c * other;
}
