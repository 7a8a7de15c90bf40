/** Single faults as data: numbers SI, `null` as an end without limit (an open loop's ohms). */
import type { FaultCell, FaultRow, FaultSpread, LeakageWindow, ZoneFaults } from '@couplet/engine';
import manifest from '../../package.json' with { type: 'json' };
import { JSON_FORMAT, written } from './json.ts';
import {
  acceptanceOf,
  type FaultSelection,
  faultName,
  nameIn,
  type SiteFaults,
  selectedRows,
  selectedZones,
} from './site-faults.ts';

export function jsonFaults(sites: readonly SiteFaults[], selection: FaultSelection): string {
  return written({
    format: JSON_FORMAT,
    version: manifest.version,
    sites: sites.map((site) => ({
      title: site.title,
      file: site.file,
      errors: site.errors,
      blindService: site.table.blindService.map(({ name }) => name),
      blindFitting: site.table.blindFitting.map(({ name }) => name),
      zones: selectedZones(site, selection).map((zone) => zoneJson(site, zone, selection)),
      loads: site.table.loads.map(({ caseName, component, fault }) => ({
        part: nameIn(site.table.design, component),
        fault: fault.name,
        case: caseName,
      })),
    })),
  });
}

function zoneJson(site: SiteFaults, zone: ZoneFaults, selection: FaultSelection) {
  const { design } = site.table;
  return {
    zone: nameIn(design, zone.zone),
    ...(zone.reason === undefined ? {} : { reason: zone.reason }),
    needs: zone.needs.map(({ component, property }) => `${nameIn(design, component)} ${property}`),
    columns: zone.columns.map(({ name, expected }) => ({ case: name, expected })),
    nothingWrong: { rest: cellJson(zone.healthy.rest), cases: zone.healthy.cells.map(cellJson) },
    faults: selectedRows(zone, selection).map((row) => rowJson(site, row)),
    leakage: zone.leakage.map(windowJson),
    passedFittingErrors: zone.passed.map(({ fault, newlyBlind }) => ({
      fault: fault.name,
      newlyBlind: newlyBlind.map((each) => ({ fault: each.fault.name, case: each.caseName })),
    })),
  };
}

function rowJson(site: SiteFaults, row: FaultRow) {
  const { fault } = row;
  const { design } = site.table;
  const place = site.show(fault.origin);
  const accepted = acceptanceOf(site, fault);
  return {
    fault: faultName(row),
    word: fault.word,
    group: fault.group,
    part: nameIn(design, fault.component),
    ...(fault.other === undefined ? {} : { other: nameIn(design, fault.other) }),
    ...(place === undefined ? {} : { file: place.file, line: place.start.line + 1, column: place.start.character + 1 }),
    class: row.class,
    ...(row.caseName === undefined ? {} : { case: row.caseName }),
    ...(row.reason === undefined ? {} : { reason: row.reason }),
    readsLike: row.group,
    unchanged: row.unchanged,
    usualOnly: row.usualOnly,
    ...(accepted === undefined ? {} : { accepted }),
    rest: cellJson(row.rest),
    cases: row.cells.map(cellJson),
  };
}

function cellJson({ answer, certain, ohms, possible, reason, volts }: FaultCell) {
  return {
    answer,
    certain,
    reads: possible.map((name) => name ?? null),
    ...(ohms === undefined ? {} : { ohms: spreadJson(ohms) }),
    ...(volts === undefined ? {} : { volts: spreadJson(volts) }),
    ...(reason === undefined ? {} : { reason }),
  };
}

function spreadJson({ least, most, usual }: FaultSpread) {
  return { least: finite(least), usual: finite(usual), most: finite(most) };
}

function windowJson({ answer, caseName, expected, readsAs, usual, where, worst }: LeakageWindow) {
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
