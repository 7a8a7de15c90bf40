import type { Component, Origin } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { spareCure } from '../support/cures.ts';
import { unusedOf } from '../support/unused.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly owner: string;
  readonly names: readonly string[];
  readonly origin: Origin;
}

const KINDS: ReadonlySet<Component['kind']> = new Set(['contact']);

export const poleUnused = defineRule<Data>({
  name: 'pole-unused',
  thresholds: [],
  explains: [],
  *find({ design }) {
    if (design.fragment) return;
    for (const { owner, names, concerns } of unusedOf(design, KINDS)) {
      yield {
        severity: 'information',
        origin: owner.origin,
        subject: owner.id,
        alsoConcerns: concerns,
        data: { owner: nameOf(design, owner.id), names, origin: owner.origin },
      };
    }
  },
  word({ data }) {
    return `Nothing is joined to ${listSome(data.names)} of ${data.owner}. Wire what is forgotten, and mark the rest: \`spare ${data.names[0]}\`.`;
  },
  cures: ({ data }) => spareCure(data.names, data.origin),
});
