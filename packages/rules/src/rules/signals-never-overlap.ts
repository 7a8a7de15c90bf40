import type { CaseAnalysis, ComponentId, Design, Track } from '@couplet/engine';
import { circuitComponents, componentOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { downstreamOf } from '../circuit/reach.ts';
import { defineRule } from '../define.ts';
import { failedOn } from '../support/failed.ts';
import { list, show } from '../support/words.ts';

interface Data {
  /** The confirmation, or what lies behind the contacts in series. */
  readonly subject: ComponentId;
  readonly apart: Apart;
  readonly caseName: string;
  /** Seconds within which the zones must report; absent where they must stand at once. */
  readonly window?: number;
}

/** Two signals, one over before the other begins, and how far they lie apart at the least. */
interface Apart {
  readonly first: ComponentId;
  readonly second: ComponentId;
  readonly seconds: number;
}

interface Stretch {
  readonly component: ComponentId;
  readonly from: number;
  readonly to: number;
}

export const signalsNeverOverlap = defineRule<Data>({
  name: 'signals-never-overlap',
  thresholds: [],
  explains: ['expectation-failed'],
  reach: 'downstream',
  *find(context) {
    const said = new Set<ComponentId>();
    for (const data of [
      ...unconfirmed(context.design, context.analysis.cases),
      ...inSeries(context.design, context.analysis.cases),
    ]) {
      if (said.has(data.subject)) continue;
      said.add(data.subject);
      const { subject, apart, caseName } = data;
      yield {
        severity: 'error',
        origin: context.design.components[subject]!.origin,
        subject,
        alsoConcerns: [apart.first, apart.second],
        caseName,
        data,
      };
    }
  },
  word({ data }, { design }) {
    const { subject, apart, caseName, window } = data;
    const names = list([nameOf(design, apart.first), nameOf(design, apart.second)]);
    const name = nameOf(design, subject);
    if (window !== undefined) {
      return (
        `In case ${caseName}, ${names} report ${show(apart.seconds, 's')} apart, and ${name} confirms what comes within ` +
        `${show(window, 's')}: it never does. Widen the window, or bring the detectors to see the same event sooner.`
      );
    }
    return (
      `In case ${caseName}, ${names} must stand together for ${name}, and one is over ${show(apart.seconds, 's')} before the other begins: ` +
      `they never meet. Let the first one last longer, with a timer if need be, or let each work by itself.`
    );
  },
});

/** Zones of a confirmation that report too far from each other, where something is expected of it. */
function* unconfirmed(design: Design, cases: readonly CaseAnalysis[]): Generator<Data> {
  for (const confirm of ofKind(design, 'confirm')) {
    const downstream = downstreamOf(design, confirm.id);
    for (const one of cases) {
      if (!failedOn(one, (component) => downstream.has(component))) continue;
      const stretches = confirm.zones.flatMap((zone) => alarms(one, zone));
      const window = confirm.within?.usual;
      const apart = nearest(stretches, window === undefined ? (a, b) => b.from - a.to : (a, b) => b.from - a.from);
      if (apart === undefined || apart.seconds <= (window ?? 0)) continue;
      yield { subject: confirm.id, apart, caseName: one.name, ...(window === undefined ? {} : { window }) };
    }
  }
}

/** Contacts in one circuit that are each worked for a while and never at once, where what lies behind them fails. */
function* inSeries(design: Design, cases: readonly CaseAnalysis[]): Generator<Data> {
  for (const one of cases) {
    for (const { holds, expect } of one.verdicts) {
      if (holds !== false || expect.subject.sort !== 'component' || expect.predicate.sort !== 'state') continue;
      const { component } = expect.subject;
      const drivers = new Set<ComponentId>();
      for (const id of circuitComponents(design, component)) {
        const contact = componentOf(design, id, 'contact');
        if (contact !== undefined && contact.driver !== component) drivers.add(contact.driver);
      }
      const worked = [...drivers].map((id) => workedIn(one, id)).filter((each) => each.length > 0);
      if (worked.length < 2) continue;
      const apart = nearest(worked.flat(), (a, b) => b.from - a.to);
      if (apart === undefined || apart.seconds <= 0) continue;
      yield { subject: component, apart, caseName: one.name };
    }
  }
}

function alarms(one: CaseAnalysis, zone: ComponentId): readonly Stretch[] {
  return stretches(one, zone, 'reports', (states) => states[0]?.split('+').includes('alarm') === true);
}

/** Times during which what drives a contact is otherwise than when the case began. */
function workedIn(one: CaseAnalysis, driver: ComponentId): readonly Stretch[] {
  const [track] = one.timeline.filter((each) => each.component === driver);
  const begin = track?.points[0]?.states[0];
  return stretches(one, driver, 'state', (states) => states[0] !== begin);
}

function stretches(
  one: CaseAnalysis,
  component: ComponentId,
  what: Track['what'],
  counts: (states: readonly string[]) => boolean,
): readonly Stretch[] {
  const track = one.timeline.find((each) => each.component === component && each.what === what);
  return (track?.points ?? []).flatMap((point, i, all): readonly Stretch[] => {
    if (!counts(point.states)) return [];
    return [{ component, from: point.time.usual, to: all[i + 1]?.time.usual ?? Number.POSITIVE_INFINITY }];
  });
}

/** The two stretches of different parts that lie least apart. */
function nearest(all: readonly Stretch[], distance: (one: Stretch, later: Stretch) => number): Apart | undefined {
  const sorted = [...all].sort((one, other) => one.from - other.from);
  let best: Apart | undefined;
  sorted.forEach((one, i) => {
    for (const other of sorted.slice(i + 1)) {
      if (other.component === one.component) continue;
      const seconds = distance(one, other);
      if (best !== undefined && best.seconds <= seconds) continue;
      best = { first: one.component, second: other.component, seconds };
    }
  });
  return best;
}
