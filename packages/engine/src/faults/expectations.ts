/** Expectations that hold with nothing wrong and fail with a fault: the beacon that stays dark. */
import type { Doings } from '../analysis/doings.ts';
import { verdictOn } from '../analysis/verdicts.ts';
import type { Expect, Predicate } from '../design/cases.ts';
import type { ComponentId, ComponentKind } from '../design/components.ts';
import type { Fault, LoadFault } from './contract.ts';
import type { Ground, Line } from './ground.ts';

/** What stands between an event and what is wanted of it is told by the zones and loads behind it. */
const BETWEEN: ReadonlySet<ComponentKind> = new Set(['zone', 'relay', 'contact', 'output', 'actuator', 'switch']);

export class Expectations {
  private readonly ground: Ground;
  /** Whether each expectation of a case holds with nothing wrong. */
  private readonly healthy = new Map<number, readonly boolean[]>();
  private readonly askedAbout = new Map<number, ReadonlyMap<ComponentId, readonly number[]>>();
  private restCases: ReadonlyMap<ComponentId, readonly number[]> | undefined;

  constructor(ground: Ground) {
    this.ground = ground;
  }

  /** Cases with expectations of rest itself about one of some parts. */
  atRest(parts: Iterable<ComponentId>): ReadonlySet<number> {
    this.restCases ??= this.findRestCases();
    const cases = new Set<number>();
    for (const part of parts) for (const index of this.restCases.get(part) ?? []) cases.add(index);
    return cases;
  }

  /** Whether a case expects anything of some parts. */
  asksAbout(index: number, parts: ReadonlySet<ComponentId>): boolean {
    for (const part of this.askedOf(index).keys()) if (parts.has(part)) return true;
    return false;
  }

  /** Of one case as it runs with the fault; only expectations about `parts` are looked at. */
  failing(
    fault: Fault,
    doings: Doings,
    index: number,
    line: Line,
    parts: ReadonlySet<ComponentId>,
  ): readonly LoadFault[] {
    const { design } = this.ground;
    const holds = this.holdsHealthy(index);
    const asked: number[] = [];
    for (const [part, places] of this.askedOf(index)) if (parts.has(part)) asked.push(...places);
    return asked
      .sort((a, b) => a - b)
      .flatMap((at) => {
        const asked = line.asked[at]!;
        const component = this.subject(asked.expect);
        if (component === undefined || holds[at] !== true) return [];
        const stillHolds = isDead(doings, component)
          ? holdsOfNothing(asked.expect.predicate)
          : verdictOn(asked, line.instants).holds;
        if (stillHolds !== false) return [];
        const { name: caseName } = design.cases[index]!;
        return [{ component, fault, case: index, caseName, expect: asked.expect }];
      });
  }

  private askedOf(index: number): ReadonlyMap<ComponentId, readonly number[]> {
    const known = this.askedAbout.get(index);
    if (known !== undefined) return known;
    const made = new Map<ComponentId, number[]>();
    this.ground.lines[index]!.asked.forEach(({ expect }, at) => {
      const subject = this.subject(expect);
      if (subject === undefined) return;
      const list = made.get(subject);
      if (list === undefined) made.set(subject, [at]);
      else list.push(at);
    });
    this.askedAbout.set(index, made);
    return made;
  }

  /** Cases without a turn or a wait, by what they expect something of. */
  private findRestCases(): ReadonlyMap<ComponentId, readonly number[]> {
    const found = new Map<ComponentId, number[]>();
    this.ground.design.cases.forEach((one, index) => {
      if (one.after !== undefined || one.steps.some(({ sort }) => sort !== 'expect')) return;
      for (const part of this.askedOf(index).keys()) found.set(part, [...(found.get(part) ?? []), index]);
    });
    return found;
  }

  private holdsHealthy(index: number): readonly boolean[] {
    const known = this.healthy.get(index);
    if (known !== undefined) return known;
    const { asked, instants } = this.ground.lines[index]!;
    const made = asked.map((one) => this.subject(one.expect) !== undefined && verdictOn(one, instants).holds === true);
    this.healthy.set(index, made);
    return made;
  }

  private subject({ subject }: Expect): ComponentId | undefined {
    const { components, terminals } = this.ground.design;
    const id = subject.sort === 'between' ? terminals[subject.a]!.component : subject.component;
    return BETWEEN.has(components[id]!.kind) ? undefined : id;
  }
}

/** A part that is gone or bridged shows nothing, whatever volts stand where it was. */
function isDead(doings: Doings, component: ComponentId): boolean {
  const alteration = doings.altered.get(component);
  return alteration === 'removed' || alteration === 'bridged';
}

function holdsOfNothing(predicate: Predicate): boolean {
  if (predicate.sort === 'state') return predicate.word === 'off';
  if (predicate.sort !== 'compare') return predicate.least <= 0 && predicate.most >= 0;
  const { operator, value } = predicate;
  if (operator === '>=') return value <= 0;
  if (operator === '>') return value < 0;
  return operator === '<=' ? value >= 0 : value > 0;
}
