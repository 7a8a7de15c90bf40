/** The sheet of a site: cautions first, then what is open, what is built, and what is measured. */
import { CAUTIONS } from './cautions.ts';
import { acceptedFindings, openFindings } from './findings.ts';
import type { Section, Sheet, SheetInput } from './model.ts';
import { cableSchedule, relaySchedule, settingsSchedule, terminalSchedule } from './schedules.ts';
import { functionSheet, loadSheet, loopSheet } from './tests.ts';

/** In the order in which they are printed; a section without content is left out. */
const SECTIONS: readonly ((input: SheetInput) => Section | undefined)[] = [
  () => CAUTIONS,
  openFindings,
  terminalSchedule,
  cableSchedule,
  relaySchedule,
  settingsSchedule,
  loopSheet,
  loadSheet,
  functionSheet,
  acceptedFindings,
];

export function siteSheet(input: SheetInput): Sheet {
  const blanks = [
    ['Date', ''],
    ['Name', ''],
    ['Meter', ''],
  ] as const;
  return {
    title: input.design.site.title,
    about: [...input.about, ...blanks],
    sections: SECTIONS.flatMap((section) => section(input) ?? []),
  };
}
