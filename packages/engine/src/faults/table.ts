/** The single-fault table of a site: for each zone what it reads with each fault, at rest and in each case that changes it. */
import { finish } from '../analysis/moment.ts';
import type { ComponentId, ComponentOf } from '../design/components.ts';
import type { Design } from '../design/design.ts';
import { caseCell, isWorse, type Read, readIn, restCell } from './answers.ts';
import { type Column, columnsOf } from './columns.ts';
import type {
  Fault,
  FaultCell,
  FaultClass,
  FaultRow,
  FaultSpread,
  FaultTable,
  FaultVariant,
  LoadFault,
  ZoneFaults,
} from './contract.ts';
import { deriveFaults } from './derive.ts';
import { doingsOf } from './effects.ts';
import { Expectations } from './expectations.ts';
import { Ground } from './ground.ts';
import { prepare } from './prepare.ts';
import { FaultSite } from './site.ts';
import { type Effect, Trials } from './trials.ts';

/** Never throws on what a user wrote. */
export function faultTable(design: Design): FaultTable {
  return finish(faultTableSteps(design));
}

/** As `faultTable`, yielding after each piece of work so that the caller may give way or stop. */
export function* faultTableSteps(original: Design): Generator<void, FaultTable> {
  const prepared = prepare(original);
  const ground = yield* Ground.settle(prepared.design);
  const faults = deriveFaults(new FaultSite(original, prepared, ground));
  const maker = new TableMaker(ground, faults);
  for (const fault of faults) {
    yield* maker.take(fault);
    yield;
  }
  return maker.table();
}

/** A zone whose answers can be judged. */
interface Judged {
  readonly zone: ComponentOf<'zone'>;
  readonly normal: string;
  readonly columns: readonly Column[];
  readonly healthy: { readonly rest: FaultCell; readonly cells: readonly FaultCell[] };
  readonly rows: FaultRow[];
}

class TableMaker {
  private readonly ground: Ground;
  private readonly faults: readonly Fault[];
  private readonly trials: Trials;
  private readonly expectations: Expectations;
  private readonly judged = new Map<ComponentId, Judged>();
  private readonly unjudged: ZoneFaults[] = [];
  private readonly loads: LoadFault[] = [];

  constructor(ground: Ground, faults: readonly Fault[]) {
    this.ground = ground;
    this.faults = faults;
    this.trials = new Trials(ground);
    this.expectations = new Expectations(ground);
    for (const part of ground.design.components) if (part.kind === 'zone') this.open(part);
  }

  *take(fault: Fault): Generator<void, void> {
    const rows = new Map<ComponentId, FaultRow>();
    const failed: LoadFault[] = [];
    for (const variant of fault.variants) {
      const doings = doingsOf(this.ground.design, variant);
      const effect = yield* this.trials.of(doings);
      const zones = new Set(effect.zones);
      for (const index of new Set([...this.expectations.atRest(effect.parts), ...effect.cases])) {
        const line = yield* effect.line(index);
        if (line === undefined) continue;
        failed.push(...this.expectations.failing(fault, doings, index, line, effect.parts));
      }
      for (const id of zones) {
        const zone = this.judged.get(id);
        if (zone === undefined) continue;
        const row = yield* this.row(zone, fault, variant, effect);
        const other = rows.get(id);
        if (other === undefined || isWorseRow(row, other)) rows.set(id, row);
      }
    }
    for (const [id, row] of rows) this.judged.get(id)!.rows.push(row);
    if ([...rows.values()].every((row) => row.class === 'quiet')) this.loads.push(...once(failed));
  }

  table(): FaultTable {
    const zones: ZoneFaults[] = [...this.unjudged];
    for (const { zone, columns, healthy, rows } of this.judged.values()) {
      zones.push({
        zone: zone.id,
        columns: columns.map(({ events: _, ...column }) => column),
        healthy,
        rows: grouped(rows),
        leakage: [],
        passed: [],
        needs: [],
        ...(columns.length === 0 ? { reason: 'no case changes it' } : {}),
      });
    }
    zones.sort((one, other) => one.zone - other.zone);
    return {
      design: this.ground.design,
      faults: this.faults,
      zones,
      loads: this.loads,
      blindService: this.blind(zones, 'service'),
      blindFitting: this.blind(zones, 'fitting'),
    };
  }

  private blind(zones: readonly ZoneFaults[], group: Fault['group']): readonly Fault[] {
    const ids = new Set<number>();
    for (const { rows } of zones) {
      for (const row of rows) if (row.class === 'blind' && row.fault.group === group) ids.add(row.fault.id);
    }
    return this.faults.filter(({ id }) => ids.has(id));
  }

  /** Looks at a zone with nothing wrong. */
  private open(zone: ComponentOf<'zone'>): void {
    const { rest, shared, lines } = this.ground;
    if (!shared.model.isJoined(zone.a)) return;
    const read = readIn(rest, zone);
    const normal = read.usual;
    if (normal === undefined) {
      this.unjudged.push(unjudged(zone, read));
      return;
    }
    const columns = columnsOf(this.ground, zone, normal);
    const cells = columns.map(({ case: index, events }) =>
      caseCell((instant) => readIn(lines[index]!.instants[instant]!.world, zone), events, normal),
    );
    this.judged.set(zone.id, {
      zone,
      normal,
      columns,
      healthy: { rest: restCell(read, normal), cells },
      rows: [],
    });
  }

  private *row(judged: Judged, fault: Fault, variant: FaultVariant, effect: Effect): Generator<void, FaultRow> {
    const { zone, normal, columns, healthy } = judged;
    const rest = restCell(effect.readRest(zone), normal);
    const cells: FaultCell[] = [];
    for (const { case: index, events } of columns) {
      const reads = new Map<number, Read>();
      for (const instant of events.flatMap(({ at }) => at)) {
        reads.set(instant, yield* effect.readCase(zone, index, instant));
      }
      cells.push(caseCell((instant) => reads.get(instant)!, events, normal));
    }
    const unchanged = sameReads([rest, ...cells], [healthy.rest, ...healthy.cells]);
    return { fault, variant, rest, cells, unchanged, group: -1, ...classOf(rest, cells, columns) };
  }
}

function unjudged(zone: ComponentOf<'zone'>, read: Read): ZoneFaults {
  const needs = zone.scheme === undefined ? [{ component: zone.id, property: 'scheme', origin: zone.origin }] : [];
  const reason =
    zone.scheme === undefined ? 'it has no bands' : (read.reason ?? 'what it reads at rest lies outside every band');
  const healthy = { rest: restCell(read, ''), cells: [] };
  return { zone: zone.id, columns: [], healthy, rows: [], leakage: [], passed: [], needs, reason };
}

/** A row's class is its worst over the columns, unless rest already gives the fault away. */
export function classOf(
  rest: FaultCell,
  cells: readonly FaultCell[],
  columns: readonly Pick<Column, 'name'>[],
): Pick<FaultRow, 'class' | 'caseName' | 'reason'> {
  if (rest.answer === 'announced') return { class: 'announced' };
  if (rest.answer === 'not-evaluated') return { class: 'not-evaluated', ...(rest.reason && { reason: rest.reason }) };
  let worst: { readonly class: FaultClass; readonly caseName?: string } = { class: 'quiet' };
  let unknown: string | undefined;
  cells.forEach(({ answer, reason }, column) => {
    if (answer === 'not-evaluated') unknown ??= reason ?? 'a datum is missing';
    else if (isWorse(answer, worst.class)) worst = { class: answer, caseName: columns[column]!.name };
  });
  if (cells.length === 0) return { class: 'not-evaluated', reason: 'no case says what should arrive' };
  if (unknown !== undefined && worst.class !== 'blind') return { class: 'not-evaluated', reason: unknown };
  return worst;
}

function isWorseRow(one: FaultRow, other: FaultRow): boolean {
  if (one.class === 'not-evaluated' || other.class === 'not-evaluated') {
    return (
      one.class === 'blind' || (one.class === 'not-evaluated' && other.class !== 'blind' && other.class !== one.class)
    );
  }
  if (one.class !== other.class) return isWorse(one.class, other.class);
  return one.class === 'quiet' && other.unchanged && !one.unchanged;
}

/** Relative difference within which two readings are one. */
const SAME = 1e-9;

function sameReads(one: readonly FaultCell[], other: readonly FaultCell[]): boolean {
  return one.every((cell, i) => {
    const there = other[i]!;
    return cell.usual === there.usual && same(cell.ohms, there.ohms) && same(cell.volts, there.volts);
  });
}

function same(one: FaultSpread | undefined, other: FaultSpread | undefined): boolean {
  if (one === undefined || other === undefined) return one === other;
  return (['least', 'usual', 'most'] as const).every((end) => {
    const [a, b] = [one[end], other[end]];
    return a === b || Math.abs(a - b) <= SAME * Math.max(Math.abs(a), Math.abs(b));
  });
}

/** Gives rows that read alike in every column one number, in the order of their first. */
function grouped(rows: readonly FaultRow[]): readonly FaultRow[] {
  const firsts = new Map<string, { readonly cells: readonly FaultCell[]; readonly group: number }[]>();
  let count = 0;
  return rows.map((row) => {
    const cells = [row.rest, ...row.cells];
    const key = cells.map(({ possible }) => possible.join()).join(';');
    const alike = firsts.get(key) ?? [];
    const known = alike.find((first) => sameReads(cells, first.cells));
    if (known !== undefined) return { ...row, group: known.group };
    const group = count++;
    firsts.set(key, [...alike, { cells, group }]);
    return { ...row, group };
  });
}

function once(failed: readonly LoadFault[]): readonly LoadFault[] {
  const seen = new Set<unknown>();
  return failed.filter(({ expect }) => !seen.has(expect) && seen.add(expect));
}
