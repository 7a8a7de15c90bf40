/** The bands that a zone reports by. */
import type { Band, Zone } from '@couplet/engine';
import type { AstNode } from 'langium';
import type { Bag, MemberSpec } from '../bags.ts';
import type { Facts } from '../facts.ts';
import type { MemberBuilder } from './unit.ts';

type Scheme = NonNullable<Zone['scheme']>;

/** The scheme that a zone is programmed to, or the bands that it writes itself; absent where it has neither. */
export function schemeOf(m: MemberBuilder): Zone['scheme'] {
  const named = m.sibling('scheme');
  if (named !== undefined) {
    const spec = schemes(m).find((each) => each.name === named.name);
    if (spec === undefined) return undefined;
    const bag = m.part.bag.within(spec.name) ?? spec.bag;
    return kept(m, bag, () => read(m, bag, spec.name, spec.node));
  }
  const group = m.own.bag.group('bands');
  if (group === undefined) return undefined;
  const bands = m.site.groupBag(group, m.part.scope);
  return kept(m, bands, () => read(m, bands, 'bands', group));
}

function schemes(m: MemberBuilder): MemberSpec[] {
  return m.part.bag.members().filter((spec) => spec.kind === 'scheme');
}

/** Zones of one type share their scheme; it is worked out once. */
function kept(m: MemberBuilder, bag: Bag, make: () => Scheme): Scheme {
  const known = m.site.schemes.get(bag);
  if (known !== undefined) return known;
  const scheme = make();
  m.site.schemes.set(bag, scheme);
  return scheme;
}

function read(m: MemberBuilder, bag: Bag, name: string, node: AstNode): Scheme {
  const facts: Facts = m.own.of(bag, 'scheme', m.at(node));
  const bands: Band[] = [];
  let unit: 'ohm' | 'V' | undefined;
  for (const word of bag.all().keys()) {
    for (const value of facts.values(word)) {
      if (value.sort !== 'amount' && value.sort !== 'half-open') continue;
      if (value.dimension !== 'ohm' && value.dimension !== 'V') continue;
      unit ??= value.dimension;
      if (value.dimension !== unit) {
        const message = `Scheme '${name}' counts in ${unit === 'V' ? 'volts' : 'ohms'}; this range does not.`;
        m.site.report('bands-mixed', value.node, message);
        continue;
      }
      const classes = word.split('+');
      const origin = facts.at(value.node);
      if (value.sort === 'amount') bands.push({ classes, from: value.least, to: value.most, origin });
      else if (value.side === 'below') bands.push({ classes, to: value.to, origin });
      else bands.push({ classes, from: value.from, origin });
    }
  }
  return { name, unit: unit ?? 'ohm', bands, origin: m.at(node) };
}
