/** The formats of `couplet check`, on findings made by hand: required fields, escapes, order, colours. */
import type { ProjectFinding } from '@couplet/project';
import { expect, test } from 'vitest';
import { githubReport } from '../../packages/cli/src/output/github.ts';
import { jsonReport } from '../../packages/cli/src/output/json.ts';
import { junitReport } from '../../packages/cli/src/output/junit.ts';
import type { Report } from '../../packages/cli/src/output/report.ts';
import { sarifReport } from '../../packages/cli/src/output/sarif.ts';
import { textReport } from '../../packages/cli/src/output/text.ts';
import { coloured, paintFor, plain } from '../../packages/cli/src/terminal.ts';

const place = (line: number, character: number, length = 4) => ({
  uri: 'file:///w/mill/a b.couplet',
  start: { line, character },
  end: { line, character: character + length },
});

const OVERLOADED: ProjectFinding = {
  code: 'output-overloaded',
  severity: 'error',
  message: 'Q1 carries 500 mA, 100% <of> "rated" & more:\nuse another, stronger output.',
  place: place(2, 5),
  related: [{ place: place(7, 0), message: 'the load' }],
  figures: [
    {
      label: 'demand',
      figure: {
        sort: 'value',
        unit: 'A',
        least: 0.45,
        usual: 0.5,
        most: Number.POSITIVE_INFINITY,
        leastCorner: [],
        mostCorner: [{ what: 'V12', value: 14.1, unit: 'V', share: 1 }],
        proven: true,
        assumptions: [],
      },
    },
    { label: 'rating', figure: { sort: 'not-evaluated', needs: [{ component: 0, property: 'rated', origin: 0 }] } },
  ],
  caseName: 'rest',
  roots: ['file:///w/mill/a b.couplet'],
};

const ACCEPTED: ProjectFinding = {
  code: 'line-unprotected',
  severity: 'warning',
  message: 'W1 leaves the building.',
  place: place(4, 0),
  related: [],
  figures: [],
  accepted: { because: 'buried in conduit', until: '2028-01-31', place: place(9, 0) },
  roots: ['file:///w/mill/a b.couplet'],
};

const NOTE: ProjectFinding = {
  code: 'terminal-unused',
  severity: 'information',
  message: 'Q3 is open.',
  place: place(6, 2),
  related: [],
  figures: [],
  roots: ['file:///w/mill/a b.couplet'],
  site: 'Mill',
};

const REPORT: Report = {
  sites: [
    {
      root: 'file:///w/mill/a b.couplet',
      title: 'Mill',
      fragment: false,
      heldBack: 0,
      files: ['file:///w/mill/a b.couplet', 'file:///w/types/panel.couplet'],
    },
  ],
  findings: [OVERLOADED, ACCEPTED, NOTE],
  rules: { computed: 20, all: 97 },
  today: '2026-10-02',
  version: '0.1.0',
  show: (uri) => decodeURIComponent(uri.slice('file:///w/'.length)),
};

test('text: place, severity, code and message; what belongs to it indented; accepted ones apart; a summary', () => {
  expect(textReport(REPORT, plain)).toBe(
    [
      'mill/a b.couplet:3:6: error output-overloaded: Q1 carries 500 mA, 100% <of> "rated" & more:',
      '    use another, stronger output.',
      '    mill/a b.couplet:8:1: the load',
      'mill/a b.couplet:7:3: information terminal-unused: Q3 is open.',
      '    only in site Mill',
      '',
      'mill/a b.couplet:5:1: accepted warning line-unprotected: W1 leaves the building.',
      '    mill/a b.couplet:10:1: because "buried in conduit" until 2028-01-31',
      '',
      '1 error, no warnings, 1 information, 1 accepted (1 site, 2 files read)',
      '',
    ].join('\n'),
  );
});

test('text: what is not computed yet is said once, at its first place', () => {
  const said = (uri: string, line: number): ProjectFinding => ({
    ...NOTE,
    code: 'not-computed-yet',
    message: 'Not computed yet for fuses.',
    place: { ...place(line, 0), uri },
    site: undefined,
  });
  const findings = [
    said('file:///w/a.couplet', 3),
    said('file:///w/b.couplet', 1),
    said('file:///w/c.couplet', 1),
    NOTE,
  ];
  expect(
    textReport({ ...REPORT, findings }, plain)
      .split('\n')
      .slice(2, 4),
  ).toEqual(['a.couplet:4:1: information not-computed-yet: Not computed yet for fuses.', '    and in 2 more files']);
});

test('text: colours change nothing but colours', () => {
  const painted = textReport(REPORT, coloured);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape character begins a colour.
  const bare = painted.replace(/\u001b\[\d+m/g, '');
  expect(bare).toBe(textReport(REPORT, plain));
  expect(painted).not.toBe(bare);
});

test('colours are used on a terminal only, and never against NO_COLOR', () => {
  expect(paintFor(true, {})).toBe(coloured);
  expect(paintFor(false, {})).toBe(plain);
  expect(paintFor(true, { NO_COLOR: '1' })).toBe(plain);
  expect(paintFor(true, { NO_COLOR: '' })).toBe(coloured);
  expect(paintFor(true, { TERM: 'dumb' })).toBe(plain);
});

test('json: places from 1, SI numbers, null where there is no limit', () => {
  const report = JSON.parse(jsonReport(REPORT));
  expect(report).toMatchObject({
    format: 1,
    version: '0.1.0',
    today: '2026-10-02',
    summary: { error: 1, warning: 0, information: 1, accepted: 1 },
    sites: [{ title: 'Mill', file: 'mill/a b.couplet', checkedAlone: false }],
  });
  expect(report.findings[0]).toMatchObject({
    code: 'output-overloaded',
    severity: 'error',
    file: 'mill/a b.couplet',
    line: 3,
    column: 6,
    endLine: 3,
    endColumn: 10,
    case: 'rest',
    related: [{ message: 'the load', line: 8, column: 1 }],
    figures: [
      { label: 'demand', unit: 'A', least: 0.45, usual: 0.5, most: null, mostCorner: [{ what: 'V12', value: 14.1 }] },
      { label: 'rating', state: 'not evaluated', needs: ['rated'] },
    ],
  });
  expect(report.findings[1].accepted).toMatchObject({ because: 'buried in conduit', until: '2028-01-31', line: 10 });
});

test('sarif: the fields that the standard requires, suppressions for what is accepted', () => {
  const log = JSON.parse(sarifReport(REPORT, new Map([['output-overloaded', 'an output must carry more']])));
  expect(log.version).toBe('2.1.0');
  const [run] = log.runs;
  expect(run.tool.driver).toMatchObject({ name: 'couplet', version: '0.1.0' });
  expect(run.invocations).toEqual([{ executionSuccessful: true }]);
  expect(run.columnKind).toBe('utf16CodeUnits');
  for (const result of run.results) {
    expect(result.message.text).not.toBe('');
    expect(run.tool.driver.rules[result.ruleIndex].id).toBe(result.ruleId);
    expect(['none', 'note', 'warning', 'error']).toContain(result.level);
    const { artifactLocation, region } = result.locations[0].physicalLocation;
    expect(artifactLocation.uri).toBe('mill/a%20b.couplet');
    expect(region.startLine).toBeGreaterThanOrEqual(1);
    expect(region.startColumn).toBeGreaterThanOrEqual(1);
  }
  expect(run.results.map((each: { level: string }) => each.level)).toEqual(['error', 'warning', 'note']);
  expect(run.results[1].suppressions).toMatchObject([{ kind: 'inSource', justification: 'buried in conduit' }]);
  expect(run.results[0].suppressions).toBeUndefined();
});

test('junit: a suite a file, a failed test for what fails, valid counts, everything escaped', () => {
  const xml = junitReport(REPORT, (finding) => finding.severity === 'error');
  expect(xml).toContain('<testsuites name="couplet" tests="2" failures="1" errors="0" time="0">');
  expect(xml).toContain(
    '<testsuite name="mill/a b.couplet" package="couplet" id="0" tests="1" failures="1" errors="0" time="0" timestamp="2026-10-02T00:00:00" hostname="localhost">',
  );
  expect(xml).toContain('<testcase name="output-overloaded at 3:6" classname="mill/a b.couplet" time="0">');
  expect(xml).toContain('100% &lt;of&gt; &quot;rated&quot; &amp; more');
  expect(xml).toContain('<testcase name="check" classname="types/panel.couplet" time="0"/>');
  expect(xml).toContain('accepted warning line-unprotected');
  expect(xml.match(/<testcase /g)).toHaveLength(2);
});

test('junit: characters that XML forbids are replaced', () => {
  const wrong = { ...OVERLOADED, message: 'a\u0000b\u001bc\ud800d\ttab' };
  const xml = junitReport({ ...REPORT, findings: [wrong] }, () => true);
  expect(xml).toContain('a\ufffdb\ufffdc\ufffdd\ttab');
});

test('github: one command a finding that is not accepted, escaped', () => {
  expect(githubReport(REPORT).split('\n')).toEqual([
    '::error file=mill/a b.couplet,line=3,col=6,endLine=3,endColumn=10,title=output-overloaded::Q1 carries 500 mA, 100%25 <of> "rated" & more:%0Ause another, stronger output.',
    '::notice file=mill/a b.couplet,line=7,col=3,endLine=7,endColumn=7,title=terminal-unused::Q3 is open.',
    '',
  ]);
});
