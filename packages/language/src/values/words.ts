/** Words for messages: lists, and the nearest of some names to a wrong one. */

/** 'a', 'a or b', 'a, b or c'. */
export function either(words: readonly string[], join = 'or'): string {
  if (words.length <= 1) return words[0] ?? '';
  return `${words.slice(0, -1).join(', ')} ${join} ${words.at(-1)}`;
}

/**
 * The name that somebody who wrote `wrong` most likely meant, or undefined where none is near: the same letters in
 * another case first, then fewest letters inserted, dropped, changed or swapped.
 */
export function nearest(wrong: string, names: Iterable<string>): string | undefined {
  const most = wrong.length <= 2 ? 1 : wrong.length <= 5 ? 2 : 3;
  const folded = wrong.toLowerCase();
  let best: string | undefined;
  let least = most + 1;
  for (const name of names) {
    if (name === wrong || Math.abs(name.length - wrong.length) >= least) continue;
    const distance = name.toLowerCase() === folded ? 0 : editDistance(folded, name.toLowerCase(), least);
    // A lonely letter is like its other case only; one letter for another of a two-letter name is no likeness.
    if (wrong.length === 1 && distance > 0) continue;
    if (distance >= least || distance >= Math.max(name.length, wrong.length)) continue;
    best = name;
    least = distance;
    if (distance === 0) break;
  }
  return best;
}

/** Letters to insert, drop, change or swap with their neighbour; at least `limit` where it is more than that. */
function editDistance(a: string, b: string, limit: number): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    let lowest = i;
    for (let j = 1; j <= b.length; j++) {
      const change = (row[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let cost = Math.min(change, (row[j] as number) + 1, (next[j - 1] as number) + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        cost = Math.min(cost, (before[j - 2] as number) + 1);
      }
      next.push(cost);
      lowest = Math.min(lowest, cost);
    }
    if (lowest >= limit) return limit;
    before = row;
    row = next;
  }
  return row[b.length] as number;
}

/** `; is 'x' meant?`, or nothing. */
export function meant(name: string | undefined): string {
  return name === undefined ? '' : ` Is '${name}' meant?`;
}
