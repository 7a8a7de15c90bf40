/** Rounds: what comes again and again in the same way. */
import type { Endless, Entry, Skip } from './branch.ts';
import type { Course } from './course.ts';
import { after, between, type Seconds } from './stamp.ts';

/** Whole rounds that lie before the end are passed over; the times of the next ones are uncertain by all of them. */
export function skip(course: Course, period: Seconds, end: number): Pick<Skip, 'rounds' | 'from' | 'to'> | undefined {
  const rounds = Math.floor((end - course.rank) / period.usual) - 1;
  if (rounds < 1) return undefined;
  const from = course.now;
  const to = after(from, {
    least: period.least * rounds,
    usual: period.usual * rounds,
    most: period.most * rounds,
  });
  course.pendings = course.pendings.map((pending) => {
    if (pending.event.sort === 'back') return pending;
    const rank = pending.rank + rounds * period.usual;
    return { ...pending, stamp: after(to, between(from, pending.stamp)), rank };
  });
  course.now = to;
  course.rank += rounds * period.usual;
  return { rounds, from, to };
}

export function endlessOf(course: Course, from: number, period: Seconds, round: readonly Entry[]): Endless {
  const events = round.flatMap((entry) => entry.events);
  const parts = [...new Set(events.map(({ target }) => target))].sort((one, other) => one - other);
  const meant = events.some(({ target, event }) => {
    const part = course.design.components[target]!;
    return event.sort === 'pulse' || event.sort === 'timer' || (part.kind === 'relay' && part.timer !== undefined);
  });
  return { from, period, parts, oscillates: !meant };
}

export function seconds(value: number): string {
  return `${Number(value.toPrecision(6))} s`;
}

export function spread({ least, usual, most }: Seconds): string {
  return least === most ? seconds(usual) : `${seconds(usual)} (${seconds(least)} .. ${seconds(most)})`;
}
