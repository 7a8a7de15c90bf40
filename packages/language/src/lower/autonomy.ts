/** How long batteries shall carry which cases. */
import type { CarriesCase } from '@couplet/engine';
import type { Autonomy as AutonomyNode } from '../generated/ast.ts';
import { referenceText } from '../references/names.ts';
import { Bag, bodyItems } from './bags.ts';
import type { Cases } from './cases.ts';
import { reportUnknown } from './elements.ts';
import { Facts } from './facts.ts';
import { textOf } from './parts/builder.ts';
import { componentOf, resolve } from './resolve.ts';
import type { Scope } from './scope.ts';
import type { Site } from './site.ts';
import { caseName } from './statements.ts';

export function autonomy(site: Site, node: AutonomyNode, scope: Scope, cases: Cases): void {
  const battery = batteryOf(site, node, scope);
  if (battery === undefined) return;
  const before = site.autonomies.find((each) => each.battery === battery);
  if (before !== undefined) {
    const line = (site.origins.place(before.origin)?.start.line ?? 0) + 1;
    const name = site.components[battery]?.name;
    site.report('autonomy-twice', node, `What ${name} shall carry is said already, on line ${line}.`);
    return;
  }
  const bag = new Bag();
  bag.read(bodyItems(node.body), scope);
  const facts = new Facts(site.reader, bag, 'autonomy', site.origins.of(node));
  if (!facts.has('carries')) {
    const message = `The autonomy of ${site.components[battery]?.name} needs 'carries': which cases for how long, as in carries: rest for 24 h.`;
    site.report('property-missing', node, message);
    return;
  }
  site.autonomies.push({
    battery,
    description: textOf(node.description),
    carries: carried(site, facts, scope, cases),
    ageing: facts.datum('ageing'),
    recharge: facts.datum('recharge'),
    origin: facts.origin,
  });
}

function batteryOf(site: Site, node: AutonomyNode, scope: Scope): number | undefined {
  const { battery } = node;
  const target = resolve(site, battery, scope);
  if (battery === undefined || target?.sort === 'missing') return undefined;
  if (target === undefined) {
    reportUnknown(site, battery, scope);
    return undefined;
  }
  const id = componentOf(target);
  const part = id === undefined ? undefined : site.components[id];
  if (part?.kind === 'source' && part.sort === 'battery') return id;
  const message = `Autonomy is that of a battery; ${referenceText(battery)} is none.`;
  site.report('battery-needed', battery, message);
  return undefined;
}

function carried(site: Site, facts: Facts, scope: Scope, cases: Cases): CarriesCase[] {
  return facts.values('carries').flatMap((read): CarriesCase[] => {
    if (read.sort !== 'word') return [];
    const name = caseName(site, read.reference, scope, cases);
    if (name === undefined) {
      reportUnknown(site, read.reference, scope);
      return [];
    }
    if (read.node.duration === undefined) {
      site.report('time-missing', read.node, `Say for how long: '${read.word} for 24 h'.`);
      return [];
    }
    const seconds = cases.datum(read.node.duration, scope, 's');
    return seconds === undefined ? [] : [{ caseName: name, seconds, origin: facts.at(read.node) }];
  });
}
