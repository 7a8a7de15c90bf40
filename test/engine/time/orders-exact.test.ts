/** Which events may change places, which of them can meet, and whether their order makes any difference: worked by hand. */
import { describe, expect, test } from 'vitest';
import { NOTHING_DONE } from '../../../packages/engine/src/analysis/doings.ts';
import { finish } from '../../../packages/engine/src/analysis/moment.ts';
import { Shared } from '../../../packages/engine/src/analysis/shared.ts';
import { Model } from '../../../packages/engine/src/build/index.ts';
import { Course } from '../../../packages/engine/src/time/course.ts';
import { orderMatters, Reaches, rivalsOf } from '../../../packages/engine/src/time/orders.ts';
import type { Event, Pending } from '../../../packages/engine/src/time/pending.ts';
import { resting } from '../../../packages/engine/src/time/rest.ts';
import { after, type Seconds, START, type Stamp } from '../../../packages/engine/src/time/stamp.ts';
import { choice, datum } from '../../support/data.ts';
import { SiteBuilder } from '../../support/site.ts';
import { BANDS, EXACT } from './support.ts';

const takes = (least: number, usual: number, most: number): Seconds => ({ least, usual, most });
const exactly = (time: number): Seconds => takes(time, time, time);
const NOBODY: ReadonlySet<number> = new Set();

function courseOf(site: SiteBuilder): Course {
  const shared = new Shared(new Model(site.build()));
  const { world } = finish(resting(shared));
  return new Course(shared, world, world, NOTHING_DONE);
}

const OPERATES: Event = { sort: 'relay', decision: { usual: 'operated', possible: ['operated'], lacks: [] } };

/** An event that stands by itself, for what is asked of its time or its reach alone. */
function waiting(target: number, by: Seconds, event: Event = OPERATES, cause: Stamp = START): Pending {
  const stamp = after(cause, by);
  return { target, stamp, rank: stamp.usual, order: target, event };
}

/** A site with a supply; `relays` each behind a switch of its own: S1 works K1. */
function switched(...relays: readonly (readonly [name: string, facts?: object])[]): SiteBuilder {
  const site = new SiteBuilder();
  site.supply('G1', { volts: datum(12) });
  for (const [name, facts] of relays) {
    const contact = name.replace('K', 'S');
    site.switch(contact, 'make').relay(name, { ...EXACT, poles: 2, ...facts });
    site.wire('G1.plus', contact, `${name}.A1-A2`, 'G1.minus');
  }
  return site;
}

/** Closes switches at the beginning of a case; what they start is pending. */
function close(course: Course, site: SiteBuilder, ...names: readonly string[]): void {
  const turns = names.map((name) => site.turn(name, 'closed'));
  course.apply([course.scheduleAt(turns[0]!.target, START, 0, { sort: 'line', turns })]);
}

const moving = (course: Course, site: SiteBuilder, name: string): Pending =>
  course.pendingOf(site.id(name), 'relay') ??
  (() => {
    throw new Error(`${name} does not move`);
  })();

describe('events that may come before another one', () => {
  const one = waiting(1, exactly(1));
  const rivals = (...others: readonly Pending[]) => rivalsOf(one, [one, ...others]).map(({ target }) => target);

  test('overlap with it: only touching it, or later or earlier altogether, they do not', () => {
    expect(rivals(waiting(2, takes(0.5, 1, 1.5)))).toEqual([2]);
    expect(rivals(waiting(3, takes(1, 1.2, 1.5)))).toEqual([]);
    expect(rivals(waiting(4, takes(0.5, 0.8, 1)))).toEqual([]);
    expect(rivals(waiting(5, takes(1.1, 1.2, 1.3)), waiting(6, takes(0.1, 0.2, 0.3)))).toEqual([]);
  });

  test('a picosecond apart is at the same time', () => {
    const now = waiting(1, exactly(0));
    const shortly = waiting(2, takes(-1, 0, 1e-12));
    const hardly = waiting(3, takes(-1e-12, 0, 1));
    const perhaps = waiting(4, takes(-2e-12, 0, 2e-12));
    expect(rivalsOf(now, [now, shortly, hardly, perhaps])).toEqual([perhaps]);
  });

  test('are taken by their usual distance, eight at most', () => {
    expect(rivals(waiting(2, takes(0, 1.4, 3)), waiting(3, takes(0, 1.1, 3)), waiting(4, takes(0, 1.3, 3)))).toEqual([
      3, 4, 2,
    ]);
    const many = Array.from({ length: 10 }, (_, i) => waiting(20 - i, takes(0, 1 + (10 - i) / 100, 3)));
    expect(rivals(...many)).toEqual([11, 12, 13, 14, 15, 16, 17, 18]);
  });

  test('never the event itself, however uncertain its time is', () => {
    const vague = waiting(1, takes(0, 1, 2));
    expect(rivalsOf(vague, [vague])).toEqual([]);
  });
});

describe('events that can meet', () => {
  const meets = (site: SiteBuilder, one: Pending, other: Pending, watched: readonly string[] = []) =>
    new Reaches(courseOf(site), new Set(watched.map((name) => site.id(name)))).meet(one, other);
  const moves = (site: SiteBuilder, name: string) => waiting(site.id(name), exactly(1));

  test('two relays without anything in common do not', () => {
    const site = switched(['K1'], ['K2']);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(false);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K1'))).toBe(true);
  });

  test('two relays do whose contacts feed one coil', () => {
    const site = switched(['K1'], ['K2'], ['K3'], ['K4']);
    site.wire('G1.plus', 'K1.11-14', 'K2.11-14', 'K3.A1');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(true);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K4'))).toBe(false);
  });

  test('a relay meets what its contact feeds, whichever of the two is asked first', () => {
    const site = switched(['K1'], ['K2']);
    site.wire('G1.plus', 'K1.11-14', 'K2.A1');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(true);
    expect(meets(site, moves(site, 'K2'), moves(site, 'K1'))).toBe(true);
  });

  test('over a third relay only the second event can undo the first', () => {
    const site = switched(['K1'], ['K2'], ['K3']);
    site.wire('G1.plus', 'K1.11-14', 'K3.A1').wire('G1.plus', 'K3.11-14', 'K2.A1');
    expect(meets(site, moves(site, 'K2'), moves(site, 'K1'))).toBe(true);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(false);
  });

  test('over a zone and the output that follows it too', () => {
    const site = switched(['K1'], ['K2'], ['K4']);
    site.unit('u').rail('u.V', 'u.M', { volts: datum(12) });
    site.zone('u.Z1', 'u.ZC', { feedVolts: datum(5), feedOhms: datum(4700), bands: BANDS });
    site.output('u.Q1', 'sink', { returns: 'u.M', drop: datum(0), leak: datum(0) }).follow('u.Q1', ['u.Z1', 'alarm']);
    site.relay('K3', EXACT).wire('u.V', 'K3.A1-A2', 'u.Q1').resistor('RE', 2200);
    site.wire('u.Z1', 'K1.11-12', 'RE', 'u.ZC').wire('G1.plus', 'K3.11-14', 'K2.A1');
    // K1 opens the loop, the zone reports it, Q1 pulls K3 in, and that feeds K2.
    expect(meets(site, moves(site, 'K3'), moves(site, 'K1'))).toBe(true);
    expect(meets(site, moves(site, 'K2'), moves(site, 'K1'))).toBe(true);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(false);
    expect(meets(site, moves(site, 'K4'), moves(site, 'K1'))).toBe(false);
    const reports = waiting(site.id('u.Z1'), exactly(1), { sort: 'report', state: 'alarm' });
    expect(meets(site, reports, moves(site, 'K3'))).toBe(true);
    expect(meets(site, moves(site, 'K2'), reports)).toBe(true);
    expect(meets(site, reports, moves(site, 'K4'))).toBe(false);
    // Both move the loop that the panel acts on.
    site.wire('K1.12', 'K4.11-12', 'K1.11');
    expect(meets(site, moves(site, 'K4'), moves(site, 'K1'))).toBe(true);
  });

  test('a loop that nothing hangs on is no meeting, unless it is asked about', () => {
    const site = switched(['K1'], ['K2']);
    site.load('P1', 'resistive', { sort: 'ohms', ohms: datum(120) }, { works: datum([9, 15]) });
    site.wire('G1.plus', 'K1.11-14', 'K2.11-14', 'P1', 'G1.minus');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(false);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'), ['P1'])).toBe(true);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'), ['K1'])).toBe(false);
  });

  test('a capacitor remembers what two contacts did to it', () => {
    const site = switched(['K1'], ['K2']);
    site.resistor('R1', 1000).capacitor('C1', 1e-6);
    site.wire('G1.plus', 'K1.11-14', 'R1', 'C1', 'G1.minus').wire('C1.plus', 'K2.11-14', 'G1.minus');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(true);
  });

  test('zones that count for one confirmation meet there, and its end meets what hangs on it', () => {
    const site = switched(['K1'], ['K2']);
    site.unit('u').rail('u.V', 'u.M', { volts: datum(12) });
    const facts = { feedVolts: datum(5), feedOhms: datum(4700), bands: BANDS };
    site.zone('u.Z1', 'u.ZC', facts).zone('u.Z2', 'u.ZC', facts).zone('u.Z3', 'u.ZC', facts);
    site.confirm('u.A', ['u.Z1', 'u.Z2']).output('u.Q1', 'sink', { returns: 'u.M', drop: datum(0), leak: datum(0) });
    site.follow('u.Q1', ['u.A', 'confirmed']).relay('K3', EXACT).wire('u.V', 'K3.A1-A2', 'u.Q1');
    for (const name of ['1', '2', '3']) site.resistor(`R${name}`, 2200).wire(`u.Z${name}`, `R${name}`, 'u.ZC');
    const reports = (name: string) => waiting(site.id(name), exactly(1), { sort: 'report', state: 'alarm' });
    expect(meets(site, reports('u.Z1'), reports('u.Z2'))).toBe(true);
    expect(meets(site, reports('u.Z1'), reports('u.Z3'))).toBe(false);
    const ends = waiting(site.id('u.A'), exactly(1), { sort: 'window', zone: site.id('u.Z1') });
    expect(meets(site, ends, moves(site, 'K3'))).toBe(true);
    expect(meets(site, ends, moves(site, 'K1'))).toBe(false);
    expect(meets(site, ends, reports('u.Z2'))).toBe(true);
    expect(meets(site, ends, reports('u.Z3'))).toBe(false);
  });

  test('two coils side by side do not: a relay that arrives changes nothing at its own coil', () => {
    const site = new SiteBuilder();
    site
      .supply('G1', { volts: datum(12) })
      .switch('S1', 'make')
      .resistor('R1', 10);
    site.relay('K1', EXACT).relay('K2', EXACT);
    site.wire('G1.plus', 'S1', 'R1', 'K1.A1-A2', 'G1.minus').wire('R1.2', 'K2.A1-A2', 'G1.minus');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(false);
  });

  test('what is drawn from a rail is drawn again where the rail is fed, and felt by a coil there', () => {
    const site = switched(['K1'], ['K3']);
    site
      .unit('u')
      .feed('u.IN', 'u.P', 'u.N')
      .rail('u.V', 'u.N', { volts: datum(5), fedBy: site.id('u.IN') });
    site.resistor('R1', 10).relay('K2', EXACT).resistor('RL', 1000);
    site.wire('G1.plus', 'R1', 'u.P').wire('u.N', 'G1.minus').wire('R1.2', 'K2.A1-A2', 'G1.minus');
    site.wire('u.V', 'K1.11-14', 'RL', 'u.N');
    expect(meets(site, moves(site, 'K1'), moves(site, 'K2'))).toBe(true);
    expect(meets(site, moves(site, 'K1'), moves(site, 'K3'))).toBe(false);
  });

  test('a supply that is turned meets everything', () => {
    const site = switched(['K1'], ['K2']);
    const lost = waiting(site.id('G1'), exactly(1), { sort: 'line', turns: [site.turn('G1', 'off')] });
    expect(meets(site, lost, moves(site, 'K1'))).toBe(true);
    expect(meets(site, moves(site, 'K1'), lost)).toBe(true);
    const mixed = [site.turn('S1', 'closed'), site.turn('G1', 'off')];
    expect(meets(site, waiting(site.id('S1'), exactly(1), { sort: 'line', turns: mixed }), moves(site, 'K2'))).toBe(
      true,
    );
  });

  test('a line of the case meets what goes back of any of its turns, and the coils that any of them works', () => {
    const site = switched(['K1'], ['K2'], ['K3']);
    const turns = [site.turn('S1', 'closed'), site.turn('S2', 'closed')];
    const line = waiting(site.id('S1'), exactly(1), { sort: 'line', turns });
    const back = (name: string) =>
      waiting(site.id(name), exactly(1), { sort: 'back', turn: site.turn(name, 'closed') });
    expect(meets(site, line, back('S2'))).toBe(true);
    expect(meets(site, line, moves(site, 'K2'))).toBe(true);
    expect(meets(site, line, back('S3'))).toBe(false);
    expect(meets(site, line, moves(site, 'K3'))).toBe(false);
  });
});

describe('events that are taken together', () => {
  const spread = takes(0.003, 0.004, 0.006);
  const site = switched(['K1'], ['K2'], ['K3'], ['K4'], ['K5']);
  site.wire('G1.plus', 'K1.11-14', 'K5.A1').wire('G1.plus', 'K2.11-14', 'K5.A1');
  site.wire('G1.plus', 'K3.11-14', 'K4.A1');
  const at = (name: string, by: Seconds, event?: Event, cause?: Stamp) => waiting(site.id(name), by, event, cause);
  const names = (...events: readonly Pending[]) =>
    new Reaches(courseOf(site), NOBODY).together(events).map(({ target }) => site.components[target]!.name);

  test('come at the very same instant, whatever they touch', () => {
    expect(names(at('K1', exactly(1)), at('K2', exactly(1)), at('K3', exactly(1.5)))).toEqual(['K1', 'K2']);
    expect(names(at('K1', exactly(1)), at('K2', exactly(1 + 1e-13)))).toEqual(['K1', 'K2']);
    expect(names(at('K1', exactly(1)), at('K2', takes(1, 1, 2)))).toEqual(['K1']);
    expect(names(at('K1', exactly(1)), at('K2', takes(0, 1, 1)))).toEqual(['K1']);
  });

  test('or are relays with one cause and the same time that touch nothing in common', () => {
    expect(names(at('K1', spread), at('K3', spread))).toEqual(['K1', 'K3']);
    expect(names(at('K1', spread), at('K2', spread))).toEqual(['K1']);
    expect(names(at('K1', spread), at('K5', spread))).toEqual(['K1']);
  });

  test('where each is compared with all that are in already', () => {
    // K3 is taken with K1 and feeds K4, which therefore is not.
    expect(names(at('K1', spread), at('K3', spread), at('K4', spread))).toEqual(['K1', 'K3']);
    expect(names(at('K1', spread), at('K4', spread))).toEqual(['K1', 'K4']);
  });

  test('not with another cause, another time or of another sort', () => {
    const press = after(START, exactly(0));
    expect(names(at('K1', spread), at('K3', spread, OPERATES, press))).toEqual(['K1']);
    expect(names(at('K1', spread), at('K3', takes(0.002, 0.004, 0.006)))).toEqual(['K1']);
    expect(names(at('K1', spread), at('K3', takes(0.003, 0.005, 0.006)))).toEqual(['K1']);
    expect(names(at('K1', spread), at('K3', takes(0.003, 0.004, 0.007)))).toEqual(['K1']);
    expect(names(at('K1', spread), at('K3', spread, { sort: 'timer' }))).toEqual(['K1']);
    expect(names(at('K1', spread, { sort: 'timer' }), at('K3', spread))).toEqual(['K1']);
  });
});

describe('whether the order of two events matters', () => {
  /** K1 and K2 are pressed at once; whether it matters which of them arrives first. */
  function matters(site: SiteBuilder, watched: readonly string[] = []): boolean {
    const course = courseOf(site);
    close(course, site, 'S1', 'S2');
    const before = course.key();
    const found = orderMatters(
      course,
      moving(course, site, 'K1'),
      moving(course, site, 'K2'),
      new Set(watched.map((name) => site.id(name))),
    );
    // Asking leaves the course as it was.
    expect(course.key()).toBe(before);
    return found;
  }
  const lit = (site: SiteBuilder) =>
    site.load('P1', 'resistive', { sort: 'ohms', ohms: datum(120) }, { works: datum([9, 15]) });

  test('it does not where nothing is in common', () => {
    expect(matters(switched(['K1'], ['K2']))).toBe(false);
  });

  test('it does where the first one to arrive keeps the other out', () => {
    const site = new SiteBuilder();
    site
      .supply('G1', { volts: datum(12) })
      .switch('S1', 'make')
      .switch('S2', 'make');
    site.relay('K1', EXACT).relay('K2', EXACT);
    site.wire('G1.plus', 'S1', 'K2.11-12', 'K1.A1-A2', 'G1.minus');
    site.wire('G1.plus', 'S2', 'K1.11-12', 'K2.A1-A2', 'G1.minus');
    expect(matters(site)).toBe(true);
  });

  test('it does where a part that is asked about shows in one order what it shows neither before nor after', () => {
    const site = lit(switched(['K1'], ['K2'])).wire('G1.plus', 'K1.11-12', 'K2.11-14', 'P1', 'G1.minus');
    // Off with both at rest, on between K2 and K1, off again.
    expect(matters(site, ['P1'])).toBe(true);
    expect(matters(site)).toBe(false);
    const mirrored = lit(switched(['K1'], ['K2'])).wire('G1.plus', 'K2.11-12', 'K1.11-14', 'P1', 'G1.minus');
    expect(matters(mirrored, ['P1'])).toBe(true);
  });

  test('it does not where that part goes over once, sooner or later', () => {
    const series = lit(switched(['K1'], ['K2'])).wire('G1.plus', 'K1.11-14', 'K2.11-14', 'P1', 'G1.minus');
    expect(matters(series, ['P1'])).toBe(false);
    const parallel = lit(switched(['K1'], ['K2'])).wire('G1.plus', 'K1.11-14', 'P1', 'G1.minus');
    expect(matters(parallel.wire('G1.plus', 'K2.11-14', 'P1'), ['P1'])).toBe(false);
  });

  describe('a relay that is fed between the two alone', () => {
    /** K1 opens and K2 closes the feed of K3. */
    const fed = (facts: object, twoCoils = false) => {
      const site = switched(['K1'], ['K2']).relay('K3', { ...EXACT, poles: 2, twoCoils, ...facts });
      return site.wire('G1.plus', 'K1.11-12', 'K2.11-14', 'K3.A1-A2', 'G1.minus');
    };

    test('forgets it where it is an ordinary one', () => {
      expect(matters(fed({}))).toBe(false);
    });

    test('may stay thrown where it latches', () => {
      const latch = { latching: choice('two-coil'), rest: choice('reset'), minimumPulse: datum(0.02) };
      expect(matters(fed(latch, true))).toBe(true);
    });

    test('may stay in where it holds itself', () => {
      expect(matters(fed({}).wire('G1.plus', 'K3.11-14', 'K3.A1'))).toBe(true);
    });

    test('may have started where it is a timer', () => {
      const timed = { function: 'off-delay', time: datum(5), works: datum([9, 16]), draws: datum(0.01) } as const;
      const site = switched(['K1'], ['K2']).relay('K3', { timed: { ...timed, control: true } });
      site.wire('G1.plus', 'K3.A1-A2', 'G1.minus').wire('G1.plus', 'K1.11-12', 'K2.11-14', 'K3.B1');
      expect(matters(site)).toBe(true);
    });
  });

  describe('what the second event brings about may undo the first', () => {
    /** K2 feeds K3, whose break contact feeds K1 for so long. */
    const undone = (operateTime: number) => {
      const site = new SiteBuilder();
      site
        .supply('G1', { volts: datum(12) })
        .switch('S1', 'make')
        .switch('S2', 'make');
      site.relay('K1', { ...EXACT, operateTime: datum([0.002, 0.012]) });
      site.relay('K2', { ...EXACT, operateTime: datum([0.004, 0.006]) });
      site.relay('K3', { ...EXACT, operateTime: datum(operateTime) });
      site.wire('G1.plus', 'S1', 'K3.11-12', 'K1.A1-A2', 'G1.minus');
      site.wire('G1.plus', 'S2', 'K2.A1-A2', 'G1.minus').wire('G1.plus', 'K2.11-14', 'K3.A1-A2', 'G1.minus');
      return site;
    };

    test('where it may still come before it', () => {
      // K3 is in 5 to 7 ms after the press at the earliest, K1 may take up to 12.
      expect(matters(undone(0.001))).toBe(true);
    });

    test('not where it is certain to come after it', () => {
      // K3 is in 4 + 8 = 12 ms after the press at the earliest.
      expect(matters(undone(0.008))).toBe(false);
      expect(matters(undone(0.0079))).toBe(true);
    });
  });
});
