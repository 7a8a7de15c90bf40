/**
 * What was found in a coupling, remembered by its content: as long as nothing in a coupling changes, it is neither solved
 * nor judged again, wherever its text moves to.
 */
import type { Coupling } from '@couplet/engine';
import type { Judgement } from '@couplet/rules';

export class CouplingMemory {
  private current = new Map<string, Judgement>();
  private before = new Map<string, Judgement>();

  /** The content of a coupling and the date it is judged by, as a key. */
  static keyOf(coupling: Coupling, today: string): string {
    const text = JSON.stringify(coupling.design);
    // The notation writes every number that is not finite as null.
    return `${today} ${text.includes(':null') ? JSON.stringify(coupling.design, infinities) : text}`;
  }

  get(key: string): Judgement | undefined {
    const known = this.current.get(key) ?? this.before.get(key);
    if (known !== undefined) this.current.set(key, known);
    return known;
  }

  set(key: string, judgement: Judgement): void {
    this.current.set(key, judgement);
  }

  /** A pass is complete: what neither it nor the one before it asked for is forgotten. */
  passed(): void {
    this.before = this.current;
    this.current = new Map();
  }
}

function infinities(_: string, value: unknown): unknown {
  return typeof value === 'number' && !Number.isFinite(value) ? String(value) : value;
}
