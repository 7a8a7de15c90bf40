/**
 * What was found in a coupling, remembered by its content: as long as nothing in a coupling changes, it is neither solved
 * nor judged again, wherever its text moves to.
 */
import type { Judgement } from '@couplet/rules';

export class CouplingMemory {
  /** By digest of the coupling and date that it was judged by. */
  private current = new Map<string, Judgement>();
  private before = new Map<string, Judgement>();

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
