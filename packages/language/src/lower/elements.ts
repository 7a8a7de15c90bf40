/** What stands in a chain: terminals that are joined, parts and poles that are passed through, cores. */
import type { TerminalId } from '@couplet/engine';
import type { Reference } from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';
import type { CoreLine, Part, Pass } from './part.ts';
import { endsAt, resolve, type Target } from './resolve.ts';
import type { Scope } from './scope.ts';
import type { Site } from './site.ts';
import type { Spot } from './spots.ts';

interface Named {
  readonly node: Reference;
  readonly name: string;
}

export type Element =
  /** More than one where a core with several legs goes on at its end. */
  | (Named & { readonly sort: 'terminal'; readonly terminals: readonly TerminalId[] })
  | (Named & {
      readonly sort: 'pass';
      readonly pass: Pass;
      readonly backwards: boolean;
      /** The switch that stands here by its name alone. */
      readonly alone?: Part;
    })
  | (Named & CoreElement)
  /** What could not be understood; it has been told. */
  | (Named & { readonly sort: 'gap' });

/** A core met in a chain. Which of its ends comes first follows from the places on either side. */
export interface CoreElement {
  readonly sort: 'core';
  readonly lines: readonly CoreLine[];
  readonly left: Spot;
  readonly right: Spot;
}

export function elementOf(site: Site, node: Reference, scope: Scope): Element {
  const target = resolve(site, node, scope);
  const named = { node, name: referenceText(node) };
  const gap: Element = { ...named, sort: 'gap' };
  if (target === undefined) {
    reportUnknown(site, node, scope);
    return gap;
  }
  switch (target.sort) {
    case 'missing':
      return gap;
    case 'earth':
      return { ...named, sort: 'terminal', terminals: [site.earthTerminal()] };
    case 'part':
      return ofPart(site, named, target.part);
    case 'point':
      return ofPoint(site, named, target);
    case 'pole':
      return ofPole(site, named, target);
    case 'core':
      return { ...named, sort: 'core', lines: target.lines, left: site.spots.fresh(), right: site.spots.fresh() };
    case 'core end': {
      const terminals = target.lines.flatMap((line) => endsAt(line, target.place));
      if (terminals.length > 0) return { ...named, sort: 'terminal', terminals };
      const place = site.places[target.place]?.name;
      site.report('core-end-unknown', node, `${target.lines[0]?.cable.name} has no end at ${place}.`);
      return gap;
    }
    case 'place':
      site.report('chain-element', node, `${named.name} is a place; a chain names terminals, parts, poles and cores.`);
      return gap;
    case 'other':
      site.report('chain-element', node, `${named.name} cannot stand in a chain: name a terminal, part, pole or core.`);
      return gap;
  }
}

/** Tells a name that leads nowhere, unless the linker has told it. */
export function reportUnknown(site: Site, node: Reference | undefined, scope: Scope): void {
  if (node?.head === undefined || hasLinkError(node)) return;
  const steps = node.steps.length;
  const head = scope.find(node.head.$refText);
  const name = referenceText(node);
  if (steps === 0 || head === undefined) {
    site.report('name-unknown', node, `There is no '${node.head.$refText}' on this site.`);
    return;
  }
  const last = node.steps.at(-1)?.parts.map((part) => part.$refText);
  site.report('name-unknown', node, `'${name}' leads nowhere: nothing there is called '${last?.join('-')}'.`);
}

function hasLinkError(node: Reference): boolean {
  if (node.head.error !== undefined) return true;
  return node.steps.some((step) => [...step.parts, ...step.doubled].some((part) => part.error !== undefined));
}

function ofPart(site: Site, named: Named, part: Part): Element {
  const { alone } = part;
  if (alone !== undefined && 'terminal' in alone) return { ...named, sort: 'terminal', terminals: [alone.terminal] };
  if (alone !== undefined) {
    return {
      ...named,
      sort: 'pass',
      pass: alone.pass,
      backwards: false,
      alone: part.kind === 'switch' ? part : undefined,
    };
  }
  site.report('chain-element', named.node, NAMED_ALONE[part.kind]?.(part) ?? `${part.name} cannot stand in a chain.`);
  return { ...named, sort: 'gap' };
}

/** What is wrong with naming a component of a kind alone, and what to write. */
const NAMED_ALONE: Readonly<Record<string, (part: Part) => string>> = {
  unit: (part) =>
    `${part.name} is a unit: name one of its terminals${suchAs(part, (each) => each.terminal !== undefined)}.`,
  relay: (part) =>
    `${part.name} is a relay: name its coil ${part.name}.A1-A2 or a contact${suchAs(
      part,
      (each) => each.component !== undefined && each.pass !== undefined,
    )}.`,
  switch: (part) =>
    `${part.name} has more than one contact or none: name the one that is meant${suchAs(
      part,
      (each) => each.pass !== undefined,
    )}.`,
  cable: (part) => `${part.name} is a cable: name one of its cores${suchAs(part, (each) => each.core !== undefined)}.`,
  supply: (part) => `${part.name} is not passed through: name ${part.name}.plus or ${part.name}.minus.`,
  battery: (part) => `${part.name} is not passed through: name ${part.name}.plus or ${part.name}.minus.`,
  joint: (part) =>
    `${part.name} has numbered terminals: name one of them${suchAs(part, (each) => each.terminal !== undefined)}.`,
  arrester: (part) =>
    `${part.name} has several lines: name the one that is meant${suchAs(part, (each) => each.pass !== undefined)}.`,
  assembly: (part) => `${part.name} is an assembly: name a terminal or part in it.`,
};

type Judge = (point: NonNullable<ReturnType<Part['points']['get']>>) => boolean;

function suchAs(part: Part, judge: Judge): string {
  for (const [name, point] of part.points) if (judge(point)) return `, such as ${part.name}.${name}`;
  return '';
}

function ofPoint(site: Site, named: Named, target: Extract<Target, { sort: 'point' }>): Element {
  const { point, part } = target;
  if (point.terminal !== undefined) return { ...named, sort: 'terminal', terminals: [point.terminal] };
  if (point.pass !== undefined) return { ...named, sort: 'pass', pass: point.pass, backwards: false };
  const component = point.component === undefined ? undefined : site.components[point.component];
  if (component !== undefined && 'a' in component && 'b' in component) {
    const names = [component.a, component.b].map((terminal) => site.terminals[terminal]?.name);
    const message = `${target.name} is a pair of terminals: name ${names.join(' or ')}.`;
    site.report('chain-element', named.node, message);
  } else if (component?.kind === 'actuator') {
    const pole = suchAs(part, (each) => isThrowOf(site, each.component, component.id));
    site.report('chain-element', named.node, `${target.name} is a changeover: name the pole that is meant${pole}.`);
  } else {
    site.report(
      'chain-element',
      named.node,
      `${target.name} is no terminal: a chain names terminals, parts and cores.`,
    );
  }
  return { ...named, sort: 'gap' };
}

function isThrowOf(site: Site, id: number | undefined, driver: number): boolean {
  const component = id === undefined ? undefined : site.components[id];
  return component?.kind === 'contact' && component.driver === driver;
}

function ofPole(site: Site, named: Named, target: Extract<Target, { sort: 'pole' }>): Element {
  const { pass, backwards, part } = target;
  if (pass !== undefined) return { ...named, sort: 'pass', pass, backwards };
  const poles = suchAs(part, (each) => each.pass !== undefined);
  site.report(
    'pole-unknown',
    named.node,
    `Nothing of ${part.name} lies between the terminals of ${target.name}${poles}.`,
  );
  return { ...named, sort: 'gap' };
}
