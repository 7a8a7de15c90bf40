/**
 * Every single fault of a design. One table: for each kind of part the words that apply to it, and what each does.
 * Parts that nothing is wired to have none.
 */
import type { Change } from '../analysis/contract.ts';
import type { Component, ComponentId, ComponentKind, ComponentOf, TerminalId } from '../design/components.ts';
import type { Origin } from '../design/datum.ts';
import type { Fault, FaultVariant } from './contract.ts';
import type { FaultSite } from './site.ts';
import { type FaultWord, faultWord } from './words.ts';

interface Found {
  readonly other?: ComponentId;
  /** In place of the part's own. */
  readonly name?: string;
  readonly variants: readonly FaultVariant[];
}

interface FaultRule<K extends ComponentKind> {
  readonly word: FaultWord;
  find(part: ComponentOf<K>, site: FaultSite): Iterable<Found>;
}

/** Faults in the order of the parts they concern; bare joins last. Their `id` is their place in the list. */
export function deriveFaults(site: FaultSite): readonly Fault[] {
  const faults: Fault[] = [];
  const add = (word: FaultWord, component: ComponentId, origin: Origin, found: Found) => {
    if (found.variants.length === 0) return;
    const { components } = site.design;
    const { group, says } = faultWord(word);
    const own = found.name ?? components[component]!.name;
    const behind = found.other === undefined ? '' : ` ${components[found.other]!.name}`;
    const name = `${own} ${says}${behind}`;
    const other = found.other === undefined ? {} : { other: found.other };
    faults.push({ id: faults.length, group, word, component, ...other, name, origin, variants: found.variants });
  };
  for (let id = 0; id < site.parts; id++) {
    const part = site.design.components[id]!;
    for (const rule of (ROWS[part.kind] ?? []) as unknown as readonly FaultRule<never>[]) {
      for (const found of rule.find(part as never, site)) add(rule.word, id, part.origin, found);
    }
  }
  for (const { terminal, found } of bareNodes(site)) {
    const { component, origin } = site.design.terminals[terminal]!;
    add('earthed', component, origin, found);
  }
  for (const { link, a, b, origin } of site.prepared.cuts) {
    const { terminals } = site.design;
    const name = `wire ${terminals[a]!.name} to ${terminals[b]!.name}`;
    const variants = [{ changes: [removed(link)] }];
    // A core can be cut itself: the wire to it is named after what it leads to.
    const ends = [b, a].map((end) => terminals[end]!.component);
    const component = ends.find((id) => site.design.components[id]!.kind !== 'core') ?? ends[0]!;
    add('cut', component, origin, { name, variants });
  }
  return faults;
}

type TwoEnded = Component & { readonly a: TerminalId; readonly b: TerminalId };

/** One change to a part that is wired at both ends. */
function changing<K extends ComponentKind>(word: FaultWord, change: (id: ComponentId) => Change): FaultRule<K> {
  return {
    word,
    *find(part, site) {
      const { a, b } = part as unknown as TwoEnded;
      if (site.isWired(a) && site.isWired(b)) yield only(change(part.id));
    },
  };
}

function only(...changes: readonly Change[]): Found {
  return { variants: [{ changes }] };
}

const removed = (component: ComponentId): Change => ({ sort: 'remove', component });
const bridged = (component: ComponentId): Change => ({ sort: 'bridge', component });
const forced =
  (word: string) =>
  (component: ComponentId): Change => ({ sort: 'force', component, word });

const ROWS: { readonly [K in ComponentKind]?: readonly FaultRule<K>[] } = {
  core: [
    {
      word: 'cut',
      *find(part, site) {
        if (site.isWired(part.a) && site.isWired(part.b)) yield only(removed(part.id));
      },
    },
    { word: 'shorted', find: shorts },
    { word: 'swapped', find: crossedCores },
    {
      word: 'earthed',
      *find(part, site) {
        if (isConnected(part, site)) yield { variants: [part.a, part.b].flatMap((end) => earthFault(end, site)) };
      },
    },
  ],
  resistor: [
    changing('missing', removed),
    changing('linked', bridged),
    { word: 'swapped', find: swaps },
    { word: 'at-other-end', find: otherEnd },
    changing('a-decade-low', (component) => ({ sort: 'scale', component, factor: 0.1 })),
    changing('a-decade-high', (component) => ({ sort: 'scale', component, factor: 10 })),
  ],
  capacitor: [changing('missing', removed), changing('linked', bridged)],
  arrester: [
    changing('missing', removed),
    {
      word: 'earthed',
      *find(part, site) {
        // One that has failed as it should lies to earth, with all of its line.
        if (part.earth !== undefined && site.isWired(part.a) && site.isWired(part.earth)) {
          const pole = site.isEarth(part.earth) ? site.earthFor(part.a) : undefined;
          yield only({ sort: 'join', a: part.a, b: pole ?? part.earth });
        }
      },
    },
  ],
  diode: [
    changing('missing', removed),
    changing('linked', bridged),
    changing('reversed', (component) => ({ sort: 'reverse', component })),
  ],
  load: [
    changing('missing', removed),
    changing('linked', bridged),
    {
      word: 'reversed',
      *find(part, site) {
        if (!site.isWired(part.a) || !site.isWired(part.b)) return;
        if (conducts(part)) yield only({ sort: 'reverse', component: part.id });
        // One that minds its direction, and nothing in it conducts the other way round, takes nothing.
        else if (part.polarised?.word === 'yes') yield only(removed(part.id));
      },
    },
  ],
  fuse: [changing('blown', forced('blown'))],
  contact: [
    {
      word: 'welded',
      *find(part, site) {
        if (!site.isWired(part.a) || !site.isWired(part.b)) return;
        // The tongue of a changeover that is welded to one side cannot reach the other.
        const others = throwsOf(part, site).filter((other) => other.pole === part.pole && other.id !== part.id);
        yield only(bridged(part.id), ...others.map(({ id }) => removed(id)));
      },
    },
    changing('never-closes', removed),
  ],
  relay: [
    {
      word: 'coil-open',
      *find(part, site) {
        if (isCoilWired(part, site)) yield only(removed(part.id));
      },
    },
    {
      word: 'coil-shorted',
      *find(part, site) {
        if (isCoilWired(part, site)) yield only(bridged(part.id));
      },
    },
    {
      word: 'reversed',
      *find(part, site) {
        if (isCoilWired(part, site) && conducts(part)) yield only({ sort: 'reverse', component: part.id });
      },
    },
  ],
  output: [
    {
      word: 'stuck-on',
      *find(part, site) {
        if (site.isWired(part.a)) yield only(forced('on')(part.id));
      },
    },
    {
      word: 'stuck-off',
      *find(part, site) {
        if (site.isWired(part.a)) yield only(forced('off')(part.id));
      },
    },
  ],
  source: [
    {
      word: 'lost',
      *find(part, site) {
        if (feedsAnything(part, site)) yield only(forced('off')(part.id));
      },
    },
  ],
  unit: [
    {
      word: 'lost',
      *find(part, site) {
        if (losesItsOwnSupply(part, site)) yield only(forced('off')(part.id));
      },
    },
  ],
};

/** Something built in that conducts when the part is fed the wrong way round. */
function conducts({ suppressor }: ComponentOf<'load'> | ComponentOf<'relay'>): boolean {
  return suppressor?.sort === 'diode' || suppressor?.sort === 'zener';
}

function isCoilWired(part: ComponentOf<'relay'>, site: FaultSite): boolean {
  return site.isWired(part.coil.a) && site.isWired(part.coil.b);
}

function throwsOf(part: ComponentOf<'contact'>, site: FaultSite): readonly ComponentOf<'contact'>[] {
  return site.model
    .drivenBy(part.driver)
    .map((element) => element.component)
    .filter((other) => other.kind === 'contact');
}

/** A core with a wire at one end at least. */
function isConnected(core: ComponentOf<'core'>, site: FaultSite): boolean {
  return site.isWired(core.a) || site.isWired(core.b);
}

function feedsAnything(part: ComponentOf<'source'>, site: FaultSite): boolean {
  if (site.isWired(part.a)) return true;
  if (
    (site.model.railsOn.get(part.id) ?? []).some((rail) =>
      feedsAnything(site.design.components[rail] as typeof part, site),
    )
  ) {
    return true;
  }
  const unit = part.owner === undefined ? undefined : site.design.components[part.owner];
  const members = unit?.kind === 'unit' ? unit.members : [];
  return members.some((id) => {
    const member = site.design.components[id]!;
    return member.kind === 'output' && member.rail === part.id && site.isWired(member.a);
  });
}

/**
 * A unit that is fed by something outside the site and works something on it. One that reads zones is left out: when it
 * is dead nobody reads anything.
 */
function losesItsOwnSupply(part: ComponentOf<'unit'>, site: FaultSite): boolean {
  const members = part.members.map((id) => site.design.components[id]!);
  const wired = members.filter((member) => {
    if (member.kind === 'actuator') {
      return site.model.drivenBy(member.id).some(({ component }) => 'a' in component && site.isWired(component.a));
    }
    return 'a' in member && site.isWired(member.a);
  });
  if (wired.some(({ kind }) => kind === 'zone' || kind === 'feed')) return false;
  return wired.some(({ kind }) => kind === 'output' || kind === 'actuator' || kind === 'source');
}

/** Each pair once, at the core that stands first. Cores that are one conductor at an end say nothing there. */
function* shorts(part: ComponentOf<'core'>, site: FaultSite): Generator<Found> {
  if (!isConnected(part, site)) return;
  for (const other of site.beside(part)) {
    if (other.id < part.id || !isConnected(other, site)) continue;
    const variants = site
      .ends(part, other)
      .filter(({ a, b }) => !site.isOne(a, b))
      .map(({ a, b }) => ({ ...whereAt(a, site), changes: [{ sort: 'join', a, b } as const] }));
    yield { other: other.id, variants };
  }
}

/** Two cores of a cable with their wires crossed at one end, each pair once; crossed at the other end it is the same. */
function* crossedCores(part: ComponentOf<'core'>, site: FaultSite): Generator<Found> {
  if (!site.isWired(part.a) || !site.isWired(part.b)) return;
  for (const other of site.beside(part)) {
    if (other.id < part.id || !site.isWired(other.a) || !site.isWired(other.b)) continue;
    const [one, two] = site.ends(part, other);
    if (one === undefined || two === undefined || site.isOne(one.a, one.b) || site.isOne(two.a, two.b)) continue;
    yield {
      other: other.id,
      variants: [
        {
          changes: [
            removed(part.id),
            removed(other.id),
            { sort: 'join', a: one.a, b: two.b, like: part.id },
            { sort: 'join', a: one.b, b: two.a, like: other.id },
          ],
        },
      ],
    };
  }
}

function whereAt(terminal: TerminalId, site: FaultSite): Pick<FaultVariant, 'where'> {
  const place = site.placeName(terminal);
  return place === undefined ? {} : { where: `at ${place}` };
}

function earthFault(end: TerminalId, site: FaultSite): readonly FaultVariant[] {
  const pole = site.earthFor(end);
  if (pole === undefined) return [];
  return [{ ...whereAt(end, site), changes: [{ sort: 'join', a: end, b: pole }] }];
}

/** Nodes of earthed circuits at which no core ends, by the first terminal there. */
function* bareNodes(site: FaultSite): Generator<{ readonly terminal: TerminalId; readonly found: Found }> {
  const { design } = site;
  for (const terminals of site.joints()) {
    const [terminal] = terminals;
    if (terminal === undefined || terminals.length < 2) continue;
    const kinds = terminals.map((one) => design.components[design.terminals[one]!.component]!.kind);
    if (kinds.includes('core')) continue;
    const variants = earthFault(terminal, site);
    if (variants.length > 0) yield { terminal, found: { name: design.terminals[terminal]!.name, variants } };
  }
}

/** Two resistors of one loop with different values, each pair once. */
function* swaps(part: ComponentOf<'resistor'>, site: FaultSite): Generator<Found> {
  const island = site.islandOf(part.id);
  if (part.ohms === undefined || island === undefined) return;
  for (const { component: other } of island.elements) {
    if (other.kind !== 'resistor' || other.id <= part.id || other.id >= site.parts) continue;
    if (other.ohms === undefined || other.ohms.usual === part.ohms.usual) continue;
    yield {
      other: other.id,
      variants: [
        {
          changes: [
            { sort: 'like', component: part.id, other: other.id },
            { sort: 'like', component: other.id, other: part.id },
          ],
        },
      ],
    };
  }
}

/** In series at the other end of the core beside it; across the far ends of the cores of its contact. */
function* otherEnd(part: ComponentOf<'resistor'>, site: FaultSite): Generator<Found> {
  const link = site.prepared.otherEnds.get(part.id);
  if (link !== undefined) {
    yield only(bridged(part.id), { sort: 'like', component: link, other: part.id });
    return;
  }
  if (!site.prepared.copper.isShunt(part)) return;
  const [first] = acrossOtherEnds(part, site);
  if (first !== undefined) yield only(removed(part.id), { sort: 'join', ...first, like: part.id });
}

function* acrossOtherEnds(
  part: ComponentOf<'resistor'>,
  site: FaultSite,
): Generator<{ readonly a: TerminalId; readonly b: TerminalId }> {
  const [one, other] = [coresAt(part.a, site), coresAt(part.b, site)];
  for (const { core, far: a } of one) {
    for (const { core: second, far: b } of other) {
      if (core.cable !== second.cable || core === second || site.placeOf(a) !== site.placeOf(b)) continue;
      if (!site.isOne(a, b)) yield { a, b };
    }
  }
}

/** Cores that end at the node of a terminal, each with its wired other end. */
function coresAt(terminal: TerminalId, site: FaultSite) {
  return site.terminalsWith(terminal).flatMap((at) => {
    const core = site.design.components[site.design.terminals[at]!.component]!;
    if (core.kind !== 'core') return [];
    const far = core.a === at ? core.b : core.a;
    return site.isWired(far) ? [{ core, far }] : [];
  });
}
