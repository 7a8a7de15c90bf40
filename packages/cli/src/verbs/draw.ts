/** `couplet draw`: the couplings of a site as circuit diagrams, with the figures of a case. */
import { writeFile } from 'node:fs/promises';
import { basename, dirname, extname, join, resolve } from 'node:path';
import { bandChartSvg, layoutOf, runtimeSvg, svgOf, timeLineSvg } from '@couplet/documents';
import {
  bandChartsOf,
  type CheckedSite,
  checkSites,
  couplingsOf,
  couplingWith,
  drawingOf,
  runtimeCurvesOf,
  timeLineOf,
} from '@couplet/project';
import { faultsOf } from '@couplet/rules';
import { diskReader, shownPath } from '../disk.ts';
import { type Invocation, optionValue, UsageError } from '../options.ts';
import type { Terminal } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';
import { inputsOf, PATH_OPTIONS, Progress, today } from './sites.ts';

/** A picture with the name that tells it from others of the same run. */
interface Picture {
  readonly name: string;
  readonly svg: string;
}

interface Wish {
  readonly case?: string;
  readonly moment?: number;
  readonly coupling?: string;
}

/** One row a sort of picture. */
const PLOTS: Readonly<Record<string, (site: CheckedSite, wish: Wish) => readonly Picture[]>> = {
  time: (site, wish) =>
    (wish.case === undefined ? site.analysis.cases.map(({ name }) => name) : [wish.case]).flatMap((name) => {
      const timeLine = timeLineOf(site, name, wish.coupling);
      const changes = timeLine !== undefined && (timeLine.tracks.length > 0 || wish.case !== undefined);
      return changes ? [{ name, svg: timeLineSvg(timeLine) }] : [];
    }),
  bands: (site, { coupling }) =>
    bandChartsOf(site, { faults: faultsOf(site.design), ...(coupling === undefined ? {} : { coupling }) }).map(
      (chart) => ({
        name: chart.zone,
        svg: bandChartSvg(chart),
      }),
    ),
  battery: (site) => runtimeCurvesOf(site).map((curve) => ({ name: curve.battery, svg: runtimeSvg(curve) })),
};

export const draw: Verb = {
  name: 'draw',
  takes: 'PATH',
  says: 'draw the couplings of a site as circuit diagrams, with the figures of a case',
  options: [
    {
      name: 'out',
      short: 'o',
      takes: 'FILE',
      says: 'the file that is written (.svg); several pictures get their names added',
    },
    { name: 'case', takes: 'NAME', says: 'the case whose figures and states are shown (rest unless given)' },
    {
      name: 'moment',
      takes: 'NUMBER',
      says: 'the moment of the case, from 0 (the one after its first turns unless given)',
    },
    {
      name: 'coupling',
      takes: 'NAME',
      says: 'draw only the coupling that shows this zone, output, load or other part',
    },
    {
      name: 'plot',
      takes: 'WHAT',
      choices: Object.keys(PLOTS),
      says: 'plots in place of the drawing: time lines of cases, readings in the bands of zones, runtimes of batteries',
    },
    ...PATH_OPTIONS,
  ],
  more: ['Without --out a single picture is written to standard output.'],

  async run(invocation, terminal) {
    const out = optionValue(invocation, 'out');
    if (out !== undefined && extname(out).toLowerCase() !== '.svg')
      throw new UsageError(`'${out}' does not end in .svg`);
    const site = await siteOf(invocation, terminal);
    const wish = wishOf(invocation, site);
    const plot = PLOTS[optionValue(invocation, 'plot') ?? ''];
    const pictures = plot === undefined ? await drawings(site, wish, terminal) : plot(site, wish);
    if (pictures.length === 0) throw new UsageError(nothing(optionValue(invocation, 'plot')));
    const [first, ...others] = pictures;
    if (out === undefined) {
      if (others.length > 0) {
        const names = pictures.map(({ name }) => name).join(', ');
        throw new UsageError(`these are ${pictures.length} pictures (${names}): name one, or a file with --out`);
      }
      terminal.out(first!.svg);
      return EXIT.fine;
    }
    for (const [index, { svg }] of pictures.entries()) {
      const path = others.length === 0 ? out : fileNames(out, pictures)[index]!;
      await write(resolve(terminal.folder, path), svg, path);
      if (others.length > 0) terminal.out(`${path}\n`);
    }
    return EXIT.fine;
  },
};

async function siteOf(invocation: Invocation, terminal: Terminal): Promise<CheckedSite> {
  const sites: CheckedSite[] = [];
  for (const { around, files, folder } of await inputsOf(invocation, terminal)) {
    const checked = checkSites({ reader: diskReader, folder }, files, {
      today: today(invocation),
      strict: false,
      around,
    });
    for await (const site of checked) if (!site.fragment) sites.push(site);
  }
  const [site, ...others] = sites;
  if (site === undefined) throw new UsageError("name the file or folder of a site: 'couplet draw PATH --out FILE.svg'");
  if (others.length > 0) {
    const names = sites.map(({ root }) => shownPath(root, terminal.folder)).join(', ');
    throw new UsageError(`a drawing is of one site, and these are ${sites.length}: ${names}`);
  }
  return site;
}

/** What is asked for, held against what the site has. */
function wishOf(invocation: Invocation, site: CheckedSite): Wish {
  const name = optionValue(invocation, 'case');
  const shown = site.analysis.cases.find((each) => each.name === (name ?? 'rest'));
  if (name !== undefined && shown === undefined) {
    throw new UsageError(
      `there is no case '${name}'; the cases are ${site.analysis.cases.map((each) => each.name).join(', ')}`,
    );
  }
  const given = optionValue(invocation, 'moment');
  const moment = given === undefined ? undefined : Number(given);
  const count = shown?.moments.length ?? 0;
  if (moment !== undefined && !(Number.isInteger(moment) && moment >= 0 && moment < count)) {
    throw new UsageError(`'${given}' is no moment of ${name ?? 'rest'}: it has 0 to ${count - 1}`);
  }
  const asked = optionValue(invocation, 'coupling');
  const all = couplingsOf(site);
  const coupling =
    asked === undefined
      ? undefined
      : (all.find(({ id, title }) => id === asked || title === asked)?.id ?? couplingWith(site, asked));
  if (asked !== undefined && coupling === undefined) {
    throw new UsageError(`no coupling shows '${asked}'; the couplings are ${all.map(({ id }) => id).join(', ')}`);
  }
  return {
    ...(name === undefined ? {} : { case: name }),
    ...(moment === undefined ? {} : { moment }),
    ...(coupling === undefined ? {} : { coupling }),
  };
}

async function drawings(site: CheckedSite, wish: Wish, terminal: Terminal): Promise<readonly Picture[]> {
  const ids = wish.coupling === undefined ? couplingsOf(site).map(({ id }) => id) : [wish.coupling];
  const pictures: Picture[] = [];
  const progress = new Progress(terminal);
  for (const id of ids) {
    progress.say(`${pictures.length} of ${ids.length} drawn`);
    const drawing = drawingOf(site, { ...wish, coupling: id });
    if (drawing !== undefined) pictures.push({ name: id, svg: svgOf(drawing, await layoutOf(drawing.shape)) });
  }
  progress.clear();
  return pictures;
}

function nothing(plot: string | undefined): string {
  const lacks: Readonly<Record<string, string>> = {
    time: 'nothing changes in any case of it',
    bands: 'no zone of it is wired',
    battery: 'no battery of it shall carry anything',
  };
  return `there is nothing to draw of this site: ${plot === undefined ? 'nothing of it is wired' : lacks[plot]}`;
}

/** The names of pictures in place of nothing before the ending, with what no file system takes left out. */
function fileNames(out: string, pictures: readonly Picture[]): readonly string[] {
  const ending = extname(out);
  const bare = join(dirname(out), basename(out, ending));
  const used = new Set<string>();
  return pictures.map(({ name }) => {
    const plain = name.replaceAll(/[^\p{L}\p{N}._-]+/gu, '-');
    let path = `${bare}-${plain}${ending}`;
    for (let count = 2; used.has(path.toLowerCase()); count++) path = `${bare}-${plain}-${count}${ending}`;
    used.add(path.toLowerCase());
    return path;
  });
}

async function write(path: string, text: string, shown: string): Promise<void> {
  try {
    await writeFile(path, text);
  } catch (error) {
    throw new UsageError(`'${shown}' cannot be written: ${(error as NodeJS.ErrnoException).code}`);
  }
}
