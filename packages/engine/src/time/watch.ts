/** Who looks at whom: outputs that follow zones, inputs and confirmations, and confirmations that count zones. */
import type { World } from '../analysis/world.ts';
import type { Component, ComponentId, ComponentOf, Follow } from '../design/components.ts';
import type { Design } from '../design/design.ts';

export class Watch {
  /** Outputs by what they follow. */
  readonly followers: ReadonlyMap<ComponentId, readonly ComponentId[]>;
  /** Confirmations by the zones that they count. */
  readonly confirms: ReadonlyMap<ComponentId, readonly ComponentId[]>;
  /** Outputs that follow anything. */
  readonly outputs: readonly ComponentId[];

  constructor(design: Design) {
    const followers = new Map<ComponentId, ComponentId[]>();
    const confirms = new Map<ComponentId, ComponentId[]>();
    const outputs: ComponentId[] = [];
    for (const part of design.components) {
      if (part.kind === 'confirm') for (const zone of part.zones) note(confirms, zone, part.id);
      if (part.kind !== 'output' || part.follows === undefined || part.follows.length === 0) continue;
      outputs.push(part.id);
      for (const { component } of part.follows) note(followers, component, part.id);
    }
    this.followers = followers;
    this.confirms = confirms;
    this.outputs = outputs;
  }

  /** Whether nothing in the site follows or confirms anything. */
  get isEmpty(): boolean {
    return this.followers.size === 0 && this.confirms.size === 0;
  }

  /** Outputs that hang on what a zone or input says, straight or through a confirmation. */
  followersOf(reader: ComponentId): readonly ComponentId[] {
    const straight = this.followers.get(reader) ?? [];
    const confirms = this.confirms.get(reader) ?? [];
    if (confirms.length === 0) return straight;
    return [...straight, ...confirms.flatMap((confirm) => this.followers.get(confirm) ?? [])];
  }

  /** Whether anything hangs on what a zone or input says. */
  isWatched(reader: ComponentId): boolean {
    return this.followers.has(reader) || this.confirms.has(reader);
  }
}

function note(map: Map<ComponentId, ComponentId[]>, key: ComponentId, id: ComponentId): void {
  const list = map.get(key);
  if (list === undefined) map.set(key, [id]);
  else if (!list.includes(id)) list.push(id);
}

export type Side = 'normal' | 'alarm' | 'trouble';

/** What a zone's class means to a confirmation; `normal` is its class at rest. */
export function sideOf(className: string | undefined, normal: string | undefined): Side {
  if (className === undefined) return 'trouble';
  const classes = className.split('+');
  if (classes.includes('alarm')) return 'alarm';
  return className === normal || classes.includes('normal') ? 'normal' : 'trouble';
}

/** Whether the sides of its zones confirm at one instant. */
export function confirmsNow(confirm: ComponentOf<'confirm'>, sides: readonly Side[]): boolean {
  const alarms = sides.filter((side) => side === 'alarm').length;
  if (alarms >= 2) return true;
  return alarms === 1 && confirm.partnerInTrouble?.word === 'counts-alone' && sides.includes('trouble');
}

/**
 * A confirmation at a settled instant, of zones that stand as they are: 'confirmed' or 'unconfirmed', the usual one
 * first; nothing where a zone's class is not known.
 */
export function steadyConfirm(
  confirm: ComponentOf<'confirm'>,
  world: World,
  states: (world: World, id: ComponentId) => readonly string[],
): readonly string[] {
  const choices: (readonly Side[])[] = [];
  for (const zone of confirm.zones) {
    const possible = states(world, zone);
    if (possible.length === 0) return [];
    const normal = states(world.rest ?? world, zone)[0];
    choices.push([...new Set(possible.map((name) => sideOf(name, normal)))]);
  }
  const word = (sides: readonly Side[]) => (confirmsNow(confirm, sides) ? 'confirmed' : 'unconfirmed');
  // Alarm everywhere and no alarm anywhere are the extremes; trouble counts for a partner only beside an alarm.
  const usual = word(choices.map((sides) => sides[0]!));
  const most = word(choices.map((sides) => (sides.includes('alarm') ? 'alarm' : sides[0]!)));
  const least = word(choices.map((sides) => sides.find((side) => side !== 'alarm') ?? sides[0]!));
  return [...new Set([usual, most, least])];
}

/** Whether any of what an output follows holds, by the usual state of each. */
export function followHolds(follows: readonly Follow[], stateOf: (id: ComponentId) => string | undefined): boolean {
  return follows.some(({ component, word }) => {
    const state = stateOf(component);
    return state !== undefined && (state === word || state.split('+').includes(word));
  });
}

/** What an output does while what it follows holds, and while it does not. One with a pattern pulses. */
export function followWord(output: ComponentOf<'output'>, holds: boolean): string {
  if (!holds) return 'off';
  return output.pattern === undefined ? 'on' : 'pulsing';
}

export function isOutput(part: Component | undefined): part is ComponentOf<'output'> {
  return part?.kind === 'output';
}
