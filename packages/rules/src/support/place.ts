/** Where a finding about a component is shown: in the site's own text, under what the author wrote there. */
import type { ComponentId, Design, Origin, TerminalId } from '@couplet/engine';
import { wiringOf } from '../circuit/wiring.ts';

/**
 * A member of a unit is declared in a type, far from the mistake: what counts is the wire at its terminal. Everything
 * else is shown where it is declared.
 */
export function whereWired(design: Design, component: ComponentId, terminal?: TerminalId): Origin {
  const what = design.components[component];
  if (what === undefined) return design.site.origin;
  const owner = what.owner === undefined ? undefined : design.components[what.owner];
  if (owner?.kind !== 'unit') return what.origin;
  const wiring = wiringOf(design);
  const terminals = terminal === undefined ? wiring.terminalsOf(component) : [terminal];
  for (const one of terminals) {
    const join = wiring.joinsAt(one)[0];
    if (join !== undefined) return join.origin;
  }
  return what.origin;
}

/** Whether any terminal of a component has a wire. */
export function isConnected(design: Design, component: ComponentId): boolean {
  const wiring = wiringOf(design);
  return wiring.terminalsOf(component).some((terminal) => wiring.isWired(terminal));
}
