/** Events in words. */
import type { Course } from './course.ts';
import type { Event, EventSort, Pending } from './pending.ts';

/** 'K1 operates', 'level.Q1 off', 'P1 back'. */
export function labelOf(course: Course, { target, event }: Pending): string {
  const name = course.design.components[target]!.name;
  return WORDS[event.sort](name, event as never, course);
}

type Words = {
  readonly [S in EventSort]: (name: string, event: Extract<Event, { sort: S }>, course: Course) => string;
};

const WORDS: Words = {
  line: (_, { turns }, course) =>
    turns.map(({ target, state }) => `${course.design.components[target]!.name} ${state}`).join(', '),
  back: (name) => `${name} goes back`,
  relay: (name, { decision }) => `${name} ${decision.usual === 'operated' ? 'operates' : 'releases'}`,
  trigger: (name) => `${name} triggered`,
  timer: (name) => `${name} run out`,
  pulse: (name) => `${name} pulse`,
  report: (name, { state }) => `${name} reports ${state ?? 'nothing known'}`,
  window: (name, { zone }, course) => `${course.design.components[zone]!.name} no longer counts for ${name}`,
  charge: (name) => `${name} charged`,
};
