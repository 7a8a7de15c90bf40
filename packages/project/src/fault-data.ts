/**
 * Single faults as data, the same for the command and for editors: numbers SI, `null` as an end without limit (an open
 * loop's ohms).
 */
import type {
  ComponentId,
  Design,
  Fault,
  FaultCell,
  FaultRow,
  FaultSpread,
  FaultTable,
  LeakageWindow,
  Origin,
  ZoneFaults,
} from '@couplet/engine';

export interface FaultDataOptions {
  /** ISO date by which acceptances are judged. */
  readonly today: string;
  /** Only faults of these classes; all without. */
  readonly classes?: readonly string[];
  /** Where something is written, as the reader's properties: file, line and column, or address and range. */
  where(origin: Origin): object;
}

/** What one zone says of every single fault. */
export function zoneFaultData({ design }: FaultTable, zone: ZoneFaults, options: FaultDataOptions) {
  const { classes } = options;
  return {
    zone: nameIn(design, zone.zone),
    ...(zone.reason === undefined ? {} : { reason: zone.reason }),
    needs: zone.needs.map(({ component, property }) => `${nameIn(design, component)} ${property}`),
    columns: zone.columns.map(({ name, expected }) => ({ case: name, expected })),
    nothingWrong: { rest: cellData(zone.healthy.rest), cases: zone.healthy.cells.map(cellData) },
    faults: zone.rows
      .filter((row) => classes === undefined || classes.includes(row.class))
      .map((row) => rowData(design, row, options)),
    leakage: zone.leakage.map(windowData),
    passedFittingErrors: zone.passed.map(({ fault, newlyBlind }) => ({
      fault: fault.name,
      newlyBlind: newlyBlind.map((each) => ({ fault: each.fault.name, case: each.caseName })),
    })),
  };
}

export type ZoneFaultData = ReturnType<typeof zoneFaultData>;

/** Faults that leave every zone alone and fail an expectation of a case. */
export function loadFaultData({ design, loads }: FaultTable) {
  return loads.map(({ caseName, component, fault }) => ({
    part: nameIn(design, component),
    fault: fault.name,
    case: caseName,
  }));
}

export type LoadFaultData = ReturnType<typeof loadFaultData>[number];

export function nameIn(design: Design, component: ComponentId): string {
  return design.components[component]?.name ?? '';
}

/** The fault with the end at which it is worst, where it may stand at either. */
export function faultName(row: FaultRow): string {
  const { fault, variant } = row;
  return fault.variants.length > 1 && variant.where !== undefined ? `${fault.name} ${variant.where}` : fault.name;
}

/** Why a blind fault is tolerated, when an acceptance in force names it; `today` is an ISO date. */
export function faultAcceptance(design: Design, fault: Fault, today: string): string | undefined {
  const found = design.acceptances.find(
    ({ rule, fault: word, targets, until }) =>
      rule === 'silent-fault' &&
      word === fault.word &&
      (until === undefined || today <= until) &&
      ownersOf(design, fault.component).some((id) => targets.includes(id)),
  );
  return found?.because;
}

function ownersOf(design: Design, component: ComponentId): readonly ComponentId[] {
  const owners: ComponentId[] = [];
  for (let at: ComponentId | undefined = component; at !== undefined && !owners.includes(at); ) {
    owners.push(at);
    at = design.components[at]?.owner;
  }
  return owners;
}

function rowData(design: Design, row: FaultRow, { today, where }: FaultDataOptions) {
  const { fault } = row;
  const accepted = faultAcceptance(design, fault, today);
  return {
    fault: faultName(row),
    word: fault.word,
    group: fault.group,
    part: nameIn(design, fault.component),
    ...(fault.other === undefined ? {} : { other: nameIn(design, fault.other) }),
    ...where(fault.origin),
    class: row.class,
    ...(row.caseName === undefined ? {} : { case: row.caseName }),
    ...(row.reason === undefined ? {} : { reason: row.reason }),
    readsLike: row.group,
    unchanged: row.unchanged,
    usualOnly: row.usualOnly,
    ...(accepted === undefined ? {} : { accepted }),
    rest: cellData(row.rest),
    cases: row.cells.map(cellData),
  };
}

function cellData({ answer, certain, ohms, possible, reason, volts }: FaultCell) {
  return {
    answer,
    certain,
    reads: possible.map((name) => name ?? null),
    ...(ohms === undefined ? {} : { ohms: spreadData(ohms) }),
    ...(volts === undefined ? {} : { volts: spreadData(volts) }),
    ...(reason === undefined ? {} : { reason }),
  };
}

function spreadData({ least, most, usual }: FaultSpread) {
  return { least: finite(least), usual: finite(usual), most: finite(most) };
}

function windowData({ answer, caseName, expected, readsAs, usual, where, worst }: LeakageWindow) {
  const span = (one: { from: number; to: number }) => ({ from: one.from, to: finite(one.to) });
  return {
    case: caseName,
    expected,
    answer,
    reads: readsAs ?? null,
    where,
    ...(usual === undefined ? {} : { usual: span(usual) }),
    worst: span(worst),
  };
}

function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
