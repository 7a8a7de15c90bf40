/** Which poles of a design lie to earth. */
import { DisjointSets } from '../disjoint.ts';
import type { TerminalId } from './components.ts';
import type { Design } from './design.ts';
import { eachReference } from './references.ts';

/**
 * Terminals that lie to earth, in the order in which a current to earth finds its way back. What is said to be earthed
 * comes first: an arrester that is wired to earth brings earth into a circuit, too, and is no way back.
 */
export function* earthedPoles(design: Design): Generator<TerminalId> {
  for (const part of design.components) {
    if (part.kind === 'common' && part.earthed?.word === 'yes') yield part.a;
    if (part.kind !== 'source') continue;
    if (part.earthed?.word === 'plus') yield part.a;
    if (part.earthed?.word === 'minus') yield part.b;
  }
  const { earth } = design;
  if (earth !== undefined && design.joins.some(({ a, b }) => a === earth || b === earth)) yield earth;
}

/** The earthed pole of the circuit that a terminal belongs to, whatever its contacts stand at; absent where none is. */
export function earthedPoleFor(design: Design, terminal: TerminalId): TerminalId | undefined {
  const circuits = new DisjointSets(design.terminals.length);
  for (const { a, b } of design.joins) circuits.unite(a, b);
  for (const part of design.components) {
    let first: TerminalId | undefined;
    eachReference(part, (sort, end) => {
      if (sort !== 'terminal') return;
      if (first === undefined) first = end;
      else circuits.unite(first, end);
    });
  }
  const circuit = circuits.find(terminal);
  for (const pole of earthedPoles(design)) if (circuits.find(pole) === circuit) return pole;
  return undefined;
}
