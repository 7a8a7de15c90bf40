/** What cores may carry. */
import { type ComponentOf, coreCapacity } from '@couplet/engine';
import { componentOf } from '../circuit/circuits.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from './coil.ts';
import { lacks } from './instants.ts';

/** What a core carries: as declared, or by its section. A missing section is a gap. */
export function capacityOf(
  context: RuleContext,
  core: ComponentOf<'core'>,
): { readonly amps: number; readonly assumptions: readonly string[] } | undefined {
  if (core.capacity !== undefined) return { amps: core.capacity.least, assumptions: assumptionOf(core.capacity) };
  const section = componentOf(context.design, core.cable, 'cable')?.section;
  if (section === undefined) {
    lacks(context, core.id, 'size', core.cable);
    return undefined;
  }
  const { amps, assumption } = coreCapacity(section.usual);
  return { amps, assumptions: [...assumptionOf(section), assumption] };
}
