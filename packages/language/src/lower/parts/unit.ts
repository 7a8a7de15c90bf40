/** Units: their members, the terminals that these name, modes and settings. */
import type { ComponentId, Origin, TerminalId, Unit } from '@couplet/engine';
import type { AstNode } from 'langium';
import type { MemberSpec } from '../bags.ts';
import type { Facts } from '../facts.ts';
import type { Pass } from '../part.ts';
import type { Mutable } from '../site.ts';
import { nameIn, PartBuilder } from './builder.ts';
import { MEMBERS } from './members.ts';

/** Commons and plain terminals come first, so that what others return to belongs to them. */
const ORDER = ['common', 'terminal', 'supply', 'rail', 'output', 'input', 'port', 'contact', 'zone'] as const;
const RANK = new Map<string, number>(ORDER.map((kind, i) => [kind, i]));

/** A member while it is made. */
export class MemberBuilder extends PartBuilder {
  readonly spec: MemberSpec;
  readonly own: Facts;
  readonly unit: ComponentId;

  constructor(unit: PartBuilder, id: ComponentId, spec: MemberSpec, own: Facts) {
    super(unit.site, unit.part);
    this.unit = id;
    this.spec = spec;
    this.own = own;
  }

  /** The same member with other facts: a port in one of its roles. */
  withOwn(own: Facts): MemberBuilder {
    return new MemberBuilder(this, this.unit, this.spec, own);
  }

  override head() {
    const { spec } = this;
    const description = spec.declaration.description;
    return this.inner(this.own, spec.name, this.unit, description.length === 0 ? undefined : description.join(' '));
  }

  /** The terminal that a property names; undefined where it is not given. */
  named(property: string, component: ComponentId): TerminalId | undefined {
    const named = nameIn(this.own.bag.get(property));
    return named === undefined ? undefined : this.terminal(named.name, component, this.own.at(named.node));
  }

  /** The terminal that a property names. Where it is missing, that is told, and the terminal is one of its own. */
  needed(properties: readonly string[], component: ComponentId, what: string): TerminalId {
    for (const property of properties) {
      const terminal = this.named(property, component);
      if (terminal !== undefined) return terminal;
    }
    const { name, kind, node } = this.spec;
    const wanted = properties.map((property) => `'${property}'`).join(' or ');
    this.site.report('property-missing', node, `${kind} ${this.part.name}.${name} needs ${wanted}: ${what}.`);
    return this.site.terminal(`${this.part.name}.${name}.${properties[0]}`, component, this.own.origin, this.part.spot);
  }

  /** The terminal with the member's own name. */
  ownTerminal(component: ComponentId): TerminalId {
    return this.terminal(this.spec.name, component, this.own.origin);
  }

  /** The member of a name, for `rail: V12`. */
  sibling(property: string): { name: string; node: AstNode } | undefined {
    return nameIn(this.own.bag.get(property));
  }

  at(node: AstNode): Origin {
    return this.own.at(node);
  }
}

export function buildUnit(b: PartBuilder): void {
  const { facts, part, site } = b;
  const id = b.next;
  part.id = id;
  const members: ComponentId[] = [];
  const settings: Mutable<Unit>['settings'][number][] = [];
  b.add<Unit>({
    kind: 'unit',
    ...b.head(),
    members,
    modes: b.modes(),
    settings,
    standing: facts.datum('standing'),
  });
  const specs = facts.bag.members().filter((spec) => RANK.has(spec.kind));
  const ordered = [...specs].sort((x, y) => (RANK.get(x.kind) as number) - (RANK.get(y.kind) as number));
  const feeds: Pass[] = [];
  for (const spec of ordered) {
    const bag = facts.bag.within(spec.name) ?? spec.bag;
    const subject = spec.kind === 'supply' ? 'feed' : spec.kind;
    const own = facts.of(bag, subject, site.origins.of(spec.node));
    const before = b.next;
    MEMBERS[spec.kind]?.(new MemberBuilder(b, id, spec, own));
    for (let member = before; member < b.next; member++) members.push(member);
    const made = site.components[before];
    if (made?.kind === 'feed') feeds.push({ component: before, first: made.a, second: made.b, repeat: 'once' });
  }
  const [feed] = feeds;
  if (feed !== undefined && feeds.length === 1) part.alone = { pass: feed };
  const kept = [...(site.settings.get(part) ?? [])].sort(([one], [other]) => (one < other ? -1 : 1));
  for (const [name, { program }] of kept) {
    const text = program.values.map((value) => value.$cstNode?.text ?? '').join(', ');
    settings.push({ name, text, origin: site.origins.of(program) });
  }
}
