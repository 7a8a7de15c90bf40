import type { Common, Component, Design, Source } from '@couplet/engine';
import { ofKind } from '../circuit/circuits.ts';
import { type NodeId, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import { byOrigin } from '../support/group.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { list, listSome } from '../support/words.ts';

interface Data {
  readonly sort: 'undeclared' | 'twice';
  readonly names: readonly string[];
  readonly isCommon: boolean;
}

export const earthingUndeclared = defineRule<Data>({
  name: 'earthing-undeclared',
  thresholds: [],
  explains: [],
  *find({ design }) {
    for (const group of byOrigin(undeclared(design))) {
      yield {
        severity: 'warning',
        origin: group[0].origin,
        subject: group[0].id,
        alsoConcerns: group.slice(1).map((one) => one.id),
        data: {
          sort: 'undeclared',
          names: group.map((one) => one.name),
          isCommon: group[0].kind === 'common',
        },
      };
    }
    for (const points of earthedTwice(design)) {
      yield {
        severity: 'warning',
        origin: whereWired(design, points[1]!.id),
        subject: points[1]!.id,
        alsoConcerns: [points[0]!, ...points.slice(2)].map((one) => one.id),
        related: points.map((one) => ({ origin: one.origin, message: `${one.name} is earthed` })),
        data: { sort: 'twice', names: points.map((one) => one.name), isCommon: true },
      };
    }
  },
  word({ data }) {
    if (data.sort === 'twice') {
      return (
        `${list(data.names)} are one circuit and each is earthed: what flows in earth flows in the 0 V too, shifts readings and ` +
        `burns cores when something faults. Earth one circuit at one point: lift one of the earths, or part the circuits with a relay.`
      );
    }
    const what = data.isCommon ? '`earthed: yes` or `earthed: no`' : '`earthed: minus` (plus, no)';
    return (
      `Nothing says whether ${listSome(data.names)} is earthed. What an earth fault does, and whether two systems are joined ` +
      `through earth, hangs on it. Measure it with the supply off, and write ${what}.`
    );
  },
});

/** Commons that do not say, and sources of their own whose minus no common or source speaks for. */
function* undeclared(design: Design): Generator<Common | Source> {
  const wiring = wiringOf(design);
  const said = new Set<NodeId>();
  for (const component of design.components) {
    if ((component.kind === 'common' || component.kind === 'source') && component.earthed !== undefined) {
      for (const node of wiring.copperFrom(wiring.node(component.kind === 'source' ? component.b : component.a)))
        said.add(node);
    }
  }
  const commons = new Set<NodeId>();
  for (const common of ofKind(design, 'common')) {
    commons.add(wiring.node(common.a));
    const inUse =
      wiring.isWired(common.a) || wiring.partsAt(wiring.node(common.a)).some((part) => isUsed(design, part.component));
    if (common.earthed === undefined && inUse) yield common;
  }
  for (const source of ofKind(design, 'source')) {
    const minus = wiring.node(source.b);
    if (source.fedBy !== undefined || source.earthed !== undefined || commons.has(minus) || said.has(minus)) continue;
    if (isConnected(design, source.id) || wiring.isWired(source.a)) yield source;
  }
}

function isUsed(design: Design, component: number): boolean {
  const what: Component | undefined = design.components[component];
  return what !== undefined && isConnected(design, component);
}

/** Groups of earthed points that copper joins, of more than one unit or supply each. */
function earthedTwice(design: Design): readonly (readonly Component[])[] {
  const wiring = wiringOf(design);
  const groups = new Map<NodeId, Component[]>();
  for (const component of design.components) {
    const node = earthedNode(component);
    if (node === undefined) continue;
    const [first] = [...wiring.copperFrom(wiring.node(node))].sort((one, other) => one - other);
    groups.set(first!, [...(groups.get(first!) ?? []), component]);
  }
  return [...groups.values()]
    .map((points) =>
      points.filter((one, index) => points.findIndex((other) => ownerOf(other) === ownerOf(one)) === index),
    )
    .filter((points) => points.length > 1);
}

function ownerOf(component: Component): number {
  return component.owner ?? component.id;
}

function earthedNode(component: Component): number | undefined {
  if (component.kind === 'common') return component.earthed?.word === 'yes' ? component.a : undefined;
  if (component.kind !== 'source') return undefined;
  if (component.earthed?.word === 'plus') return component.a;
  return component.earthed?.word === 'minus' ? component.b : undefined;
}
