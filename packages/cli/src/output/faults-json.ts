/** Single faults as data: numbers SI, `null` as an end without limit (an open loop's ohms). */
import type { Origin } from '@couplet/engine';
import { loadFaultData, zoneFaultData } from '@couplet/project';
import manifest from '../../package.json' with { type: 'json' };
import { JSON_FORMAT, written } from './json.ts';
import { type FaultSelection, type SiteFaults, selectedZones } from './site-faults.ts';

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
      zones: selectedZones(site, selection).map((zone) =>
        zoneFaultData(site.table, zone, {
          today: site.today,
          classes: selection.classes,
          where: (origin) => placeIn(site, origin),
        }),
      ),
      loads: loadFaultData(site.table),
    })),
  });
}

function placeIn(site: SiteFaults, origin: Origin) {
  const place = site.show(origin);
  return place === undefined ? {} : { file: place.file, line: place.start.line + 1, column: place.start.character + 1 };
}
