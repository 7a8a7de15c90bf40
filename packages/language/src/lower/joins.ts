/** Joins of chains, once it is known which way round each core is met. */
import type { Join, Origin, TerminalId } from '@couplet/engine';
import { isBond } from '../generated/ast.ts';
import type { Chain } from './chains.ts';
import type { Element } from './elements.ts';
import type { Run } from './runs.ts';
import type { Site } from './site.ts';

export function joinChains(site: Site, chains: readonly Chain[], runs: ReadonlyMap<Element, Run>): void {
  /** Two ends are joined once, however many chains say so: one return of two circuits is one wire. */
  const joined = new Map<number, number>();
  const most = site.terminals.length;
  const tie = (a: TerminalId, b: TerminalId, origin: Origin, bond?: Join['bond']) => {
    if (a === b) return;
    const key = Math.min(a, b) * most + Math.max(a, b);
    const before = joined.get(key);
    if (before === undefined) {
      joined.set(key, site.joins.length);
      site.joins.push(bond === undefined ? { a, b, origin } : { a, b, origin, bond });
    } else if (bond !== undefined && site.joins[before]?.bond === undefined) {
      site.joins[before] = { a, b, origin, bond };
    }
  };
  for (const { node, scope, elements } of chains) {
    const bond = isBond(node) ? { because: node.reason.join(' ') } : undefined;
    site.origins.within(scope.use, () => {
      let before: { readonly ends: readonly TerminalId[]; readonly element: Element } | undefined;
      for (const element of elements) {
        const way = wayOf(element, runs);
        if (way === undefined) {
          before = undefined;
          continue;
        }
        const [enter] = way.enter;
        const [leave] = before?.ends ?? [];
        if (before !== undefined && enter !== undefined && leave !== undefined) {
          const origin = site.origins.stretch(node, before.element.node.$cstNode, element.node.$cstNode);
          tie(leave, enter, origin, bond);
        }
        const together = way.enter.length > 1 || way.leave.length > 1 || way.between.length > 0;
        if (together) {
          const origin = site.origins.of(element.node);
          for (const end of way.enter.slice(1)) tie(enter as TerminalId, end, origin);
          for (const end of way.leave.slice(1)) tie(way.leave[0] as TerminalId, end, origin);
          for (const [a, b] of way.between) tie(a, b, origin);
        }
        before = { ends: way.leave, element };
      }
    });
  }
}

function wayOf(element: Element, runs: ReadonlyMap<Element, Run>): Run | undefined {
  switch (element.sort) {
    case 'gap':
      return undefined;
    case 'terminal':
      return { enter: element.terminals, leave: element.terminals, between: [] };
    case 'pass': {
      const { first, second } = element.pass;
      const [one, other] = element.backwards ? [second, first] : [first, second];
      return { enter: [one], leave: [other], between: [] };
    }
    case 'core':
      return runs.get(element);
  }
}
