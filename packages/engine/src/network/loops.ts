/** Laws that lie on a loop of laws without ohms: nothing says how a current divides between them. */

/** The edges (indices into `from` and `to`, node numbers) that lie on some loop; an edge from a node to itself does. */
export function edgesOnLoops(from: readonly number[], to: readonly number[]): number[] {
  const at = new Map<number, number[]>();
  for (let e = 0; e < from.length; e++) {
    for (const n of [from[e]!, to[e]!]) {
      const list = at.get(n);
      if (list === undefined) at.set(n, [e]);
      else list.push(e);
    }
  }
  // An edge is a bridge when nothing below it reaches back above it (Tarjan's low points).
  const onLoop = new Array<boolean>(from.length).fill(true);
  const entered = new Map<number, number>();
  const low = new Map<number, number>();
  for (const root of at.keys()) {
    if (entered.has(root)) continue;
    const stack: { node: number; via: number; next: number }[] = [{ node: root, via: -1, next: 0 }];
    entered.set(root, entered.size);
    low.set(root, entered.get(root)!);
    while (stack.length > 0) {
      const top = stack[stack.length - 1]!;
      const edge = at.get(top.node)![top.next++];
      if (edge === undefined) {
        stack.pop();
        const above = stack[stack.length - 1];
        if (above === undefined) break;
        low.set(above.node, Math.min(low.get(above.node)!, low.get(top.node)!));
        if (low.get(top.node)! > entered.get(above.node)!) onLoop[top.via] = false;
        continue;
      }
      if (edge === top.via) continue;
      const other = from[edge] === top.node ? to[edge]! : from[edge]!;
      const met = entered.get(other);
      if (met !== undefined) {
        low.set(top.node, Math.min(low.get(top.node)!, met));
        continue;
      }
      entered.set(other, entered.size);
      low.set(other, entered.get(other)!);
      stack.push({ node: other, via: edge, next: 0 });
    }
  }
  return onLoop.flatMap((loop, e) => (loop ? [e] : []));
}
