import type { Change, ComponentId, ComponentOf, Figure, Moment } from '@couplet/engine';
import { nameOf, ofKind } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
import { polesOf } from '../circuit/systems.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { evaluated, type Instant, instantsOf, lacks } from '../support/instants.ts';
import { whereWired } from '../support/place.ts';
import { list, show, when } from '../support/words.ts';

type Output = ComponentOf<'output'>;
type Source = ComponentOf<'source'>;

interface Data {
  readonly fed: string;
  readonly from: readonly string[];
  readonly lost: readonly string[];
  readonly amps: Figure;
  readonly size: number;
  readonly allowed: number;
  readonly at: Instant;
}

/** Moments tried on one output. */
const MOST_INSTANTS = 24;
/** Amperes that rounding may leave. */
const ROUNDING = 1e-9;

export const backFeed = defineRule<Data>({
  name: 'back-feed',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design } = context;
    const systems = systemsOf(context);
    if (new Set(systems.values()).size < 2) return;
    for (const output of ofKind(design, 'output')) {
      const rail = output.rail;
      if (rail === undefined || !wiringOf(design).isWired(output.a)) continue;
      const own = systems.get(rail);
      const others = strangers(context, output, systems).filter((source) => systems.get(source.id) !== own);
      if (others.length === 0) continue;
      if (output.bodyDiode === undefined) {
        lacks(context, output.id, 'body-diode');
        continue;
      }
      const dead = [...systems].filter(([, system]) => system === own).map(([source]) => source);
      const worst = worstInto(context, output, dead);
      if (worst === undefined) continue;
      yield {
        severity: 'error',
        origin: whereWired(design, output.id, output.a),
        subject: output.id,
        alsoConcerns: others.map(({ id }) => id),
        caseName: worst.at.of.name,
        related: others.map(({ id }) => ({
          origin: whereWired(design, id),
          message: `${nameOf(design, id)} feeds it`,
        })),
        data: {
          fed: output.name,
          from: others.map(({ name }) => name),
          lost: dead.map((id) => nameOf(design, id)),
          ...worst,
        },
      };
    }
  },
  word({ data }) {
    const { fed, from, lost, size, allowed, at } = data;
    return (
      `With ${list(lost)} off, ${list(from)} pushes ${show(size, 'A')} back into ${fed} ${when(at)}, more than the ${show(allowed, 'A')} that it leaks: ` +
      `what is switched off is fed through its own output, half alive and without its protection. Put a diode in series with ${fed}, or part the two with a relay.`
    );
  },
  figures: ({ data }) => [{ label: `current into ${data.fed}`, figure: data.amps }],
});

/** The system of each source. */
function systemsOf({ design }: RuleContext): ReadonlyMap<ComponentId, ComponentId> {
  const systems = new Map<ComponentId, ComponentId>();
  for (const { component, system } of polesOf(design)) {
    if (design.components[component]?.kind === 'source') systems.set(component, system);
  }
  return systems;
}

/** Sources of which the plus reaches the terminal of an output over what may conduct. */
function strangers(
  { design }: RuleContext,
  output: Output,
  systems: ReadonlyMap<ComponentId, ComponentId>,
): readonly Source[] {
  const node = wiringOf(design).node(output.a);
  const reached = new Set(feedingOf(design).reachesPlus(node));
  return ofKind(design, 'source').filter((source) => reached.has(source.id) && systems.has(source.id));
}

/** The moment at which most flows into an output while its own system is off, where that is more than it leaks. */
function worstInto(
  context: RuleContext,
  output: Output,
  dead: readonly ComponentId[],
): Pick<Data, 'amps' | 'size' | 'allowed' | 'at'> | undefined {
  const off: readonly Change[] = dead.map((component) => ({ sort: 'force', component, word: 'off' }));
  const allowed = output.leak?.most ?? 0;
  let worst: Pick<Data, 'amps' | 'size' | 'allowed' | 'at'> | undefined;
  const instants = instantsOf(context.analysis, output.id);
  if (instants.length > MOST_INSTANTS) {
    const reason = `only the first ${MOST_INSTANTS} of ${instants.length} moments were tried with its supply off`;
    context.gap({ subject: output.id, needs: [], reason });
  }
  for (const at of instants.slice(0, MOST_INSTANTS)) {
    const amps = intoOf(at.moment.vary(off), output);
    const value = evaluated(context, output.id, amps);
    if (value === undefined || -value.least <= allowed + ROUNDING) continue;
    if (worst === undefined || -value.least > worst.size) worst = { amps, size: -value.least, allowed, at };
  }
  return worst;
}

function intoOf(moment: Moment, output: Output): Figure {
  return moment.amps(output.id);
}
