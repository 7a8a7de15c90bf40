/**
 * Single faults for editors, as `couplet faults --format json` has them: a request of this server beside the protocol's own.
 *   couplet/faults → SiteFaults[]   what zones say of every single fault, in the sites of a file or in all
 */
import { type Coupling, numbersOfWhole } from '@couplet/engine';
import { type LoadFaultData, loadFaultData, type ZoneFaultData, zoneFaultData } from '@couplet/project';
import { faultsOf } from '@couplet/rules';
import type { CheckedSite, Pause, Sites } from '../sites/seam.ts';
import { today } from '../sites/today.ts';

export interface FaultsParams {
  /** A file; all sites without it. */
  readonly uri?: string;
  /** Name of a zone; all zones without it. */
  readonly zone?: string;
  /** Only faults of these classes: 'blind', 'misread', 'quiet', 'announced', 'not-evaluated'. */
  readonly classes?: readonly string[];
}

/** A fault's `uri` and `range` say where its part is written. */
export interface SiteFaults {
  /** The site: URI of the file that it begins with, and its title. */
  readonly root: string;
  readonly site: string;
  /** Errors that are found in it: the faults are those of the site as it is written. */
  readonly errors: number;
  readonly zones: readonly ZoneFaultData[];
  /** Faults that leave every zone alone and fail an expectation; absent where one zone is asked for. */
  readonly loads?: readonly LoadFaultData[];
}

/** Sites without what is asked for are left out. Gives way between couplings; throws when it is called off. */
export async function siteFaults(sites: Sites | undefined, params: FaultsParams, pause: Pause): Promise<SiteFaults[]> {
  const concerned = (params.uri === undefined ? sites?.all() : sites?.sitesOf(params.uri)) ?? [];
  const told: SiteFaults[] = [];
  for (const site of concerned) {
    const zones: ZoneFaultData[] = [];
    const loads: LoadFaultData[] = [];
    for (const coupling of couplingsWith(site, params.zone)) {
      await pause();
      const table = faultsOf(site.analyses.of(coupling).design);
      const options = { today: today(), classes: params.classes, where: placesIn(site, coupling) };
      const data = table.zones.map((zone) => zoneFaultData(table, zone, options));
      zones.push(...data.filter(({ zone }) => params.zone === undefined || zone === params.zone));
      loads.push(...loadFaultData(table));
    }
    if (zones.length === 0 && loads.length === 0) continue;
    const errors = site.findings.filter(({ accepted, severity }) => severity === 'error' && accepted === undefined);
    told.push({
      root: site.root,
      site: site.title,
      errors: errors.length,
      zones,
      ...(params.zone === undefined ? { loads } : {}),
    });
  }
  return told;
}

/** The couplings of a site; of those with a zone of that name only, where one is asked for. */
function couplingsWith({ analyses, design }: CheckedSite, zone: string | undefined): readonly Coupling[] {
  if (zone === undefined) return analyses.couplings;
  const found = design.components.filter(({ kind, name }) => kind === 'zone' && name === zone);
  return [...new Set(found.map(({ id }) => analyses.couplingOf(id).coupling))];
}

function placesIn(site: CheckedSite, coupling: Coupling) {
  const { origin: ofWhole } = numbersOfWhole(coupling);
  return (origin: number) => {
    const place = site.place(ofWhole(origin));
    return place === undefined ? {} : { uri: place.uri, range: { start: place.start, end: place.end } };
  };
}
