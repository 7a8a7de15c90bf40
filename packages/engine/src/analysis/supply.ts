/** What a source delivers: its own current, or the sum of what all islands draw that hang on it. */
import type { Element, Layout } from '../build/index.ts';
import { ampsGauge, drawnGauge } from './gauges.ts';
import { type Range, type Ranged, rangeOf, sumOf, ZERO } from './range.ts';
import type { World } from './world.ts';

export function supplyAmps(
  world: World,
  source: Element,
  layout: Layout = world.layoutOf(world.regionOf(source)),
): Ranged {
  const island = layout.islandOf(source);
  if (island !== undefined) return rangeOf(world, island, ampsGauge(island, [source]));
  const parts: Range[] = [];
  for (const hanging of layout.hanging.get(source.component.id) ?? []) {
    const part = rangeOf(world, hanging, drawnGauge(hanging, source));
    if (part.sort === 'unknown') return part;
    if (part.sort === 'range') parts.push(part);
  }
  return parts.length === 0 ? ZERO : sumOf(parts);
}
