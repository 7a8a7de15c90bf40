/** `couplet figures`: the computed table of each site, case by case. */
import { assumptionsOf, assumptionsOfSupplies, type CaseFigures, type SupplyRow } from '@couplet/project';
import { type ThresholdInForce, thresholdText } from '@couplet/rules';
import manifest from '../../package.json' with { type: 'json' };
import { shownPath } from '../disk.ts';
import { optionValue, UsageError } from '../options.ts';
import { csvFigures } from '../output/csv.ts';
import { fullFigures, supplyLines } from '../output/figures-text.ts';
import { caseJson, JSON_FORMAT, supplyJson, written } from '../output/json.ts';
import type { Terminal } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';
import { checkPaths, PATH_OPTIONS, today } from './sites.ts';

interface Table {
  readonly title: string;
  readonly file: string;
  readonly errors: number;
  readonly cases: readonly CaseFigures[];
  readonly supplies: readonly SupplyRow[];
  readonly thresholds: readonly ThresholdInForce[];
}

interface Wanted {
  readonly assumptions: boolean;
  readonly terminal: Terminal;
}

const FORMATS: Readonly<Record<string, (tables: readonly Table[], wanted: Wanted) => string>> = {
  text: textTables,
  json: jsonTables,
  csv: (tables) => csvFigures(tables),
};

export const figures: Verb = {
  name: 'figures',
  takes: 'PATH…',
  says: 'show what is computed of a site: volts, amperes and ohms of each case, usual, least and most',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      choices: Object.keys(FORMATS),
      says: 'how the table is written (text unless given)',
    },
    {
      name: 'assumptions',
      says: 'list the values that were assumed because the file does not give them, and the thresholds in force',
    },
    ...PATH_OPTIONS,
  ],
  more: ["Figures rest on the file as it stands: see 'couplet check' for what is wrong with it."],

  async run(invocation, terminal) {
    const sites = await checkPaths(invocation, terminal, { today: today(invocation), strict: false }, true);
    const tables = sites.flatMap((site): Table[] => {
      if (
        site.figures === undefined ||
        !site.figures.some((each) => each.moments.some((moment) => moment.rows.length > 0))
      ) {
        return [];
      }
      const errors = site.findings.filter((each) => each.severity === 'error' && each.accepted === undefined).length;
      const file = shownPath(site.root, terminal.folder);
      const { figures: cases, supplies = [], thresholds = [], title } = site;
      return [{ title, file, errors, cases, supplies, thresholds }];
    });
    if (tables.length === 0) {
      throw new UsageError("there is nothing wired that has figures; 'couplet check' says what is wrong or missing");
    }
    const wanted = { assumptions: invocation.options.has('assumptions'), terminal };
    const write = FORMATS[optionValue(invocation, 'format') ?? 'text'] as (typeof FORMATS)[string];
    terminal.out(write(tables, wanted));
    return EXIT.fine;
  },
};

function textTables(tables: readonly Table[], { assumptions, terminal }: Wanted): string {
  const { paint } = terminal;
  const lines: string[] = [];
  for (const { cases, errors, file, supplies, thresholds, title } of tables) {
    if (lines.length > 0) lines.push('');
    lines.push(paint('bold', `${title} (${file})`));
    if (errors > 0) {
      const word = errors === 1 ? 'an error' : `${errors} errors`;
      lines.push(paint('yellow', `'couplet check' finds ${word} here: figures of what is concerned may be missing.`));
    }
    lines.push(...fullFigures(cases, paint), ...supplyLines(supplies, paint));
    const assumed = assumedIn(cases, supplies);
    if (assumptions) {
      if (assumed.length > 0) lines.push('', 'assumed, because the file does not say');
      lines.push(...assumed.map((clause) => `  ${clause}`), ...thresholdLines(thresholds));
    } else if (assumed.length > 0) {
      const count = assumed.length === 1 ? '1 value is' : `${assumed.length} values are`;
      lines.push('', `${count} assumed; --assumptions lists them`);
    }
  }
  return `${lines.join('\n')}\n`;
}

function assumedIn(cases: readonly CaseFigures[], supplies: readonly SupplyRow[]): string[] {
  return [...new Set([...assumptionsOf(cases), ...assumptionsOfSupplies(supplies)])].sort();
}

/** What findings are judged by: what the site sets first, then what is taken where it sets nothing. */
function thresholdLines(thresholds: readonly ThresholdInForce[]): string[] {
  const line = ({ rule, set, threshold, value }: ThresholdInForce) => {
    const usual = `${thresholdText(threshold, threshold.value)} unless set`;
    const from = set ? usual : `${threshold.origin}; ${threshold.standing}`;
    return `  ${rule}  ${thresholdText(threshold, value)}: ${threshold.says} (${from})`;
  };
  const own = thresholds.filter(({ set }) => set);
  const usual = thresholds.filter(({ set }) => !set);
  return [
    ...(own.length === 0 ? [] : ['', 'thresholds set by this site', ...own.map(line)]),
    ...(usual.length === 0 ? [] : ['', 'thresholds taken, because the site sets none', ...usual.map(line)]),
  ];
}

function jsonTables(tables: readonly Table[]): string {
  return written({
    format: JSON_FORMAT,
    version: manifest.version,
    sites: tables.map(({ cases, errors, file, supplies, thresholds, title }) => ({
      title,
      file,
      errors,
      assumptions: assumedIn(cases, supplies),
      thresholds: thresholds.map(({ rule, set, threshold: { origin, says, standing, unit }, value }) => ({
        rule,
        value,
        unit,
        set,
        says,
        origin,
        standing,
      })),
      cases: cases.map(caseJson),
      supplies: supplies.map(supplyJson),
    })),
  });
}
