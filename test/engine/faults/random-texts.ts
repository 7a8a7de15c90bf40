/**
 * Random sites as text, and each single fault written into that text as an author would rewire it. Nothing of the engine's
 * own way of trying faults is used.
 */
import type { Fault, FaultTable, FaultVariant } from '@couplet/engine';

/** A chain as its items, in the order of the current. */
type Chain = readonly string[];

export interface SiteText {
  readonly values: Readonly<Record<string, string>>;
  readonly chains: readonly Chain[];
  readonly rest: 'on' | 'off';
  readonly turns: readonly (readonly [name: string, target: string, state: string])[];
  readonly joints: readonly string[];
}

export function randomText(random: () => number): SiteText {
  const chance = (share: number) => random() < share;
  const ohms = () => `${[1, 1.5, 2.2, 3.3, 4.7, 5.6][Math.floor(random() * 6)]} kohm +-${chance(0.5) ? 1 : 5}%`;
  const held = chance(0.6);
  const contact = held ? 'K1.11-14' : 'K1.11-12';
  const inside = [contact, 'RE', ...(chance(0.6) ? ['S1.11-12'] : [])].sort(() => random() - 0.5);
  const chains: Chain[] = [
    ['panel.Z1', 'W1.GN', ...inside, 'W1.YE', 'panel.ZC'],
    ['ctrl.V', 'K1.A1-A2', 'ctrl.Q1'],
    ['ctrl.V', 'P1', 'ctrl.Q2'],
  ];
  const [from, to] = endsOf(contact);
  if (chance(0.8)) chains.push([from!, 'RA', to!]);
  if (inside.includes('S1.11-12') && chance(0.5)) chains.push(['S1.11', 'RS', 'S1.12']);
  return {
    values: { RE: ohms(), RA: ohms(), RS: ohms() },
    chains,
    rest: held ? 'on' : 'off',
    turns: [
      ['event', 'ctrl.Q1', held ? 'off' : 'on'],
      ['event', 'ctrl.Q2', 'on'],
      ['cover', 'S1', 'open'],
    ],
    joints: [],
  };
}

export function written({ values, chains, rest, turns, joints }: SiteText): string {
  const wired = (name: string) => chains.some((chain) => chain.includes(name));
  const cases = [...new Set(turns.map(([name]) => name))].map((name) => {
    const own = turns.filter(([other]) => other === name).map(([, target, state]) => `  turn ${target} ${state}\n`);
    return `case ${name} {\n${own.join('')}}\n`;
  });
  return `site "Random" { blind: 99 }
place near { ambient: 5 degC .. 35 degC }
place far { ambient: -5 degC .. 40 degC }
unit panel in near {
  common ZC { earthed: yes }
  zone Z1 { feed: 5 V via 4k7  return: ZC  responds: 400 ms  bands { short: below 1k1  normal: 1k1 .. 3k9  alarm: 3k9 .. 10k  open: above 10k } }
}
unit ctrl in far {
  rail V { volts: 11.4 V .. 12.8 V .. 14.1 V  limit: 1.6 A  return: G }
  common G { earthed: no }
  output Q1 { style: sink  return: G  rated: 200 mA  drop: 0.5 V  leak: 20 uA  rest: ${rest} }
  output Q2 { style: sink  return: G  rated: 1.2 A  drop: 0.3 V  leak: 80 uA  rest: off }
}
relay K1 in far {
  coil: 12 V, 720 ohm +-10%  operates: 70%  releases: 10%  rise: 20 degC  contacts: changeover  suppressor: diode
  operate-time: 6 ms  release-time: 4 ms
}
switch S1 in far { contacts: break  rest: closed }
load P1 = 24 ohm in far { style: resistive  works: 9 V .. 15 V }
${Object.entries(values)
  .map(([name, value]) => `resistor ${name} = ${value}${wired(name) ? '' : ' in far'}\n`)
  .join(
    '',
  )}${joints.map((name) => `joint ${name} in far\n`).join('')}cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km +-8%  length: 140 m  from: near  to: far }
${chains.map((chain) => `wire ${chain.join(' -- ')}\n`).join('')}${cases.join('')}`;
}

/** The two terminals of an item that is passed through. */
function endsOf(item: string): readonly string[] {
  const pole = /^(\w+)\.(\w+)-(\w+)$/.exec(item);
  if (pole !== null) return [`${pole[1]}.${pole[2]}`, `${pole[1]}.${pole[3]}`];
  if (item === 'P1') return ['P1.plus', 'P1.minus'];
  return [`${item}.1`, `${item}.2`];
}

const CORE_ENDS: Readonly<Record<string, readonly [enter: string, leave: string]>> = {
  'W1.GN': ['W1.GN.near', 'W1.GN.far'],
  'W1.YE': ['W1.YE.far', 'W1.YE.near'],
};

/** The site's text with a fault in it; `undefined` where nobody could write that. */
export function writtenWith(site: SiteText, { design }: FaultTable, fault: Fault, variant: FaultVariant) {
  const part = design.components[fault.component]!.name;
  const edit = EDITS[fault.word];
  const added = variant.changes.flatMap((change) =>
    change.sort === 'join' ? [[design.terminals[change.a]!.name, design.terminals[change.b]!.name]] : [],
  );
  const other = fault.other === undefined ? '' : design.components[fault.other]!.name;
  const made = edit?.(site, part, { added, other });
  return made === undefined ? undefined : written(made);
}

type Edit = (
  site: SiteText,
  part: string,
  about: { readonly added: readonly Chain[]; readonly other: string },
) => SiteText | undefined;

/** The item of a chain that stands for a part: itself, or its coil. */
function itemOf(site: SiteText, part: string): string {
  const items = site.chains.flat();
  return items.find((item) => item === part) ?? items.find((item) => item === `${part}.A1-A2`) ?? part;
}

/** Takes an item out; what lies on either side is joined to what `left` and `right` name there. */
function replaced(site: SiteText, part: string, left: Chain, right: Chain | undefined): SiteText {
  const item = itemOf(site, part);
  const chains = site.chains.flatMap((chain): Chain[] => {
    const at = chain.indexOf(item);
    if (at < 0) return [chain];
    const [before, after] = [chain.slice(0, at), chain.slice(at + 1)];
    if (right === undefined) return [[...before, ...left, ...after]];
    return [
      [...before, ...left],
      [...right, ...after],
    ].filter(({ length }) => length > 1);
  });
  return { ...site, chains };
}

const opened: Edit = (site, part) => {
  if (part in CORE_ENDS) {
    // The core hangs at its first end; what comes behind it begins at a joint.
    return { ...replaced(site, part, [CORE_ENDS[part]![0]], ['X1']), joints: ['X1'] };
  }
  return { ...replaced(site, part, ['X1'], ['X2']), joints: ['X1', 'X2'] };
};

const bridged: Edit = (site, part) => {
  const joined = replaced(site, part, ['X1'], undefined);
  return { ...joined, joints: ['X1'] };
};

/** A contact in its chain gives way to joints, which the resistor across it then lies between. */
function contactless(site: SiteText, pole: string, joints: readonly [string, string]): SiteText {
  const ends = endsOf(pole);
  const made = replaced(site, pole, [joints[0]], joints[0] === joints[1] ? undefined : [joints[1]]);
  const chains = made.chains.map((chain) =>
    chain.map((item) => (item === ends[0] ? joints[0] : item === ends[1] ? joints[1] : item)),
  );
  const kept = chains.filter((chain) => chain.length !== 3 || chain[0] !== chain[2]);
  return { ...made, chains: kept, joints: [...new Set(joints)] };
}

const joinedAs: Edit = (site, _part, { added }) => ({ ...site, chains: [...site.chains, ...added] });

function scaledBy(factor: number): Edit {
  return (site, part) => {
    const [, value, rest] = /^([\d.]+)( kohm.*)$/.exec(site.values[part] ?? '') ?? [];
    if (value === undefined) return undefined;
    const scaled = Number((Number(value) * factor).toPrecision(6));
    return { ...site, values: { ...site.values, [part]: `${scaled}${rest}` } };
  };
}

function held(state: 'on' | 'off'): Edit {
  return (site, part) => ({
    ...site,
    ...(part === 'ctrl.Q1' ? { rest: state } : {}),
    turns: site.turns.map(([name, target, old]) => [name, target, target === part ? state : old] as const),
  });
}

const EDITS: Partial<Record<Fault['word'], Edit>> = {
  cut: (site, part, about) => (part in CORE_ENDS ? opened(site, part, about) : undefined),
  missing: opened,
  linked: bridged,
  shorted: joinedAs,
  earthed: joinedAs,
  welded: (site, part) => contactless(site, part, ['X1', 'X1']),
  'never-closes': (site, part) => contactless(site, part, ['X1', 'X2']),
  'coil-open': opened,
  'coil-shorted': bridged,
  'stuck-on': held('on'),
  lost: (site, part) => {
    if (part !== 'ctrl.V') return undefined;
    const chains = site.chains.map((chain) => chain.map((item) => (item === part ? 'X1' : item)));
    return { ...site, chains, joints: ['X1'] };
  },
  'stuck-off': held('off'),
  reversed: (site, part) => {
    if (part !== 'K1') return undefined;
    return { ...site, chains: site.chains.map((chain) => chain.map((item) => item.replace('A1-A2', 'A2-A1'))) };
  },
  swapped: (site, part, { other }) => {
    const [one, two] = [site.values[part], site.values[other]];
    if (one === undefined || two === undefined) return undefined;
    return { ...site, values: { ...site.values, [part]: two, [other]: one } };
  },
  'a-decade-low': scaledBy(0.1),
  'a-decade-high': scaledBy(10),
};
