/** Capacitors on their way through time. */
import type { Decision } from '../analysis/decision.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Course } from './course.ts';
import type { Stamp } from './stamp.ts';

export class Charging {
  constructor(_like?: Charging) {}

  look(_course: Course, _cause: Stamp): void {}

  cross(_sensor: ComponentId): void {}

  wanted(_course: Course, _relay: ComponentOf<'relay'>, _position: Decision): Decision | undefined {
    return undefined;
  }

  statesOf(_course: Course, _id: ComponentId): readonly string[] | undefined {
    return undefined;
  }

  key(): string {
    return '';
  }
}
