/** What each kind of member becomes. */
import type { Actuator, Choice, Common, Feed, Input, Output, Plain, Source, Zone } from '@couplet/engine';
import type { MemberKind } from '../../generated/ast.ts';
import { Bag, bodyItems } from '../bags.ts';
import type { Mutable } from '../site.ts';
import { addThrow, drivenState } from './contacts.ts';
import { schemeOf } from './scheme.ts';
import { assumeFloat } from './source.ts';
import type { MemberBuilder } from './unit.ts';

const RETURN = 'the common or terminal that its current comes back to';

function buildCommon(m: MemberBuilder): void {
  const id = m.next;
  const a = m.ownTerminal(id);
  m.point(m.spec.name, { component: id });
  m.add<Common>({ kind: 'common', ...m.head(), a, earthed: m.own.choice('earthed') });
}

function buildTerminal(m: MemberBuilder): void {
  const id = m.next;
  const a = m.ownTerminal(id);
  m.point(m.spec.name, { component: id });
  m.add<Plain>({ kind: 'terminal', ...m.head(), a });
}

function buildFeed(m: MemberBuilder): void {
  const id = m.next;
  const a = m.needed(['plus'], id, 'the terminal at its plus side, as printed on the unit');
  const b = m.needed(['minus'], id, 'the terminal at its minus side, as printed on the unit');
  m.point(m.spec.name, { component: id, returns: b });
  m.add<Feed>({ kind: 'feed', ...m.head(), a, b, works: m.own.datum('works'), draws: m.own.datum('draws') });
}

function buildRail(m: MemberBuilder): void {
  const { own, site } = m;
  const id = m.next;
  const a = m.named('plus', id) ?? m.ownTerminal(id);
  const b = m.needed(['return'], id, RETURN);
  m.point(m.spec.name, { component: id, returns: b });
  m.add<Source>({
    kind: 'source',
    sort: 'rail',
    ...m.head(),
    a,
    b,
    volts: own.datum('volts', 'V'),
    limit: own.datum('limit'),
    ohms: own.datum('ohms'),
    ownDraw: own.datum('own-draw'),
    chargeLimit: own.datum('charge-limit'),
    earthed: own.choice('earthed'),
  });
  site.later.push(() => {
    const source = site.components[id] as Mutable<Source>;
    const feed = m.sibling('fed-by');
    source.fedBy = m.part.points.get(feed?.name ?? '')?.component ?? m.thing('fed-by', own);
    source.charges = m.thing('charges', own);
    assumeFloat(site, source);
  });
}

function buildOutput(m: MemberBuilder): void {
  const { own, site } = m;
  const style = own.choice<'sink' | 'source' | 'push-pull'>('style');
  if (style === undefined) {
    const message = `output ${m.part.name}.${m.spec.name} needs 'style': sink, source or push-pull.`;
    site.report('property-missing', m.spec.node, message);
    buildTerminal(m);
    return;
  }
  const id = m.next;
  const a = m.ownTerminal(id);
  const returns = m.named('return', id);
  m.point(m.spec.name, { component: id, returns });
  const pattern = own.pair('pattern');
  m.add<Output>({
    kind: 'output',
    ...m.head(),
    a,
    style,
    returns,
    rated: own.datum('rated'),
    peak: peakOf(m),
    limits: own.datum('limit'),
    drop: own.datum('drop'),
    ohms: own.datum('ohms'),
    leak: own.datum('leak'),
    withstands: own.datum('withstands'),
    clamp: own.datum('clamp'),
    bodyDiode: own.choice('body-diode'),
    pattern: pattern?.right === undefined ? undefined : { on: pattern.left, off: pattern.right },
    rest: own.choice<'on' | 'off' | 'pulsing'>('rest') ?? { word: 'off', origin: own.origin },
    unpowered: own.choice('unpowered'),
    atPowerUp: own.choice('at-power-up'),
    pulseLength: own.datum('pulse-length'),
    repeats: own.datum('repeats'),
  });
  if (own.has('follows')) site.followers.push({ output: id, facts: own });
  site.later.push(() => {
    const rail = m.sibling('rail');
    if (rail !== undefined) (site.components[id] as Mutable<Output>).rail = m.part.points.get(rail.name)?.component;
  });
}

function peakOf(m: MemberBuilder): Output['peak'] {
  const pair = m.own.pair('peak');
  return pair === undefined ? undefined : { amps: pair.left, seconds: pair.right };
}

function buildInput(m: MemberBuilder): void {
  const { own } = m;
  const id = m.next;
  const a = m.named('plus', id) ?? m.ownTerminal(id);
  const b = m.needed(['minus', 'return'], id, 'the terminal at its minus side');
  m.point(m.spec.name, { component: id, returns: b });
  const feed = own.pair('feed');
  m.add<Input>({
    kind: 'input',
    ...m.head(),
    a,
    b,
    ohms: own.datum('ohms'),
    drop: own.datum('drop'),
    feedVolts: feed?.left,
    feedOhms: feed?.right,
    on: thresholdOf(m, 'on', 'above'),
    off: thresholdOf(m, 'off', 'below'),
    responds: own.datum('responds'),
  });
}

function thresholdOf<S extends 'above' | 'below'>(
  m: MemberBuilder,
  name: 'on' | 'off',
  side: S,
): ({ readonly [K in S]: number } & { readonly unit: 'A' | 'V'; readonly origin: number }) | undefined {
  const read = m.own.values(name)[0];
  if (read?.sort !== 'half-open' || read.side !== side) return undefined;
  if (read.dimension !== 'A' && read.dimension !== 'V') return undefined;
  const edge = { [side]: side === 'above' ? read.from : read.to } as { readonly [K in S]: number };
  return { ...edge, unit: read.dimension, origin: m.own.at(read.node) };
}

/** A port is what it is programmed as; until then it is a terminal, and using it is told. */
function buildPort(m: MemberBuilder): void {
  const role = m.own.given('as')?.word;
  const group = role === undefined ? undefined : m.own.bag.group(`as ${role}`);
  if (group === undefined || (role !== 'output' && role !== 'input')) {
    buildTerminal(m);
    m.site.undecided.push(m.ownTerminal(m.next - 1));
    return;
  }
  const bag = new Bag(m.own.bag);
  bag.read(bodyItems(group.body), m.part.scope);
  const cast = m.withOwn(m.own.of(bag, role, m.own.origin));
  const id = m.next;
  if (role === 'output') buildOutput(cast);
  else buildInput(cast);
  const made = m.site.components[id] as Mutable<Output | Input> | undefined;
  if (made?.kind === role) made.port = true;
}

function buildContact(m: MemberBuilder): void {
  const { own, spec } = m;
  const terminals = new Map(
    ['from', 'to', 'common', 'nc', 'no'].map((property) => [property, m.sibling(property)?.name]),
  );
  const from = terminals.get('from') ?? terminals.get('common');
  const common = terminals.get('common');
  const changeover = common !== undefined;
  const id = m.next;
  m.point(spec.name, { component: id });
  const unpowered = drivenState(own.given('unpowered'), true);
  const rest = drivenState(own.choice('rest'), true);
  m.add<Actuator>({
    kind: 'actuator',
    ...m.head(),
    form: changeover ? 'changeover' : 'simple',
    rest: { origin: own.origin, ...rest, word: rest?.word === 'operated' ? 'operated' : 'released' } as Choice<
      'operated' | 'released'
    >,
    unpowered,
  });
  const throws = changeover
    ? ([
        [common, terminals.get('nc'), 'released'],
        [common, terminals.get('no'), 'operated'],
      ] as const)
    : ([[from, terminals.get('to'), 'operated']] as const);
  let made = 0;
  for (const [one, other, closes] of throws) {
    if (one === undefined || other === undefined) continue;
    m.terminal(one, m.next, own.origin);
    m.terminal(other, m.next, own.origin);
    addThrow(m, id, [one, other], spec.name, closes, false, own);
    made++;
  }
  if (made === 0) {
    const message = `contact ${m.part.name}.${spec.name} needs its terminals: 'from' and 'to', or 'common' with 'nc' or 'no'.`;
    m.site.report('property-missing', spec.node, message);
  }
  if (changeover || made !== 1) return;
  const pass = m.part.points.get(`${from}-${terminals.get('to')}`)?.pass;
  m.point(spec.name, { pass });
}

function buildZone(m: MemberBuilder): void {
  const { own } = m;
  const id = m.next;
  const a = m.ownTerminal(id);
  const b = m.needed(['return'], id, RETURN);
  m.point(m.spec.name, { component: id, returns: b });
  const feed = own.pair('feed');
  m.add<Zone>({
    kind: 'zone',
    ...m.head(),
    a,
    b,
    feedVolts: feed?.left,
    feedOhms: feed?.right,
    scheme: schemeOf(m),
    responds: own.datum('responds'),
    restores: own.datum('restores'),
    loopLimit: own.datum('loop-limit'),
  });
}

export const MEMBERS: Readonly<Partial<Record<MemberKind, (m: MemberBuilder) => void>>> = {
  common: buildCommon,
  terminal: buildTerminal,
  supply: buildFeed,
  rail: buildRail,
  output: buildOutput,
  input: buildInput,
  port: buildPort,
  contact: buildContact,
  zone: buildZone,
};
