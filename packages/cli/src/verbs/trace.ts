/** `couplet trace`: from readings taken on site to what may be wrong, and the reading to take next. */
import { type Reading, Tracer } from '@couplet/engine';
import { type CheckedSite, checkSites } from '@couplet/project';
import { diskReader, shownPath } from '../disk.ts';
import { optionValue, UsageError } from '../options.ts';
import { jsonTraces } from '../output/trace-json.ts';
import { type SiteTraces, textTraces } from '../output/trace-text.ts';
import type { Paint } from '../terminal.ts';
import { TYPED_DATE, TypedReadings } from '../typed-readings.ts';
import { EXIT, type Verb } from '../verb.ts';
import { inputsOf, PATH_OPTIONS, Progress, today } from './sites.ts';

const FORMATS: Readonly<Record<string, (traces: SiteTraces, paint: Paint) => string>> = {
  text: textTraces,
  json: jsonTraces,
};

export const trace: Verb = {
  name: 'trace',
  takes: 'PATH',
  says: 'rank what may be wrong by how well it explains the readings, and name the reading to take next',
  options: [
    {
      name: 'reading',
      takes: 'TEXT',
      repeats: true,
      says: "a reading, as in a measured statement: 'rest: volts panel.Z4 to panel.ZC = 1.61 V'",
    },
    {
      name: 'format',
      takes: 'FORMAT',
      choices: Object.keys(FORMATS),
      says: 'how the causes are written (text unless given)',
    },
    ...PATH_OPTIONS,
  ],
  more: [
    'Without --reading the last measured statement of the site is traced. One fault at a time is tried; all are taken as',
    'equally likely beforehand. A reading weighs less the more tolerances of the meter it lies away from what is predicted.',
  ],

  async run(invocation, terminal) {
    const typed = invocation.options.get('reading') ?? [];
    const reader = new TypedReadings(diskReader, typed);
    const progress = new Progress(terminal);
    const sites: CheckedSite[] = [];
    for (const { around, files, folder } of await inputsOf(invocation, terminal)) {
      const workspace = { reader: typed.length === 0 ? diskReader : reader, folder };
      for await (const site of checkSites(workspace, files, { today: today(invocation), around })) {
        if (!site.fragment) sites.push(site);
        progress.say('looking at the readings');
      }
    }
    const [site, ...others] = sites;
    if (site === undefined) throw new UsageError("name the file or folder of a site: 'couplet trace PATH'");
    if (others.length > 0) {
      const names = sites.map(({ root }) => shownPath(root, terminal.folder)).join(', ');
      throw new UsageError(`readings are of one site, and these are ${sites.length}: ${names}`);
    }
    const readings = typed.length === 0 ? lastMeasured(site) : typedIn(site, reader, typed.length);
    const traces = finish(tracing(site, readings));
    progress.clear();
    const write = FORMATS[optionValue(invocation, 'format') ?? 'text'] as (typeof FORMATS)[string];
    const file = shownPath(site.root, terminal.folder);
    terminal.out(write({ title: site.title, file, traces }, terminal.paint));
    return EXIT.fine;
  },
};

function* tracing(site: CheckedSite, readings: readonly Reading[]) {
  const tracer = yield* Tracer.open(site.design);
  const traces = [];
  for (const set of tracer.together(readings)) traces.push(yield* tracer.trace(set));
  return traces;
}

function finish<R>(steps: Generator<unknown, R>): R {
  for (;;) {
    const step = steps.next();
    if (step.done) return step.value;
  }
}

/** The readings of the latest date. */
function lastMeasured({ design }: CheckedSite): readonly Reading[] {
  const last = design.readings
    .map(({ date }) => date)
    .sort()
    .at(-1);
  if (last === undefined) throw new UsageError("the site has no measured statement; give readings with --reading '…'");
  return design.readings.filter(({ date }) => date === last);
}

/** What was typed, once the language has understood it; what is wrong with it otherwise. */
function typedIn(site: CheckedSite, reader: TypedReadings, count: number): readonly Reading[] {
  const readings = site.design.readings.filter(({ date }) => date === TYPED_DATE);
  const messages = new Set<string>();
  for (const { message, place, severity } of site.findings) {
    const reading = severity === 'error' ? reader.readingAt(place.uri, place.start.line) : undefined;
    if (reading !== undefined) messages.add(`'${reading}': ${message}`);
  }
  if (readings.length === count) return readings;
  throw new UsageError(messages.size === 0 ? 'the readings are not understood' : [...messages].join('\n'));
}
