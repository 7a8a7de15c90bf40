/**
 * The site once what an instant started has had its effect, with everything stopped that would run out by itself: `for`
 * times, timers, pulses. This is where an expectation without a time stands.
 */
import type { Doings } from '../analysis/doings.ts';
import type { World } from '../analysis/world.ts';
import type { ComponentId } from '../design/components.ts';
import type { Course } from './course.ts';
import { earlier, isSlow } from './pending.ts';

const MOST_EVENTS = 400;

export interface SettledCourse {
  readonly world: World;
  readonly doings: Doings;
}

export function settled(course: Course): SettledCourse {
  const isStill = course.pendings.every(isSlow) && !course.outputs.hasPatterns && !course.timers.hasPulsing(course);
  if (isStill) return { world: course.world, doings: course.doings() };
  const ahead = course.clone();
  ahead.outputs.steady = true;
  const pulsing = ahead.timers.steady(ahead);
  ahead.pendings = ahead.pendings.filter((pending) => !isSlow(pending));
  if (pulsing || ahead.outputs.hasPatterns) ahead.refresh();
  const seen = new Map<string, number>();
  const moved: ComponentId[] = [];
  for (let events = 0; events < MOST_EVENTS; events++) {
    ahead.pendings = ahead.pendings.filter((pending) => !isSlow(pending));
    const next = [...ahead.pendings].sort(earlier);
    const [first] = next;
    if (first === undefined) break;
    const key = ahead.keyInTime();
    const before = seen.get(key);
    if (before !== undefined) {
      ahead.unsettle(new Set(moved.slice(before)));
      break;
    }
    seen.set(key, moved.length);
    const group = next.filter(({ rank }) => rank <= first.rank + 1e-12);
    moved.push(...group.filter(({ event }) => event.sort === 'relay').map(({ target }) => target));
    ahead.apply(group);
  }
  return { world: ahead.world, doings: ahead.doings() };
}
