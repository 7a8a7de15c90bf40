/** The single-fault table of a site: for each zone what it reads with each fault, at rest and in each case that changes it. */
import { finish } from '../analysis/moment.ts';
import type { ComponentId } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import type {
  Fault,
  FaultCell,
  FaultRow,
  FaultTable,
  FaultTableOptions,
  FaultVariant,
  LoadFault,
  ZoneFaults,
} from './contract.ts';
import { deriveFaults } from './derive.ts';
import { doingsOf } from './effects.ts';
import { Expectations } from './expectations.ts';
import { notePassed, passedErrors, putOnTop } from './fitting.ts';
import { Ground } from './ground.ts';
import { cellsOf, type Judged, zonesOf } from './judged.ts';
import { leakageOf } from './leakage.ts';
import { prepare } from './prepare.ts';
import { classOf, grouped, isWorseRow, sameReads } from './rows.ts';
import { FaultSite } from './site.ts';
import { type Effect, Trials } from './trials.ts';

/** Never throws on what a user wrote. */
export function faultTable(design: Design, options: FaultTableOptions = {}): FaultTable {
  return finish(faultTableSteps(design, options));
}

/** As `faultTable`, yielding after each piece of work so that the caller may give way or stop. */
export function* faultTableSteps(original: Design, options: FaultTableOptions = {}): Generator<void, FaultTable> {
  const usualOnly = options.spreads === false;
  const prepared = prepare(original);
  const ground = yield* Ground.settle(prepared.design, usualOnly);
  const site = new FaultSite(original, prepared, ground);
  const maker = new TableMaker(site, options);
  yield* maker.take('fitting');
  yield* maker.take('service');
  return yield* maker.table();
}

/** Zones that one fault reaches beyond which cases are not looked at where rest gives it away. */
const MANY_ZONES = 8;

class TableMaker {
  private readonly site: FaultSite;
  private readonly ground: Ground;
  /** Nothing but the zones' cells at the usual figures is told. */
  private readonly usualOnly: boolean;
  /** Nothing but what the classes of the rows hang on is told. */
  private readonly classesOnly: boolean;
  private readonly leakageAt: (zone: ComponentId) => boolean;
  private readonly faults: readonly Fault[];
  private readonly trials: Trials;
  private readonly expectations: Expectations;
  private readonly judged: ReadonlyMap<ComponentId, Judged>;
  private readonly unjudged: readonly ZoneFaults[];
  private readonly loads: LoadFault[] = [];

  constructor(site: FaultSite, { spreads, classesOnly, leakageAt }: FaultTableOptions) {
    const { ground } = site;
    const usualOnly = spreads === false;
    this.site = site;
    this.usualOnly = usualOnly;
    this.classesOnly = classesOnly === true;
    this.leakageAt = usualOnly ? () => false : (leakageAt ?? (() => true));
    this.ground = ground;
    this.faults = deriveFaults(site);
    this.trials = new Trials(ground, usualOnly);
    this.expectations = new Expectations(ground);
    const { judged, unjudged } = zonesOf(site);
    this.judged = judged;
    this.unjudged = unjudged;
  }

  /** Fitting errors come before service faults, which are put on top of those that were passed. */
  *take(group: Fault['group']): Generator<void, void> {
    for (const fault of this.faults) {
      if (fault.group !== group) continue;
      yield* this.takeOne(fault);
      yield;
    }
  }

  *table(): Generator<void, FaultTable> {
    const zones: ZoneFaults[] = [...this.unjudged];
    for (const judged of this.judged.values()) {
      const { zone, normal, columns, healthy, rows } = judged;
      rows.sort((one, other) => one.fault.id - other.fault.id);
      zones.push({
        zone: zone.id,
        columns: columns.map(({ events: _, ...column }) => column),
        healthy,
        rows: grouped(rows),
        leakage: this.leakageAt(zone.id) ? yield* leakageOf(this.site, this.trials, zone, normal, columns) : [],
        passed: passedErrors(judged),
        needs: [],
        ...(columns.length === 0 ? { reason: 'no case changes it' } : {}),
      });
      yield;
    }
    zones.sort((one, other) => one.zone - other.zone);
    this.loads.sort((one, other) => one.fault.id - other.fault.id);
    return {
      design: this.ground.design,
      faults: this.faults,
      zones,
      loads: this.loads,
      blindService: this.blind(zones, 'service'),
      blindFitting: this.blind(zones, 'fitting'),
    };
  }

  private *takeOne(fault: Fault): Generator<void, void> {
    const rows = new Map<ComponentId, FaultRow>();
    const failed: LoadFault[] = [];
    for (const variant of fault.variants) {
      const doings = doingsOf(this.ground.design, variant);
      if (this.usualOnly && !this.trials.mayTouchZones(doings)) continue;
      const effect = this.trials.within(doings) ?? (yield* this.trials.of(doings));
      for (const index of this.casesAsking(effect)) {
        yield* effect.settle(index);
        const line = effect.line(index);
        if (line === undefined) continue;
        failed.push(...this.expectations.failing(fault, doings, index, line, effect.parts));
      }
      const many = effect.zones.length > MANY_ZONES;
      for (const id of effect.zones) {
        const judged = this.judged.get(id);
        if (judged === undefined) continue;
        if (many) yield;
        const row = this.row(judged, fault, variant, effect);
        const other = rows.get(id);
        if (other === undefined || isWorseRow(row, other)) rows.set(id, row);
        if (fault.group === 'service' && judged.passed.length > 0) yield* putOnTop(judged, row, this.trials);
      }
      effect.forget();
    }
    for (const [id, row] of rows) {
      const judged = this.judged.get(id)!;
      judged.rows.push(row);
      if (!this.usualOnly) notePassed(judged, row);
    }
    if ([...rows.values()].every((row) => row.class === 'quiet')) this.loads.push(...once(failed));
  }

  /** Cases whose course with the fault decides something that they expect of a load. */
  private casesAsking({ parts, cases }: Effect): Iterable<number> {
    if (this.usualOnly || this.classesOnly || parts.size === 0) return [];
    const asking = new Set(this.expectations.atRest(parts));
    for (const index of cases) if (this.expectations.asksAbout(index, parts)) asking.add(index);
    return asking;
  }

  private row(judged: Judged, fault: Fault, variant: FaultVariant, effect: Effect): FaultRow {
    const { zone, healthy, columns, normal } = judged;
    const restOnly = effect.zones.length > MANY_ZONES || !effect.near.has(zone.id);
    // Of a fitting error that the usual figures do not show, commissioning asks what the cases read.
    const isTold = ({ usual }: FaultCell) => fault.group === 'service' || usual !== normal;
    const isEnough = (rest: FaultCell) =>
      rest.answer === 'announced' && (restOnly || (this.classesOnly && isTold(rest)));
    const { rest, cells } = cellsOf(judged, effect, isEnough);
    const usualOnly = this.usualOnly || effect.usualOnly;
    const unchanged = sameReads([rest, ...cells], [healthy.rest, ...healthy.cells]);
    return { fault, variant, rest, cells, unchanged, usualOnly, group: -1, ...classOf(rest, cells, columns) };
  }

  private blind(zones: readonly ZoneFaults[], group: Fault['group']): readonly Fault[] {
    const ids = new Set<number>();
    for (const { rows } of zones) {
      for (const row of rows) if (row.class === 'blind' && row.fault.group === group) ids.add(row.fault.id);
    }
    return this.faults.filter(({ id }) => ids.has(id));
  }
}

function once(failed: readonly LoadFault[]): readonly LoadFault[] {
  const seen = new Set<unknown>();
  return failed.filter(({ expect }) => !seen.has(expect) && seen.add(expect));
}
