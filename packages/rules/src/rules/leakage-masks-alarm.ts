import type { Zone, ZoneFaults } from '@couplet/engine';
import { componentOf, pairCores } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { isDamp } from '../support/damp.ts';
import { asksForFaults, faultClassesOf } from '../support/faults.ts';
import { NORMAL } from '../support/loop.ts';
import { whereWired } from '../support/place.ts';
import { show, showLoop } from '../support/words.ts';

interface Data {
  readonly zone: Zone;
  readonly caseName: string;
  readonly expected: string;
  /** The end of the pair at which it hides most: 'at panel.Z4'. */
  readonly where: string;
  readonly upper: number;
  readonly reach: number;
}

export const leakageMasksAlarm = defineRule<Data>({
  name: 'leakage-masks-alarm',
  thresholds: [
    {
      key: 'reach',
      value: 5000,
      unit: 'ohm',
      says: 'least ohms between cores that damp joints reach',
      origin: 'readings on damp joints',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const { design } = context;
    if (!asksForFaults(design)) return;
    const reach = context.threshold('reach').value;
    for (const table of faultClassesOf(design).zones) {
      const zone = componentOf(design, table.zone, 'zone')!;
      if (table.healthy.rest.usual !== NORMAL || !isDamp(design, zone)) continue;
      const worst = worstWindow(table, reach);
      if (worst === undefined) continue;
      yield {
        severity: 'warning',
        origin: whereWired(design, zone.id, zone.a),
        subject: zone.id,
        alsoConcerns: pairCores(design, zone).map((core) => core.cable),
        caseName: worst.caseName,
        data: { zone, reach, ...worst },
      };
    }
  },
  word({ data }) {
    const { zone, caseName, expected, where, upper, reach } = data;
    const across = Number.isFinite(upper) ? `up to ${showLoop(upper)}` : 'anything';
    return (
      `Leakage between the cores hides case ${caseName}: with ${across} across the cores ${where}, ${zone.name} still reads ` +
      `normal and not ${expected}, and damp joints outdoors or in wet places reach ${show(reach, 'ohm')}. Keep joints dry and test the ` +
      `insulation, or take smaller resistors, so that a leakage must be lower to hide anything.`
    );
  },
});

type Window = Omit<Data, 'zone' | 'reach'>;

/** The case that the highest leakage still hides, where that is above what damp joints reach. */
function worstWindow({ leakage }: ZoneFaults, reach: number): Window | undefined {
  let worst: Window | undefined;
  for (const { answer, caseName, expected, where, worst: window } of leakage) {
    if (answer !== 'blind' || window.to <= Math.max(reach, worst?.upper ?? 0)) continue;
    worst = { caseName, expected, where, upper: window.to };
  }
  return worst;
}
