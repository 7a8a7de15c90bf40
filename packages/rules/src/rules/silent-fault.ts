import type { Acceptance, ComponentId, Fault, FaultRow, FaultTable, ZoneFaults } from '@couplet/engine';
import { componentOf, nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import type { Detection, RuleContext, Severity } from '../rule.ts';
import { asksForFaults, faultClassesOf } from '../support/faults.ts';
import { whereWired } from '../support/place.ts';
import { list, listSome } from '../support/words.ts';

/** A fault of a zone in words: the case that is lost with it. */
interface Row {
  readonly name: string;
  readonly caseName: string;
  readonly readsAs?: string;
}

type Data =
  | {
      readonly sort: 'blind';
      readonly group: Fault['group'];
      readonly zone: string;
      readonly rows: readonly Row[];
    }
  | { readonly sort: 'accepted'; readonly zones: readonly string[]; readonly row: Row }
  | {
      readonly sort: 'misread';
      readonly zone: string;
      readonly rows: readonly Row[];
      readonly passed: readonly { readonly name: string; readonly blinds: readonly Row[] }[];
    };

export const silentFault = defineRule<Data>({
  name: 'silent-fault',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design } = context;
    if (design.fragment || !asksForFaults(design)) return;
    const table = faultClassesOf(design);
    for (const zone of table.zones) gapsOf(context, zone);

    const isAccepted = acceptedFaults(context);
    for (const group of ['service', 'fitting'] as const) {
      const all = group === 'service' ? table.blindService : table.blindFitting;
      const [accepted, counted] = [all.filter(isAccepted), all.filter((fault) => !isAccepted(fault))];
      for (const fault of accepted) yield acceptedFault(context, table, fault);
      const ids = new Set(counted.map((fault) => fault.id));
      for (const zone of table.zones) {
        const rows = blindRows(zone).filter((row) => ids.has(row.fault.id));
        if (rows.length > 0) yield blindZone(context, zone, rows, group, counted.length);
      }
    }
    for (const zone of table.zones) yield* misreadZone(context, zone);
  },
  word({ data }) {
    if (data.sort === 'blind') return wordBlind(data);
    if (data.sort === 'accepted') {
      const { row, zones } = data;
      return `With ${row.name}, ${list(zones)} ${zones.length === 1 ? 'reads' : 'read'} normal at rest, and case ${row.caseName} does not arrive: nobody learns of the fault until then.`;
    }
    return wordMisread(data);
  },
  beyondTolerated({ of, here }, total, { blind, blindFitting }) {
    const limit = of === PROPERTIES.service ? blind : blindFitting;
    const allowed = limit?.usual ?? (of === PROPERTIES.service ? 0 : Number.POSITIVE_INFINITY);
    if (total <= allowed) return undefined;
    const isSaid = limit !== undefined && limit.assumption === undefined;
    const says = isSaid ? `the site tolerates ${allowed} (\`${of}: ${allowed}\`)` : 'the site tolerates none';
    return total === here ? `${capital(says)}.` : `${total} do so over all zones, and ${says}.`;
  },
});

/** The property of a site that says how many of a group of faults it tolerates. */
const PROPERTIES: Readonly<Record<Fault['group'], string>> = { service: 'blind', fitting: 'blind-fitting' };

function wordBlind({ group, zone, rows }: Extract<Data, { sort: 'blind' }>): string {
  const names = listSome(rows.map(({ name, caseName }) => `${name} (case ${caseName})`));
  const one = group === 'service' ? 'single fault' : 'fitting error';
  const many = rows.length === 1 ? `One ${one} leaves` : `${rows.length} ${one}s leave`;
  const cure =
    group === 'service'
      ? 'A relay held in while all is well and contacts that open to report leave fewer; what is left is to be found by a test at intervals: count it in `blind`, or accept it by name.'
      : 'Have them found by commissioning: measure the loop in each case, and keep the readings with `measured`.';
  return `${many} ${zone} normal, and an alarm does not arrive: ${names}. ${cure}`;
}

function wordMisread({ zone, rows, passed }: Extract<Data, { sort: 'misread' }>): string {
  const sentences: string[] = [];
  if (rows.length > 0) {
    const names = rows.map(({ name, caseName, readsAs }) => {
      const as = readsAs === undefined ? 'outside every band' : readsAs;
      return `${name} (case ${caseName} reads ${as})`;
    });
    sentences.push(
      `Unnoticed until an event, and then something else than it is reported by ${zone}: ${listSome(names)}.`,
    );
  }
  for (const { name, blinds } of passed) {
    const blind = listSome(blinds.map((row) => `${row.name} (case ${row.caseName})`));
    sentences.push(
      `With ${name}, ${zone} reads as predicted in every case, so commissioning passes it; after that these faults are blind as well: ${blind}.`,
    );
  }
  return sentences.join(' ');
}

function capital(text: string): string {
  return `${text.slice(0, 1).toUpperCase()}${text.slice(1)}`;
}

/** Rows that blind a zone, one for each fault. */
function blindRows(zone: ZoneFaults): readonly FaultRow[] {
  return zone.rows.filter((row) => row.class === 'blind');
}

function inWords({ fault, caseName }: Pick<FaultRow, 'fault' | 'caseName'>): Row {
  return { name: fault.name, caseName: caseName ?? 'rest' };
}

function blindZone(
  { design }: RuleContext,
  { zone: id }: ZoneFaults,
  rows: readonly FaultRow[],
  group: Fault['group'],
  total: number,
): Detection<Data> {
  const zone = componentOf(design, id, 'zone')!;
  const severity: Severity = group === 'service' ? 'error' : 'warning';
  return {
    severity,
    origin: whereWired(design, id, zone.a),
    subject: id,
    caseName: rows[0]!.caseName,
    related: rows.map((row) => ({ origin: row.fault.origin, message: `${row.fault.name}: blind` })),
    tally: { of: PROPERTIES[group], here: rows.length, total },
    data: { sort: 'blind', group, zone: zone.name, rows: rows.map(inWords) },
  };
}

/** What an acceptance takes out of the count is found all the same, so that the acceptance has something to accept. */
function acceptedFault({ design }: RuleContext, table: FaultTable, fault: Fault): Detection<Data> {
  const blinded = table.zones.filter((zone) => blindRows(zone).some((row) => row.fault === fault));
  const row = blindRows(blinded[0]!).find((each) => each.fault === fault)!;
  return {
    severity: fault.group === 'service' ? 'error' : 'warning',
    origin: fault.origin,
    subject: fault.component,
    alsoConcerns: namesOf(design.components[fault.component]).slice(1),
    fault: fault.word,
    data: { sort: 'accepted', zones: blinded.map(({ zone }) => nameOf(design, zone)), row: inWords(row) },
  };
}

function* misreadZone(
  { design }: RuleContext,
  { zone: id, rows, passed, columns }: ZoneFaults,
): Generator<Detection<Data>> {
  const misread = rows.filter((row) => row.class === 'misread');
  const hiding = passed.filter(({ newlyBlind }) => newlyBlind.length > 0);
  if (misread.length === 0 && hiding.length === 0) return;
  const zone = componentOf(design, id, 'zone')!;
  yield {
    severity: 'information',
    origin: whereWired(design, id, zone.a),
    subject: id,
    related: misread.map((row) => ({ origin: row.fault.origin, message: `${row.fault.name}: misread` })),
    data: {
      sort: 'misread',
      zone: zone.name,
      rows: misread.map((row) => {
        const column = columns.findIndex(({ name }) => name === row.caseName);
        return { ...inWords(row), readsAs: row.cells[column]?.usual };
      }),
      passed: hiding.map(({ fault, newlyBlind }) => ({ name: fault.name, blinds: newlyBlind.map(inWords) })),
    },
  };
}

/** What the table could not say of a zone. */
function gapsOf(context: RuleContext, { zone, needs, rows, columns }: ZoneFaults): void {
  if (needs.length > 0) context.gap({ subject: zone, needs });
  // That no case changes the zone is another rule's finding.
  if (columns.length === 0) return;
  const reasons = new Map<string, number>();
  for (const row of rows) {
    if (row.class !== 'not-evaluated') continue;
    const reason = row.reason ?? 'the computation gave no figure';
    reasons.set(reason, (reasons.get(reason) ?? 0) + 1);
  }
  for (const [reason, count] of reasons) {
    const faults = count === 1 ? 'one single fault' : `${count} single faults`;
    context.gap({ subject: zone, needs: [], reason: `${faults} could not be judged: ${reason}` });
  }
}

/** Whether a fault is accepted by name: an acceptance in force names its word and its part, or what that is a part of. */
function acceptedFaults({ design, today }: RuleContext): (fault: Fault) => boolean {
  const inForce = design.acceptances.filter(
    (each: Acceptance) => each.rule === 'silent-fault' && (each.until === undefined || today <= each.until),
  );
  return (fault) => {
    const names = namesOf(design.components[fault.component]);
    return inForce.some((each) => each.fault === fault.word && each.targets.some((target) => names.includes(target)));
  };
}

/** A part and what a person would name for it: a contact also by what works it, a member by its unit. */
function namesOf(part: RuleContext['design']['components'][number] | undefined): readonly ComponentId[] {
  if (part === undefined) return [];
  const more = [part.kind === 'contact' ? part.driver : undefined, part.owner];
  return [...new Set([part.id, ...more.filter((id) => id !== undefined)])];
}
