/** What a zone makes of the ohms between its terminals: volts by its own feed, and a class by its bands. */
import { classesOf } from '../analysis/states.ts';
import type { ComponentOf } from '../design/components.ts';
import type { FaultSpread } from './contract.ts';

export const ENDS = ['least', 'usual', 'most'] as const;
export type End = (typeof ENDS)[number];

export class ZoneScale {
  readonly zone: ComponentOf<'zone'>;
  private readonly volts: FaultSpread;
  private readonly behind: FaultSpread;

  private constructor(zone: ComponentOf<'zone'>, volts: FaultSpread, behind: FaultSpread) {
    this.zone = zone;
    this.volts = volts;
    this.behind = behind;
  }

  /** `undefined` where the zone does not say how it feeds its loop. */
  static of(zone: ComponentOf<'zone'>): ZoneScale | undefined {
    const { feedVolts, feedOhms } = zone;
    if (feedVolts === undefined || feedOhms === undefined) return undefined;
    return feedVolts.least > 0 && feedOhms.least > 0 ? new ZoneScale(zone, feedVolts, feedOhms) : undefined;
  }

  /** Volts rise with the ohms and with the feed's volts, and fall with the ohms behind it. */
  readings(ohms: FaultSpread): { readonly ohms: FaultSpread; readonly volts: FaultSpread } {
    const volts = {
      least: this.voltsAt(ohms.least, 'least'),
      usual: this.voltsAt(ohms.usual, 'usual'),
      most: this.voltsAt(ohms.most, 'most'),
    };
    return { ohms, volts };
  }

  /** Edges of the zone's bands as ohms, with its feed at one end of its spread. */
  edges(end: End): readonly number[] {
    const { scheme } = this.zone;
    const edges = new Set<number>();
    for (const { from, to } of scheme?.bands ?? []) {
      if (from !== undefined) edges.add(from);
      if (to !== undefined) edges.add(to);
    }
    if (scheme?.unit !== 'V') return [...edges];
    const volts = this.volts[end];
    return [...edges]
      .filter((edge) => edge >= 0 && edge < volts)
      .map((edge) => (edge * this.behindAt(end)) / (volts - edge));
  }

  /** The class at so many ohms, with the feed at one end of its spread. */
  classAt(ohms: number, end: End): string | undefined {
    const volts = this.voltsAt(ohms, end);
    const exactly = (value: number) => ({ least: value, usual: value, most: value });
    return classesOf(this.zone, exactly(ohms), exactly(volts)).usual;
  }

  /** The class at so many volts at the terminal, with the feed at its usual figures. */
  classAtVolts(volts: number): string | undefined {
    const open = volts >= this.volts.usual;
    const ohms = open ? Number.POSITIVE_INFINITY : (volts * this.behind.usual) / (this.volts.usual - volts);
    const exactly = (value: number) => ({ least: value, usual: value, most: value });
    return classesOf(this.zone, exactly(ohms), exactly(volts)).usual;
  }

  private voltsAt(ohms: number, end: End): number {
    const volts = this.volts[end];
    return ohms === Number.POSITIVE_INFINITY ? volts : (volts * ohms) / (ohms + this.behindAt(end));
  }

  private behindAt(end: End): number {
    return this.behind[end === 'usual' ? 'usual' : end === 'least' ? 'most' : 'least'];
  }
}
