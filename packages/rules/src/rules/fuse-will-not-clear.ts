import {
  type ComponentOf,
  type FarEnd,
  FUSE_PROMPT_FACTOR,
  type FuseClearing,
  type FuseFarEnds,
  farEndsOf,
  IEC_60127,
  worstEnd,
} from '@couplet/engine';
import { componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule, levels } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { assumptionOf } from '../support/coil.ts';
import { lacks } from '../support/instants.ts';
import { corner, list, percent, show } from '../support/words.ts';

interface Data {
  readonly fuse: ComponentOf<'fuse'>;
  readonly rated: number;
  readonly at: string;
  readonly source: string;
  readonly cables: readonly string[];
  readonly found: FuseClearing;
  readonly mustOpen: number;
  readonly prompt: number;
}

export const fuseWillNotClear = defineRule<Data>({
  name: 'fuse-will-not-clear',
  thresholds: levels(
    {
      value: IEC_60127.mustOpen,
      unit: '',
      says: 'prospective current over the rating of the fuse: below it a fuse need never open',
      origin: 'IEC 60127',
      standing: 'standard',
      settable: false,
    },
    {
      value: FUSE_PROMPT_FACTOR,
      unit: '',
      says: 'prospective current over the rating of the fuse: below it a fuse may take more than seconds',
      origin: 'IEC 60127, time-current gates',
      standing: 'standard from memory',
      settable: true,
    },
  ),
  explains: [],
  *find(context) {
    for (const ends of farEndsOf(context.design)) {
      const fuse = componentOf(context.design, ends.fuse, 'fuse')!;
      if (fuse.rated === undefined) {
        lacks(context, fuse.id, 'rating');
        continue;
      }
      const mustOpen = context.threshold('error').value;
      const prompt = context.threshold('warning').value;
      const worst = worstEnd(ends, fuse.rated, { mustOpen, prompt });
      if (worst === undefined || worst.clearing.clearing === 'promptly') {
        tellGaps(context, ends, worst?.end);
        continue;
      }
      const { end, clearing: found } = worst;
      const source = nameOf(context.design, end.source);
      const at = nameOf(context.design, end.at);
      yield {
        severity: found.clearing === 'never' ? 'error' : 'warning',
        origin: fuse.origin,
        subject: fuse.id,
        alsoConcerns: [end.source, end.at, ...end.cables],
        related: [
          { origin: context.design.components[end.at]!.origin, message: `${at} stands at the far end` },
          { origin: context.design.components[end.source]!.origin, message: `${source} drives the short` },
        ],
        assumptions: assumptionOf(fuse.rated),
        data: {
          fuse,
          rated: fuse.rated.usual,
          at,
          source,
          cables: end.cables.map((id) => nameOf(context.design, id)),
          found,
          mustOpen,
          prompt,
        },
      };
    }
  },
  word({ data, severity }) {
    const { at, cables, found, fuse, mustOpen, prompt, rated, source } = data;
    const { amps, copperForPrompt, heldBy, ratio } = found;
    const way = cables.length === 0 ? '' : ` over ${list(cables)}`;
    const draws = `A short at ${at}${way} draws as little as ${show(amps.least, 'A')}${heldBy === 'limit' ? '' : corner(amps.leastCorner)}, ${percent(ratio.least)} of ${fuse.name}, ${show(rated, 'A')}`;
    const opens =
      severity === 'error'
        ? `it need not open at all below ${percent(mustOpen)}`
        : `it may take more than seconds below ${percent(prompt)}`;
    const why =
      heldBy === 'limit'
        ? `${source} holds its limit, and everything on it goes down with the short`
        : 'the cable carries the short until somebody finds it';
    const smaller = `a fuse of at most ${show(amps.least / prompt, 'A')}`;
    const cure =
      heldBy === 'limit'
        ? `${smaller}, or a supply that gives at least ${show(prompt * rated, 'A')}`
        : copperForPrompt > 0
          ? `${smaller}, or cores of at most ${show(copperForPrompt, 'ohm')} there and back`
          : smaller;
    return `${draws}: ${opens}, and ${why}. It takes ${cure}.`;
  },
  figures: ({ data }) => [{ label: `prospective current in ${data.fuse.name}`, figure: data.found.amps }],
});

/** What keeps a fuse that seems to clear from being judged. */
function tellGaps(context: RuleContext, { fuse, needs }: FuseFarEnds, worst: FarEnd | undefined): void {
  if (needs.length > 0) context.gap({ subject: fuse, needs });
  else if (worst === undefined) {
    const reason =
      'no supply reaches it by copper and contacts alone, so that what a short behind it draws is not known';
    context.gap({ subject: fuse, needs: [], reason });
  } else {
    const source = componentOf(context.design, worst.source, 'source')!;
    if (source.limit === undefined && source.sort !== 'battery') lacks(context, fuse, 'limit', source.id);
  }
}
