/** Loops that get damp: leakage between their cores is to be expected. */
import type { Design, Zone } from '@couplet/engine';
import { componentOf, pairCores } from '../circuit/circuits.ts';

/** Routes on which joints and sheaths get wet. */
const WET_ROUTES: ReadonlySet<string> = new Set(['outdoor', 'buried', 'overhead']);

/** A loop that runs outdoors, or has an end in a wet place. */
export function isDamp(design: Design, zone: Zone): boolean {
  return pairCores(design, zone).some((core) => {
    const cable = componentOf(design, core.cable, 'cable');
    if (cable?.route !== undefined && WET_ROUTES.has(cable.route.word)) return true;
    return [core.a, core.b].some((end) => {
      const place = design.terminals[end]?.place;
      return place !== undefined && design.places[place]?.wet?.word === 'yes';
    });
  });
}
