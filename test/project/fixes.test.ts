/** Fixes that were proven by solving again: what is offered for one mistake, and what the text is then. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import {
  applyEdits,
  type CheckedSite,
  checkSites,
  fixAll,
  type ProjectFinding,
  type ProvenFix,
  proveFixes,
  type Workspace,
} from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const fixture = (name: string) => readFileSync(join(import.meta.dirname, '../rules/fixtures', name), 'utf8');
const TYPES = fixture('types.couplet');
const HEALTHY = fixture('healthy.couplet');
const OPTIONS = { today: '2026-11-01' };

type Edit = readonly [from: string, to: string];

function changed(edits: readonly Edit[], text = HEALTHY): string {
  return edits.reduce((result, [from, to]) => {
    if (!result.includes(from)) throw new Error(`The site does not say: ${from}`);
    return result.replace(from, to);
  }, text);
}

function workspaceOf(files: Readonly<Record<string, string>>): Workspace {
  return { reader: new MemoryReader({ 'types.couplet': TYPES, ...files }), folder: FOLDER };
}

async function checked(workspace: Workspace): Promise<CheckedSite[]> {
  const sites: CheckedSite[] = [];
  for await (const site of checkSites(workspace, [uri('site.couplet')], OPTIONS)) sites.push(site);
  return sites;
}

/** The first finding of a code, and what is offered for it. */
async function fixesFor(
  text: string,
  code: string,
  types = TYPES,
): Promise<{ finding: ProjectFinding; fixes: ProvenFix[] }> {
  const workspace = workspaceOf({ 'site.couplet': text, 'types.couplet': types });
  const sites = await checked(workspace);
  const finding = sites.flatMap(({ findings }) => findings).find((each) => each.code === code);
  if (finding === undefined)
    throw new Error(
      `no ${code} among ${sites.flatMap(({ findings }) => findings.map((each) => each.code)).join(', ')}`,
    );
  return { finding, fixes: await proveFixes(workspace, sites, finding, OPTIONS) };
}

/** Lines that a fix takes away and puts in, each with its sign. */
function lineChanges(text: string, fix: ProvenFix): string[] {
  const after = applyEdits(text, fix.edits) ?? '';
  const [before, now] = [text.split('\n'), after.split('\n')];
  return [
    ...before.filter((line) => !now.includes(line)).map((line) => `- ${line}`),
    ...now.filter((line) => !before.includes(line)).map((line) => `+ ${line}`),
  ];
}

interface Row {
  readonly what: string;
  readonly edits: readonly Edit[];
  readonly types?: readonly Edit[];
  readonly code: string;
  readonly title: RegExp;
  readonly lines: readonly string[];
  readonly safe?: boolean;
}

const ROWS: readonly Row[] = [
  {
    what: 'a name nearly right',
    edits: [['RE -- W1.YE', 'RF -- W1.YE']],
    code: 'name-unknown',
    title: /^Write/,
    lines: [
      '- wire panel.Z4 -- W1.GN -- K1.11-14 -- RF -- W1.YE -- panel.ZC',
      '+ wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC',
    ],
  },
  {
    what: 'a name right but for its capitals',
    edits: [['ctl.V12 -- P1', 'ctl.v12 -- P1']],
    code: 'name-unknown',
    title: /^Write 'V12'$/,
    lines: ['- wire ctl.v12 -- P1 -- ctl.Q2', '+ wire ctl.V12 -- P1 -- ctl.Q2'],
    safe: true,
  },
  {
    what: 'a unit as nobody writes it',
    edits: [['140 m', '140 meter']],
    code: 'unit-unknown',
    title: /^Write/,
    lines: [
      '- cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: 140 meter  from: hut  to: pit  route: indoor }',
      '+ cable W1 { cores: GN, YE  size: 0.22 mm2  core-ohms: 95 ohm/km  length: 140 m  from: hut  to: pit  route: indoor }',
    ],
    safe: true,
  },
  {
    what: 'a path with the strokes of another system',
    edits: [['use "types.couplet"', 'use ".\\\\types.couplet"']],
    code: 'use-path-wrong',
    title: /^Write "\.\/types\.couplet"$/,
    lines: ['- use ".\\\\types.couplet"', '+ use "./types.couplet"'],
    safe: true,
  },
  {
    what: 'a value that nobody makes',
    edits: [['RE = 2k2', 'RE = 2k3']],
    code: 'value-not-preferred',
    title: /^Use 2k[12345]/,
    lines: ['- resistor RE = 2k3 +-1%', '+ resistor RE = 2k32 +-1%'],
  },
  {
    what: 'a relay without suppression',
    edits: [['relay K1 : Relay12 in pit', 'relay K1 : Relay12 in pit { suppressor: none }']],
    code: 'coil-unsuppressed',
    title: /^Fit a diode across K1$/,
    lines: ['+ diode D1', '+ wire K1.A2 -- D1 -- K1.A1'],
  },
  {
    what: 'a load at the end of too thin a cable',
    edits: [
      [
        'place hut {',
        'cable W2 { cores: RD, BK  size: 0.22 mm2  length: 80 m  from: pit  to: hut  route: indoor }\nplace hut {',
      ],
      ['P1 = 6 W @ 12 V in pit', 'P1 = 6 W @ 12 V in hut'],
      ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- W2.RD -- P1 -- W2.BK -- ctl.Q2'],
    ],
    code: 'load-undervoltage',
    title: /^Use .* mm² for W2: volts at P1 \d/,
    lines: [
      '- cable W2 { cores: RD, BK  size: 0.22 mm2  length: 80 m  from: pit  to: hut  route: indoor }',
      '+ cable W2 { cores: RD, BK  size: 4 mm2  length: 80 m  from: pit  to: hut  route: indoor }',
    ],
  },
  {
    what: 'a load on the smaller output',
    edits: [['load P1 = 6 W', 'load P1 = 12 W']],
    types: [['style: source  rail: V12  return: GND  rated: 500 mA', 'style: sink  return: GND  rated: 2 A']],
    code: 'output-overloaded',
    title: /^Use ctl.Q3/,
    lines: [
      '- wire ctl.V12 -- P1 -- ctl.Q2',
      '-   turn ctl.Q2 on for 90 s',
      '+ wire ctl.V12 -- P1 -- ctl.Q3',
      '+   turn ctl.Q3 on for 90 s',
    ],
  },
  {
    what: 'the wrong contact of the relay',
    edits: [
      ['K1.11-14 -- RE', 'K1.11-12 -- RE'],
      ['RA -- K1.14', 'RA -- K1.12'],
    ],
    code: 'rest-inverted',
    title: /^Wire K1.11-14 in place of K1.11-12: ohms at panel.Z4 2\.\d+ kΩ/,
    lines: [
      '- wire panel.Z4 -- W1.GN -- K1.11-12 -- RE -- W1.YE -- panel.ZC',
      '- wire K1.11 -- RA -- K1.12',
      '+ wire panel.Z4 -- W1.GN -- K1.11-14 -- RE -- W1.YE -- panel.ZC',
      '+ wire K1.11 -- RA -- K1.14',
    ],
  },
  {
    what: 'an end resistor a decade too low',
    edits: [['RE = 2k2', 'RE = 220R']],
    code: 'rest-inverted',
    title: /^Use 2k\d for RE: ohms at panel.Z4/,
    lines: ['- resistor RE = 220R +-1%', '+ resistor RE = 2k4 +-1%'],
  },
  {
    what: 'an alarm too near the edge of its band',
    edits: [['RA = 4k7', 'RA = 1k6']],
    code: 'reading-outside-band',
    title: /^Use .* for RA/,
    lines: ['- resistor RA = 1k6 +-1%', '+ resistor RA = 4k7 +-1%'],
  },
  {
    what: 'a change that no case asks for',
    edits: [['  expect panel.Z4 alarm within 1 s\n  expect P1 >= 10.5 V', '  expect P1 >= 10.5 V']],
    code: 'changed-unasked',
    title: /^Expect panel.Z4 alarm$/,
    lines: ['+   expect panel.Z4 alarm'],
  },
  {
    what: 'a diode the wrong way round',
    edits: [
      [
        'relay K1 : Relay12 in pit',
        'relay K1 : Relay12 in pit { suppressor: none }\ndiode D1\nwire K1.A1 -- D1 -- K1.A2',
      ],
    ],
    code: 'suppressor-reversed',
    title: /^Turn D1$/,
    lines: ['- wire K1.A1 -- D1 -- K1.A2', '+ wire K1.A2 -- D1 -- K1.A1'],
  },
  {
    what: 'a coil fed from the wrong end',
    edits: [['ctl.V12 -- K1.A1-A2 -- ctl.Q1', 'ctl.V12 -- K1.A2-A1 -- ctl.Q1']],
    code: 'suppressor-reversed',
    title: /^Turn the coil of K1$/,
    lines: ['- wire ctl.V12 -- K1.A2-A1 -- ctl.Q1', '+ wire ctl.V12 -- K1.A1-A2 -- ctl.Q1'],
  },
  {
    what: 'a load met from its minus side, its ends in two wires',
    edits: [
      ['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.V12 -- P1.minus\nwire P1.plus -- ctl.GND'],
      ['  expect P1 off\n', ''],
      ['  wait 100 s\n  expect P1 off\n', ''],
    ],
    code: 'load-polarity-reversed',
    title: /^Turn P1: volts at P1 \d/,
    lines: [
      '- wire ctl.V12 -- P1.minus',
      '- wire P1.plus -- ctl.GND',
      '+ wire ctl.V12 -- P1.plus',
      '+ wire P1.minus -- ctl.GND',
    ],
  },
  {
    what: 'a load on the wrong side of its output',
    edits: [['wire ctl.V12 -- P1 -- ctl.Q2', 'wire ctl.Q2 -- P1 -- ctl.V12']],
    code: 'output-polarity-reversed',
    title: /^Turn P1$/,
    lines: ['- wire ctl.Q2 -- P1 -- ctl.V12', '+ wire ctl.V12 -- P1 -- ctl.Q2'],
  },
  {
    what: 'an open core',
    edits: [['cores: GN, YE ', 'cores: GN, YE, WH ']],
    code: 'core-unused',
    title: /^Mark W1.WH as spare$/,
    lines: ['+ spare W1.WH'],
  },
  {
    what: 'an acceptance of nothing',
    edits: [['case rest', 'accept output-overloaded on ctl.Q2 because "looked at"\ncase rest']],
    code: 'acceptance-stale',
    title: /^Strike/,
    lines: ['- accept output-overloaded on ctl.Q2 because "looked at"'],
  },
];

describe('offered and proven', () => {
  test.each(ROWS)('$what', async ({ edits, code, lines, safe = false, title, types = [] }) => {
    const text = changed(edits);
    const { fixes } = await fixesFor(text, code, changed(types, TYPES));
    expect(fixes.map((each) => each.title)).toContainEqual(expect.stringMatching(title));
    const fix = fixes.find((each) => title.test(each.title)) as ProvenFix;
    expect(lineChanges(text, fix)).toEqual(lines);
    expect(fix.safe).toBe(safe);
  });

  test('a pulse that the panel would miss is lengthened in the case that writes it', async () => {
    const text = changed([['  turn ctl.Q1 off\n', '  turn ctl.Q1 off for 300 ms\n']]);
    const { fixes } = await fixesFor(text, 'signal-too-short');
    expect(fixes.map((fix) => lineChanges(text, fix))).toEqual([
      ['-   turn ctl.Q1 off for 300 ms', expect.stringMatching(/^\+ {3}turn ctl\.Q1 off for 1 s$/)],
    ]);
  });

  test('carriage returns are kept', async () => {
    const windows = changed([['cores: GN, YE ', 'cores: GN, YE, WH ']]).replaceAll('\n', '\r\n');
    const { fixes } = await fixesFor(windows, 'core-unused');
    const after = applyEdits(windows, fixes[0]?.edits ?? []) ?? '';
    expect(after).toContain('route: indoor }\r\nspare W1.WH\r\nprogram');
  });
});

describe('not offered', () => {
  test('a section that would do for the load and not for what a case expects', async () => {
    const row = ROWS.find(({ code }) => code === 'load-undervoltage') as Row;
    const { finding, fixes } = await fixesFor(changed(row.edits), row.code);
    expect(finding.candidates?.map(({ title }) => title)).toEqual([
      'Use 2.5 mm² for W2',
      'Use 4 mm² for W2',
      'Use 6 mm² for W2',
    ]);
    expect(fixes).toHaveLength(1);
    expect(fixes[0]?.title).toMatch(/^Use 4/);
  });

  test('a cure of one site that breaks another one with the same file', async () => {
    const workspace = workspaceOf({
      'part.couplet': 'resistor RE = 2k3 +-1%\n',
      'site.couplet': changed([['resistor RE = 2k2 +-1%\n', 'use "part.couplet"\n']]),
      'other.couplet': changed([
        ['resistor RE = 2k2 +-1%\n', 'use "part.couplet"\n'],
        ['case rest {', 'case rest {\n  expect ohms K1.14 to panel.ZC about 2.312 kohm +-5 ohm'],
      ]),
    });
    const sites: CheckedSite[] = [];
    const asked = [uri('site.couplet'), uri('other.couplet')];
    for await (const site of checkSites(workspace, asked, OPTIONS)) sites.push(site);
    const finding = sites.flatMap(({ findings }) => findings).find(({ code }) => code === 'value-not-preferred');
    const both = await proveFixes(workspace, sites, finding as ProjectFinding, OPTIONS);
    const one = await proveFixes(
      workspace,
      sites.filter(({ root }) => root === uri('site.couplet')),
      finding as ProjectFinding,
      OPTIONS,
    );
    expect(one).toHaveLength(1);
    expect(both).toEqual([]);
  });

  test('anything where the work is called off', async () => {
    const workspace = workspaceOf({ 'site.couplet': changed([['RE = 2k2', 'RE = 2k3']]) });
    const sites = await checked(workspace);
    const finding = sites.flatMap(({ findings }) => findings).find(({ code }) => code === 'value-not-preferred');
    const cancellation = { isCancellationRequested: true };
    await expect(
      proveFixes(workspace, sites, finding as ProjectFinding, { ...OPTIONS, cancellation }),
    ).rejects.toMatchObject({ name: 'Cancelled' });
  });
});

describe('all safe fixes', () => {
  test('are applied one after the other; what is bought or fitted stays as it is', async () => {
    const text = changed([
      ['140 m ', '140 meter '],
      ['ctl.V12 -- P1', 'ctl.v12 -- P1'],
      ['RE = 2k2', 'RE = 2k3'],
    ]);
    const workspace = workspaceOf({ 'site.couplet': text });
    const { applied, texts } = await fixAll(workspace, [uri('site.couplet')], OPTIONS);
    expect(applied.map(({ fix }) => fix.title)).toEqual(["Write '140 m'", "Write 'V12'"]);
    expect(texts.get(uri('site.couplet'))).toBe(changed([['RE = 2k2', 'RE = 2k3']]));
  });

  test('leave a site alone in which there is nothing to mend', async () => {
    const { applied, texts } = await fixAll(workspaceOf({ 'site.couplet': HEALTHY }), [uri('site.couplet')], OPTIONS);
    expect(applied).toEqual([]);
    expect(texts.size).toBe(0);
  });
});
