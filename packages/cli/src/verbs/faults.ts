/** `couplet faults`: what each zone says of every single fault, at rest and in each case that changes it. */
import type { FaultClass } from '@couplet/engine';
import { type CheckedSite, checkSites, nameOf } from '@couplet/project';
import { faultsOf } from '@couplet/rules';
import { diskReader, shownPath } from '../disk.ts';
import { optionValue, UsageError } from '../options.ts';
import { csvFaults } from '../output/faults-csv.ts';
import { jsonFaults } from '../output/faults-json.ts';
import { textFaults } from '../output/faults-text.ts';
import type { FaultSelection, SiteFaults } from '../output/site-faults.ts';
import type { Paint } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';
import { inputsOf, PATH_OPTIONS, Progress, today } from './sites.ts';

const FORMATS: Readonly<
  Record<string, (sites: readonly SiteFaults[], selection: FaultSelection, paint: Paint) => string>
> = {
  text: textFaults,
  json: jsonFaults,
  csv: csvFaults,
};

const CLASSES: readonly FaultClass[] = ['blind', 'misread', 'quiet', 'announced'];

export const faults: Verb = {
  name: 'faults',
  takes: 'PATH…',
  says: 'show what each zone says of every single fault: announced, quiet, misread or blind',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      choices: Object.keys(FORMATS),
      says: 'how the table is written (text unless given)',
    },
    { name: 'class', takes: 'CLASS', choices: CLASSES, repeats: true, says: 'only faults of this class' },
    { name: 'zone', takes: 'NAME', repeats: true, says: 'only this zone' },
    { name: 'today', takes: 'DATE', says: 'the date by which acceptances are judged' },
    ...PATH_OPTIONS,
  ],
  more: [
    'At rest the panel shows anything but normal: announced. It shows normal, and the event still arrives: quiet;',
    'arrives as another class: misread; is lost: blind. Faults that read alike in every column stand together.',
  ],

  async run(invocation, terminal) {
    const selection = { classes: invocation.options.get('class'), zones: invocation.options.get('zone') };
    const progress = new Progress(terminal);
    const sites: SiteFaults[] = [];
    for (const { around, files, folder } of await inputsOf(invocation, terminal)) {
      const options = { today: today(invocation), around };
      for await (const site of checkSites({ reader: diskReader, folder }, files, options)) {
        progress.say(`faults of ${nameOf(site.root)}`);
        sites.push(faultsIn(site, terminal.folder, options.today));
      }
    }
    progress.clear();
    const told = sites.filter(({ table }) => table.zones.length > 0 || table.loads.length > 0);
    if (told.length === 0) {
      throw new UsageError(
        "no zone is wired and no case expects anything; 'couplet check' says what is wrong or missing",
      );
    }
    const names = told.flatMap(({ table }) => table.zones.map(({ zone }) => table.design.components[zone]!.name));
    const unknown = selection.zones?.find((name) => !names.includes(name));
    if (unknown !== undefined) throw new UsageError(`no zone is named '${unknown}'; there are ${names.join(', ')}`);
    terminal.out(
      (FORMATS[optionValue(invocation, 'format') ?? 'text'] as (typeof FORMATS)[string])(
        told,
        selection,
        terminal.paint,
      ),
    );
    return EXIT.fine;
  },
};

function faultsIn(site: CheckedSite, folder: string, date: string): SiteFaults {
  return {
    title: site.title,
    file: shownPath(site.root, folder),
    errors: site.findings.filter((each) => each.severity === 'error' && each.accepted === undefined).length,
    table: faultsOf(site.design),
    today: date,
    show: (origin) => {
      const place = site.place(origin);
      return place === undefined ? undefined : { ...place, file: shownPath(place.uri, folder) };
    },
  };
}
