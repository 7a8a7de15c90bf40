/** Cases: situations read from top to bottom, and what is expected in them. */
import type {
  Case,
  Component,
  ComponentId,
  Datum,
  Expect,
  Predicate,
  Step,
  Subject,
  Turn,
  Wait,
} from '@couplet/engine';
import type {
  Case as CaseNode,
  Comparison,
  Expect as ExpectNode,
  Measure,
  Reference,
  Turn as TurnNode,
  Value,
} from '../generated/ast.ts';
import { isExpect, isTurn } from '../generated/ast.ts';
import { either } from '../values/words.ts';
import { reportUnknown } from './elements.ts';
import type { NamedValues } from './read.ts';
import { type Amount, readValue } from './read.ts';
import { componentOf, resolve, terminalOf } from './resolve.ts';
import { type Named, outermost, type Scope } from './scope.ts';
import type { Mutable, Site } from './site.ts';
import { expectsOf, faultsOf, namesOther, turnsOf } from './states.ts';

export class Cases {
  private readonly site: Site;
  private readonly named: NamedValues;

  constructor(site: Site, named: NamedValues) {
    this.site = site;
    this.named = named;
  }

  /** Gives every case its number; those called `rest` are one. */
  number(node: CaseNode, scope: Scope): void {
    const { site } = this;
    if (node.name === undefined || (scope.caseNames.has(node.name) && node.name !== 'rest')) return;
    const top = node.name === 'rest' ? outermost(scope) : scope;
    if (top.caseNames.has(node.name)) return;
    top.caseNames.set(node.name, site.cases.length);
    site.cases.push({
      name: node.name === 'rest' ? 'rest' : scope.prefix + node.name,
      description: node.description.length === 0 ? undefined : node.description.join(' '),
      steps: [],
      origin: site.origins.of(node),
    });
  }

  lower(node: CaseNode, scope: Scope): void {
    const { site } = this;
    const number = node.name === 'rest' ? outermost(scope).caseNames.get('rest') : scope.caseNames.get(node.name);
    const made = number === undefined ? undefined : (site.cases[number] as Mutable<Case> | undefined);
    if (made === undefined) return;
    if (made.steps.length > 0 && node.name !== 'rest') return;
    const steps = node.steps.flatMap((step) => this.step(step, scope, node.name === 'rest') ?? []);
    made.steps = [...made.steps, ...steps];
    if (node.after !== undefined) made.after = this.caseAt(node.after, scope);
  }

  /** The number of the case that a reference means: `high-water`, `B03.opened`. */
  caseAt(reference: Reference, scope: Scope): number | undefined {
    const names = [
      reference.head?.$refText,
      ...reference.steps.map((step) => step.parts.map((part) => part.$refText).join('-')),
    ];
    const last = names.pop();
    let around: Scope | undefined = scope;
    for (const name of names) {
      const named: Named | undefined = name === undefined ? undefined : around?.find(name);
      around = named?.sort === 'space' ? named.scope : undefined;
    }
    for (; around !== undefined && last !== undefined; around = names.length === 0 ? around.parent : undefined) {
      const number = around.caseNames.get(last);
      if (number !== undefined) return number;
    }
    return undefined;
  }

  private step(node: CaseNode['steps'][number], scope: Scope, rest: boolean): Step | undefined {
    if (isTurn(node)) {
      if (rest) {
        const message = "The case 'rest' turns nothing: write 'rest:' on the part, or 'program … rest = …'.";
        this.site.report('turn-at-rest', node, message);
        return undefined;
      }
      return this.turn(node, scope);
    }
    if (isExpect(node)) return this.expect(node, scope);
    const seconds = this.datum(node.duration, scope, 's');
    return seconds === undefined
      ? undefined
      : ({ sort: 'wait', seconds, origin: this.site.origins.of(node) } satisfies Wait);
  }

  // ---- turns ----

  private turn(node: TurnNode, scope: Scope): Turn | undefined {
    const target = this.component(node.target, scope, 'turned');
    const state = node.state?.word?.$refText;
    if (target === undefined || state === undefined) return undefined;
    const part = this.site.components[target] as Component;
    const other = node.state.other === undefined ? undefined : this.component(node.state.other, scope, 'named here');
    if (!this.checkTurn(node, part, state, other)) return undefined;
    const wait = node.duration === undefined ? undefined : this.datum(node.duration, scope, 's');
    return { sort: 'turn', target, state, other, for: wait, origin: this.site.origins.of(node) };
  }

  private checkTurn(node: TurnNode, part: Component, state: string, other: ComponentId | undefined): boolean {
    const faults = faultsOf(part);
    if (faults.includes(state)) {
      const word = namesOther(state);
      if (word === undefined || other !== undefined || node.state.other !== undefined) return true;
      const message = `'${state}' needs the other part: 'turn ${part.name} ${state} ${word} …'.`;
      this.site.report('state-wrong', node.state, message);
      return false;
    }
    const states = turnsOf(part);
    if (states.includes(state)) return true;
    const choices = [...states, ...faults];
    const message =
      choices.length === 0
        ? `${part.name} cannot be turned.`
        : `${part.name} cannot be turned '${state}': write ${either(choices)}.`;
    this.site.report('state-wrong', choices.length === 0 ? node.target : node.state, message);
    return false;
  }

  // ---- expectations ----

  private expect(node: ExpectNode, scope: Scope): Expect | undefined {
    const subject = node.measure === undefined ? this.subjectOf(node, scope) : this.measured(node.measure, scope);
    const predicate = subject === undefined ? undefined : this.predicate(node, subject, scope);
    if (subject === undefined || predicate === undefined) return undefined;
    const within = node.within === undefined ? undefined : this.datum(node.within, scope, 's');
    const times = node.times === undefined ? undefined : Number.parseInt(node.times, 10);
    const origin = this.site.origins.of(node);
    return { sort: 'expect', subject, predicate, within, times, throughout: node.throughout || undefined, origin };
  }

  private subjectOf(node: ExpectNode, scope: Scope): Subject | undefined {
    const component = node.target === undefined ? undefined : this.component(node.target, scope, 'expected');
    if (component === undefined) return undefined;
    return { sort: 'component', component: node.comparison === undefined ? component : this.fedBy(component) };
  }

  /** Volts and amperes of a unit with one supply are those of the supply. */
  private fedBy(id: ComponentId): ComponentId {
    const part = this.site.components[id];
    if (part?.kind !== 'unit') return id;
    const feeds = part.members.filter((member) => this.site.components[member]?.kind === 'feed');
    return feeds.length === 1 ? (feeds[0] as ComponentId) : id;
  }

  measured(node: Measure, scope: Scope): Subject | undefined {
    if (node.quantity === 'amps') {
      const component = this.component(node.from, scope, 'measured');
      return component === undefined ? undefined : { sort: 'amps', component };
    }
    const a = this.terminal(node.from, scope);
    const b = this.terminal(node.to, scope);
    if (a === undefined || b === undefined || node.quantity === undefined) return undefined;
    return { sort: 'between', quantity: node.quantity, a, b };
  }

  private terminal(reference: Reference | undefined, scope: Scope): number | undefined {
    const target = resolve(this.site, reference, scope);
    const terminal = terminalOf(this.site, target);
    if (terminal !== undefined || reference === undefined) return terminal;
    if (target === undefined) reportUnknown(this.site, reference, scope);
    else if (target.sort !== 'missing') {
      this.site.report('terminal-needed', reference, `A terminal is needed here; ${textOf(reference)} is none.`);
    }
    return undefined;
  }

  private predicate(node: ExpectNode, subject: Subject, scope: Scope): Predicate | undefined {
    if (node.comparison !== undefined) return this.compare(node.comparison, scope);
    const word = node.state?.word?.$refText;
    if (word === undefined || subject.sort !== 'component') return undefined;
    const part = this.site.components[subject.component] as Component;
    const states = expectsOf(part);
    // Which classes a zone has, its scheme says; where that is missing nothing can be checked.
    if (part.kind === 'zone' && part.scheme === undefined) return { sort: 'state', word };
    if (states.includes(word)) return { sort: 'state', word };
    const message =
      states.length === 0
        ? `No state can be expected of ${part.name}; expect a figure: 'expect ${part.name} >= …'.`
        : `${part.name} is never '${word}': write ${either(states)}.`;
    this.site.report('state-wrong', node.state ?? node, message);
    return undefined;
  }

  private compare(node: Comparison, scope: Scope): Predicate | undefined {
    const amount = this.amount(node.value, scope);
    if (amount === undefined) return undefined;
    const { least, usual, most, dimension, form } = amount;
    if (node.operator === undefined) {
      if (form !== 'single') return { sort: 'range', least, most, dimension };
      const text = node.value.$cstNode?.text ?? '';
      const message = `Say how it compares: '>= ${text}', '<= ${text}', 'about ${text}' or a range.`;
      this.site.report('comparison-missing', node, message);
      return undefined;
    }
    if (node.operator !== 'about') {
      return { sort: 'compare', operator: TYPED_SIGNS[node.operator] ?? node.operator, value: usual, dimension };
    }
    if (form !== 'single') return { sort: 'about', value: usual, least, most, dimension };
    const slack = Math.abs(usual) * ABOUT;
    return { sort: 'about', value: usual, least: usual - slack, most: usual + slack, dimension };
  }

  // ---- values and parts ----

  amount(value: Value | undefined, scope: Scope): Amount | undefined {
    const read = value === undefined ? undefined : readValue(value, scope, this.named);
    return read?.sort === 'amount' ? read : undefined;
  }

  datum(value: Value | undefined, scope: Scope, dimension: string): Datum | undefined {
    const amount = this.amount(value, scope);
    if (amount === undefined || amount.dimension !== dimension) return undefined;
    return this.site.reader.datum(amount, undefined);
  }

  /** The component that a reference means; what is none is told. */
  component(reference: Reference | undefined, scope: Scope, verb: string): ComponentId | undefined {
    const target = resolve(this.site, reference, scope);
    const id = componentOf(target);
    if (id !== undefined || reference === undefined) return id;
    if (target === undefined) reportUnknown(this.site, reference, scope);
    else if (target.sort !== 'missing') {
      const message = `${textOf(reference)} cannot be ${verb}: name a component or a member of one.`;
      this.site.report('component-needed', reference, message);
    }
    return undefined;
  }
}

/** `about` holds within this share where no tolerance is given: language.md, 'Time in a case'. */
const ABOUT = 0.01;

/** Comparisons as they may be typed too; the tree holds what was typed. */
const TYPED_SIGNS: Readonly<Record<string, '>=' | '<='>> = { '\u2265': '>=', '\u2264': '<=' };

function textOf(reference: Reference): string {
  return reference.$cstNode?.text ?? '';
}
