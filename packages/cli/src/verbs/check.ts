/** `couplet check`: findings of sites, in the format that is asked for. */
import { mergeFindings, type ProjectFinding, type Severity } from '@couplet/project';
import { CATALOGUE, RULE_NAMES, UNCOMPUTED_RULES } from '@couplet/rules';
import manifest from '../../package.json' with { type: 'json' };
import { shownPath } from '../disk.ts';
import { optionValue } from '../options.ts';
import { githubReport } from '../output/github.ts';
import { jsonReport } from '../output/json.ts';
import { junitReport } from '../output/junit.ts';
import type { Report } from '../output/report.ts';
import { sarifReport } from '../output/sarif.ts';
import { textReport } from '../output/text.ts';
import type { Terminal } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';
import { fixPaths } from './fix.ts';
import { checkPaths, PATH_OPTIONS, today } from './sites.ts';

type Fails = (finding: ProjectFinding) => boolean;

/** One row a format; each gets the report and what fails the check. */
const FORMATS: Readonly<Record<string, (report: Report, terminal: Terminal, fails: Fails) => string>> = {
  text: (report, terminal) => textReport(report, terminal.paint),
  json: (report) => jsonReport(report),
  sarif: (report) => sarifReport(report, summaries()),
  junit: (report, _terminal, fails) => junitReport(report, fails),
  github: (report) => githubReport(report),
};

/** Severities that fail a check, by the word given. */
const FAILING: Readonly<Record<string, readonly Severity[]>> = { error: ['error'], warning: ['error', 'warning'] };

export const check: Verb = {
  name: 'check',
  takes: 'PATH…',
  says: 'find what will not work on a site, and why',
  options: [
    {
      name: 'format',
      takes: 'FORMAT',
      choices: Object.keys(FORMATS),
      says: 'how findings are written (text unless given)',
    },
    {
      name: 'fail-on',
      takes: 'SEVERITY',
      choices: Object.keys(FAILING),
      says: 'what makes the exit status 1 (error unless given)',
    },
    { name: 'strict', says: "count 'not evaluated' as a warning" },
    {
      name: 'today',
      takes: 'DATE',
      says: 'judge acceptances by this date, such as 2026-10-02 (the present day unless given)',
    },
    { name: 'fix', says: 'first apply the fixes that are safe and proven, and say which' },
    { name: 'figures', says: 'show a short table of figures for each site' },
    ...PATH_OPTIONS,
  ],
  more: [
    'A PATH is a site file, any other .couplet file, or a folder: then every .couplet file in it and below it.',
    'Without a PATH the current folder is checked.',
    '--fix changes spelling only, never what is fitted or claimed; each fix is tried on the site first.',
    '',
    'Exit status: 0 nothing failed, 1 findings, 2 nothing could be checked, 3 an internal error.',
  ],

  async run(invocation, terminal) {
    const options = { today: today(invocation), strict: invocation.options.has('strict') };
    const fixed = invocation.options.has('fix') ? await fixPaths(invocation, terminal, options) : [];
    const format = optionValue(invocation, 'format') ?? 'text';
    const wantsFigures = invocation.options.has('figures');
    const sites = await checkPaths(invocation, terminal, options, wantsFigures);
    const report: Report = {
      sites,
      findings: mergeFindings(sites),
      rules: { computed: RULE_NAMES.length - UNCOMPUTED_RULES.length, all: RULE_NAMES.length },
      today: options.today,
      version: manifest.version,
      show: (uri) => shownPath(uri, terminal.folder),
    };
    const severities = FAILING[optionValue(invocation, 'fail-on') ?? 'error'] ?? [];
    const fails: Fails = (finding) => finding.accepted === undefined && severities.includes(finding.severity);
    const write = FORMATS[format] as (typeof FORMATS)[string];
    // A format that programs read stays whole; what was fixed is then for the person who watches.
    for (const line of fixed) {
      if (format === 'text') terminal.out(`${line}\n`);
      else terminal.err(`${line}\n`);
    }
    terminal.out(write(report, terminal, fails));
    return report.findings.some(fails) ? EXIT.findings : EXIT.fine;
  },
};

function summaries(): ReadonlyMap<string, string> {
  return new Map(Object.entries(CATALOGUE).map(([name, row]) => [name, row.summary]));
}
