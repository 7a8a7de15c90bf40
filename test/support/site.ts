/**
 * Designs written by hand for tests. Chains are written as in a site file: `K1.A1-A2`, `W1.GN` and two-terminal parts
 * are passed through, everything else is joined; `!D1` passes a part backwards.
 */
import type {
  Acceptance,
  Autonomy,
  Case,
  Choice,
  Component,
  Design,
  Expect,
  PlaceId,
  Predicate,
  Reading,
  Step,
  Subject,
  TerminalId,
  Turn,
  Uncomputed,
} from '@couplet/engine';
import { type Amount, choice, datum } from './data.ts';
import { PartsBuilder } from './parts.ts';

interface Through {
  readonly enter: TerminalId;
  readonly leave: TerminalId;
}

export class SiteBuilder extends PartsBuilder {
  readonly cases: Case[] = [];
  readonly autonomies: Autonomy[] = [];
  readonly acceptances: Acceptance[] = [];
  readonly readings: Reading[] = [];
  readonly spares: TerminalId[] = [];
  readonly uncomputed: Uncomputed[] = [];

  /** A chain, plus to minus. */
  wire(...chain: readonly string[]): this {
    this.link(chain);
    return this;
  }

  bond(because: string, ...chain: readonly string[]): this {
    this.link(chain, { because });
    return this;
  }

  spare(...names: readonly string[]): this {
    for (const name of names) {
      const terminal = this.terminalByName.get(name);
      if (terminal !== undefined) this.spares.push(terminal);
      else this.spares.push(...this.endsOf(this.component(name)));
    }
    return this;
  }

  /** `carries` by case: hours. */
  autonomy(
    battery: string,
    carries: Readonly<Record<string, number>>,
    facts: Partial<Pick<Autonomy, 'ageing' | 'recharge'>> = {},
  ): this {
    const origin = this.freshOrigin();
    const list = Object.entries(carries).map(([caseName, hours]) => ({
      caseName,
      seconds: datum(hours * 3600),
      origin,
    }));
    this.autonomies.push({ battery: this.id(battery), carries: list, origin, ...facts });
    return this;
  }

  case(name: string, ...steps: readonly Step[]): this {
    this.cases.push({ name, steps, origin: this.freshOrigin() });
    return this;
  }

  caseAfter(name: string, after: string, ...steps: readonly Step[]): this {
    const index = this.cases.findIndex((other) => other.name === after);
    if (index < 0) throw new Error(`The test's site has no case ${after}`);
    this.cases.push({ name, after: index, steps, origin: this.freshOrigin() });
    return this;
  }

  turn(target: string, state: string, facts: { for?: Amount; other?: string } = {}): Turn {
    return {
      sort: 'turn',
      target: this.id(target),
      state,
      ...(facts.for === undefined ? {} : { for: datum(facts.for) }),
      ...(facts.other === undefined ? {} : { other: this.id(facts.other) }),
      origin: this.freshOrigin(),
    };
  }

  wait(seconds: Amount): Step {
    return { sort: 'wait', seconds: datum(seconds), origin: this.freshOrigin() };
  }

  expect(
    subject: string | Subject,
    predicate: string | Predicate,
    facts: { within?: Amount; times?: number; throughout?: boolean } = {},
  ): Expect {
    return {
      sort: 'expect',
      subject: typeof subject === 'string' ? { sort: 'component', component: this.id(subject) } : subject,
      predicate: typeof predicate === 'string' ? { sort: 'state', word: predicate } : predicate,
      ...(facts.within === undefined ? {} : { within: datum(facts.within) }),
      ...(facts.times === undefined ? {} : { times: facts.times }),
      ...(facts.throughout === undefined ? {} : { throughout: facts.throughout }),
      origin: this.freshOrigin(),
    };
  }

  accept(rule: string, target: string, because: string, facts: { fault?: string; until?: string } = {}): this {
    this.acceptances.push({
      rule,
      targets: [this.id(target)],
      targetName: target,
      because,
      origin: this.freshOrigin(),
      ...facts,
    });
    return this;
  }

  read(reading: Omit<Reading, 'origin'>): this {
    this.readings.push({ ...reading, origin: this.freshOrigin() });
    return this;
  }

  build(): Design {
    const components = this.components.map((component) => {
      if (component.kind !== 'unit') return component;
      return { ...component, members: this.members.get(component.id) ?? [] };
    });
    return {
      site: { title: this.title, origin: -1, limits: [], ...this.facts },
      fragment: false,
      places: this.places,
      terminals: this.terminals,
      components,
      joins: this.joins,
      ...(this.earthTerminal === undefined ? {} : { earth: this.earthTerminal }),
      cases: this.cases,
      autonomies: this.autonomies,
      acceptances: this.acceptances,
      readings: this.readings,
      spare: this.spares,
      uncomputed: this.uncomputed,
    };
  }

  private endsOf(part: Component): TerminalId[] {
    return 'a' in part && 'b' in part ? [part.a, part.b] : [];
  }

  private link(chain: readonly string[], bond?: { because: string }): void {
    let previous: TerminalId | undefined;
    let here: PlaceId | undefined;
    for (const name of chain) {
      const { enter, leave } = this.through(name, here);
      here = this.placeOf(leave) ?? here;
      if (previous !== undefined) {
        this.joins.push({ a: previous, b: enter, origin: this.freshOrigin(), ...(bond === undefined ? {} : { bond }) });
      }
      previous = leave;
    }
  }

  /** Where a chain enters and leaves what is named in it. */
  private through(name: string, here: PlaceId | undefined): Through {
    const terminal = this.terminalByName.get(name);
    if (terminal !== undefined) return { enter: terminal, leave: terminal };
    const reversed = name.startsWith('!');
    const bare = reversed ? name.slice(1) : name;
    const turn = (a: TerminalId, b: TerminalId) => (reversed ? { enter: b, leave: a } : { enter: a, leave: b });
    const pole = /^(.+)\.([^.-]+)-([^.-]+)$/.exec(bare);
    if (pole) return turn(this.terminal(`${pole[1]}.${pole[2]}`), this.terminal(`${pole[1]}.${pole[3]}`));
    const part = this.component(bare);
    if (part.kind === 'switch') {
      const [a, b] = this.endsOf(this.components[part.contacts[0]!]!);
      return turn(a!, b!);
    }
    if (part.kind === 'actuator') {
      const contact = this.components.find((other) => other.kind === 'contact' && other.driver === part.id);
      const [a, b] = this.endsOf(contact!);
      return turn(a!, b!);
    }
    const [a, b] = this.endsOf(part);
    if (a === undefined || b === undefined) throw new Error(`${name} cannot stand in a chain`);
    if (part.kind === 'core' && here !== undefined && here === this.terminals[b]!.place) {
      return turn(b, a);
    }
    return turn(a, b);
  }

  private placeOf(terminal: TerminalId): PlaceId | undefined {
    const { place, component } = this.terminals[terminal]!;
    return place ?? this.components[component]?.place;
  }
}

/** A choice made by a word, for a part's data. */
export function word<W extends string>(text: W): Choice<W> {
  return choice(text);
}
