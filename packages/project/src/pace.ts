/** Long work gives way to other work from time to time, and stops when nobody waits for it any more. */

/** What the editor hands in to call work off; any object with this flag will do. */
export interface Cancellation {
  readonly isCancellationRequested: boolean;
}

/** Thrown where work was called off. Whoever catches errors hands this one on. */
export class Cancelled extends Error {
  constructor() {
    super('The work was called off.');
    this.name = 'Cancelled';
  }
}

/** Milliseconds of work after which others get their turn. */
const TURN = 25;

export class Pace {
  private readonly cancellation: Cancellation | undefined;
  private since = performance.now();

  constructor(cancellation?: Cancellation) {
    this.cancellation = cancellation;
  }

  /** Throws `Cancelled` when the work was called off. */
  check(): void {
    if (this.cancellation?.isCancellationRequested) throw new Cancelled();
  }

  /** Lets others have their turn when enough time has passed, then checks. */
  async giveWay(): Promise<void> {
    if (performance.now() - this.since >= TURN) {
      await new Promise((resolve) => setTimeout(resolve, 0));
      this.since = performance.now();
    }
    this.check();
  }

  /** Runs a generator to its end, giving way between its steps. */
  async drive<T>(steps: Generator<unknown, T>): Promise<T> {
    for (let step = steps.next(); ; step = steps.next()) {
      if (step.done) return step.value;
      await this.giveWay();
    }
  }
}
