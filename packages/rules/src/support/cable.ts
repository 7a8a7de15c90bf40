/** Whether more copper would cure a finding, tried by solving again. */
import { CABLE_SECTIONS, type Change, type ComponentId, type Design, type Moment, NO_ORIGIN } from '@couplet/engine';
import { circuitOf, componentOf } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import type { Cure, RuleContext } from '../rule.ts';
import { show } from './words.ts';

export type CableCure =
  | {
      readonly sort: 'section';
      readonly cable: ComponentId;
      readonly name: string;
      readonly mm2: number;
      /** That section, and larger ones in case it does not cure everything. */
      readonly cures: readonly Cure[];
    }
  /** Cores of no resistance would not do either. */
  | { readonly sort: 'none' }
  /** Thicker cores would do, but the section that there is now is not given, or none that is made is thick enough. */
  | { readonly sort: 'unknown' }
  /** There is no cable. */
  | { readonly sort: 'absent' };

/** Sections from the first that does, of which one is hoped to cure everything. */
const MOST_SECTIONS = 3;

/** Less than any cable has: what is left when all its copper is taken away. */
const NEXT_TO_NOTHING = 1e-6;

/**
 * The smallest section of one cable with which `clears` holds at the same moment, so that nothing is left to say; else
 * the smallest with which `passes` does.
 */
export function cureByCable(
  context: RuleContext,
  moment: Moment,
  component: ComponentId,
  passes: (changed: Moment) => boolean,
  clears: (changed: Moment) => boolean = passes,
): CableCure {
  const { design } = context;
  const cables = cablesFeeding(context, component);
  const sized = cables.filter(({ section }) => section !== undefined);
  if (cables.length === 0) return { sort: 'absent' };
  const all = cables.flatMap(({ cores }) => cores);
  if (!passes(moment.vary(scaled(all, NEXT_TO_NOTHING)))) return { sort: 'none' };

  for (const holds of clears === passes ? [passes] : [clears, passes]) {
    const found = smallestSection(design, moment, sized, holds);
    if (found !== undefined) return found;
  }
  return { sort: 'unknown' };
}

function smallestSection(
  design: Design,
  moment: Moment,
  sized: ReturnType<typeof cablesFeeding>,
  holds: (changed: Moment) => boolean,
): CableCure | undefined {
  for (const { cable, cores, section } of sized) {
    const larger = CABLE_SECTIONS.filter((each) => each > section! * 1.001);
    const enough = larger.findIndex((mm2) => holds(moment.vary(scaled(cores, section! / mm2))));
    if (enough < 0) continue;
    const { name, section: datum } = componentOf(design, cable, 'cable')!;
    const origin = datum?.origin ?? NO_ORIGIN;
    const cures = larger.slice(enough, enough + MOST_SECTIONS).map((mm2) => ({
      title: `Use ${show(mm2, 'mm2')} for ${name}`,
      safe: false,
      edits: [{ origin, text: `${mm2} mm2` }],
      changes: scaled(cores, section! / mm2),
    }));
    return { sort: 'section', cable, name, mm2: larger[enough]!, cures: origin === NO_ORIGIN ? [] : cures };
  }
  return undefined;
}

/** Cables whose cores carry the current of a component: those in its circuit and in the copper at its ends. */
function cablesFeeding(
  context: RuleContext,
  component: ComponentId,
): readonly { readonly cable: ComponentId; readonly cores: readonly ComponentId[]; readonly section?: number }[] {
  const { design } = context;
  const wiring = wiringOf(design);
  const cores = new Set<ComponentId>();
  for (const part of circuitOf(design, component)) {
    for (const node of [part.a, part.b, ...wiring.copperFrom(part.a), ...wiring.copperFrom(part.b)]) {
      for (const near of wiring.partsAt(node)) {
        if (componentOf(design, near.component, 'core') !== undefined) cores.add(near.component);
      }
    }
  }
  const byCable = new Map<ComponentId, ComponentId[]>();
  for (const id of [...cores].sort((one, other) => one - other)) {
    const core = componentOf(design, id, 'core')!;
    byCable.set(core.cable, [...(byCable.get(core.cable) ?? []), id]);
  }
  return [...byCable].map(([cable, ids]) => ({
    cable,
    cores: ids,
    section: componentOf(design, cable, 'cable')?.section?.usual,
  }));
}

function scaled(cores: readonly ComponentId[], factor: number): readonly Change[] {
  return cores.map((component) => ({ sort: 'scale', component, factor }));
}

/** What the outcome means, as a sentence of a message; `otherwise` says what specification would do where no cable can. */
export function sayCable(cure: CableCure, otherwise: string): string {
  if (cure.sort === 'section') return `With ${show(cure.mm2, 'mm2')} for ${cure.name} it would do.`;
  if (cure.sort === 'absent') return `${otherwise.slice(0, 1).toUpperCase()}${otherwise.slice(1)}`;
  if (cure.sort === 'none') return `No cable can cure it: ${otherwise}`;
  return `It takes less resistance in the cable, or else ${otherwise}`;
}
