/** The answers with plots: the time line of a case, the bands of zones, the runtimes of batteries. */
import {
  type BandChart,
  bandChartsOf,
  type CaseChoice,
  caseChoicesOf,
  type DrawnSite,
  type RuntimeCurve,
  runtimeCurvesOf,
  type TimeLine,
  timeLineOf,
} from '@couplet/project';
import { faultsOf, solveAllFaults } from '@couplet/rules';
import type { Pause, Sites } from '../sites/seam.ts';
import { nothing, onSheet, REST } from './answers.ts';
import type { Answer, PreviewParams } from './protocol.ts';
import { drawnSite } from './sheets.ts';

/** Of the first case that somebody wrote, unless one is asked for by name. */
export function timeLineAnswer(sites: Sites | undefined, params: PreviewParams): Answer<TimeLine> {
  return onSheet(sites, params, ({ choices, sheet, site, unread }) => {
    const drawn = drawnSite(site, sheet.coupling);
    const cases = caseChoicesOf(drawn);
    const name = cases.some((each) => each.name === params.case) ? params.case! : firstWritten(cases);
    const known = { ...choices, cases, case: name };
    const line = timeLineOf(drawn, name, sheet.id);
    if (line === undefined || line.tracks.length === 0) {
      const because =
        cases.length > 1
          ? `Nothing changes here in the case ${name}: a time line shows what a case turns and what follows from it.`
          : 'No case turns anything here yet: a time line shows what a case turns and what follows from it.';
      return nothing(because, known, unread);
    }
    return { sort: 'shown', choices: known, unread, data: { ...line, site: site.title } };
  });
}

/** The faults of the coupling are solved when they are asked for, with `pause` awaited now and then. */
export async function bandsAnswer(
  sites: Sites | undefined,
  params: PreviewParams,
  pause: Pause,
): Promise<Answer<readonly BandChart[]>> {
  let drawn: DrawnSite | undefined;
  const answer = onSheet<readonly BandChart[]>(sites, params, ({ choices, sheet, site, unread }) => {
    drawn = drawnSite(site, sheet.coupling);
    const data = bandChartsOf(drawn, { coupling: sheet.id });
    if (data.length === 0)
      return nothing('No zone of this coupling is wired: there is nothing to read.', choices, unread);
    return { sort: 'shown', choices, unread, data };
  });
  if (!params.faults || answer.sort === 'nothing' || drawn === undefined) return answer;
  const { design } = drawn;
  for (const _ of solveAllFaults(design)) await pause();
  return { ...answer, data: bandChartsOf(drawn, { coupling: answer.choices.coupling, faults: faultsOf(design) }) };
}

/** Of the whole site: a battery feeds more than one sheet shows. */
export function runtimeAnswer(sites: Sites | undefined, params: PreviewParams): Answer<readonly RuntimeCurve[]> {
  return onSheet(sites, params, ({ choices, site, unread }) => {
    const { autonomies } = site.design;
    const fed = site.analyses.couplings.filter(({ components }) =>
      autonomies.some(({ battery }) => components.includes(battery)),
    );
    const data = fed.flatMap((coupling) => runtimeCurvesOf(drawnSite(site, coupling)));
    if (data.length === 0) {
      const because = 'Nothing is said of how long a battery of this site shall last: an `autonomy` statement says it.';
      return nothing(because, choices, unread);
    }
    return { sort: 'shown', choices, unread, data };
  });
}

function firstWritten(cases: readonly CaseChoice[]): string {
  return (cases.find(({ name }) => name !== REST) ?? cases[0])?.name ?? REST;
}
