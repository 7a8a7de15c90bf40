import type { Component, Origin } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { spareCure } from '../support/cures.ts';
import { unusedOf } from '../support/unused.ts';
import { listSome } from '../support/words.ts';

interface Data {
  readonly owner: string;
  readonly names: readonly string[];
  readonly origin: Origin;
}

/** Cores and contacts have findings of their own; a joint is there for what comes later. */
const KINDS: ReadonlySet<Component['kind']> = new Set([
  'feed',
  'source',
  'common',
  'terminal',
  'output',
  'input',
  'zone',
  'relay',
  'load',
  'resistor',
  'diode',
  'capacitor',
  'fuse',
  'arrester',
]);

export const terminalUnused = defineRule<Data>({
  name: 'terminal-unused',
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
        data: { owner: owner.name, names, origin: owner.origin },
      };
    }
  },
  word({ data }) {
    return `Nothing is joined to ${listSome(data.names)} of ${data.owner}. Wire what is forgotten, and mark the rest: \`spare ${data.names[0]}\`.`;
  },
  cures: ({ data }) => spareCure(data.names, data.origin),
});
