import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { resolveReference, type Wire } from '@couplet/language';
import { describe, expect, test } from 'vitest';
import { Workspace } from './support.ts';

const fixtures = join(import.meta.dirname, 'fixtures');
const PANEL = `type Panel : unit {
  supply IN { plus: V  minus: G }
  rail AUX { volts: 12 V  limit: 1 A  return: ZC }
  common ZC { earthed: yes }
  common "0V" { earthed: no }
  output Q1 { style: sink  return: "0V" }
  contact OUT { common: C  nc: NC  no: NO }
  contact TWIN { from: C  to: T }
  scheme double { normal: 1k .. 2k }
  zone Z1 .. Z8 { feed: 5 V via 4k7  return: ZC  scheme: double }
  mode sending { draws: 10 mA }
  terminal high-side
  terminal 7
}
type Relay : relay { contacts: changeover, make }
`;

/** Line of the declaration in PANEL that contains a text. */
const line = (text: string) => PANEL.split('\n').findIndex((each) => each.includes(text)) + 1;

function folder(name: string): Record<string, string> {
  const root = join(fixtures, name);
  const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.couplet'));
  return Object.fromEntries(files.map((file) => [file, readFileSync(join(root, file), 'utf8')]));
}

describe('Tidewater Mill', async () => {
  const files = folder('tidewater-mill');
  const workspace = await Workspace.of(files);

  test.each(Object.keys(files))('%s has no finding', (path) => {
    expect(workspace.document(path).references.length).toBeGreaterThan(0);
    expect(workspace.document(path).references.filter((each) => each.error !== undefined)).toEqual([]);
    expect(workspace.findings(path)).toEqual([]);
  });
});

describe('definitions', () => {
  test.each<[string, string, string | undefined]>([
    ['a unit', 'unit p : Panel\nwire ⟦p⟧.Q1 -- earth', '1:p'],
    ['a type in another file', 'unit p : ⟦Panel⟧', `panel.couplet:${line('type Panel')}:Panel`],
    ['an inherited member', 'unit p : Panel\nwire p.⟦Q1⟧ -- earth', `panel.couplet:${line('output Q1')}:Q1`],
    ['a quoted member', 'unit p : Panel\nwire p.⟦"0V"⟧ -- earth', `panel.couplet:${line('common "0V"')}:"0V"`],
    ['a counted member', 'unit p : Panel\nwire p.⟦Z5⟧ -- earth', `panel.couplet:${line('zone Z1')}:Z1`],
    [
      'a name with a hyphen',
      'unit p : Panel\nwire p.⟦high⟧-side -- earth',
      `panel.couplet:${line('high-side')}:high-side`,
    ],
    ['a numbered terminal', 'unit p : Panel\nwire p.⟦7⟧ -- earth', `panel.couplet:${line('terminal 7')}:7`],
    ['a terminal that a property names', 'unit p : Panel\nwire p.⟦V⟧ -- earth', `panel.couplet:${line('supply IN')}:V`],
    ['a terminal named twice', 'unit p : Panel\nwire p.⟦C⟧-T -- earth', `panel.couplet:${line('contact OUT')}:C`],
    ['the pole of a contact', 'unit p : Panel\nwire p.C-⟦NO⟧ -- earth', `panel.couplet:${line('contact OUT')}:NO`],
    ['the return of a zone', 'unit p : Panel\nwire p.Z1 -- p.Z1.⟦return⟧', `panel.couplet:${line('common ZC')}:ZC`],
    ['a mode', 'unit p : Panel\ncase a { turn p ⟦sending⟧ }', `panel.couplet:${line('mode sending')}:sending`],
    ['a member of the own body', 'unit p : Panel { output Q9 { return: ZC } }\nwire p.⟦Q9⟧ -- earth', '1:Q9'],
    ['a return in the type', 'unit p : Panel { output Q9 { return: ⟦ZC⟧ } }', `panel.couplet:${line('common ZC')}:ZC`],
    [
      'a quoted return in the type',
      'unit p : Panel { output Q9 { return: ⟦"0V"⟧ } }',
      `panel.couplet:${line('common "0V"')}:"0V"`,
    ],
    ['a scheme', 'unit p : Panel\nprogram p.Z4 scheme = ⟦double⟧', `panel.couplet:${line('scheme double')}:double`],
    ['an overridden member', 'unit p : Panel { ⟦Q1⟧.rated: 1 A }', `panel.couplet:${line('output Q1')}:Q1`],
    ['a core', 'cable W1 { cores: GN, YE }\nwire W1.⟦YE⟧ -- earth', '1:YE'],
    ['a numbered core', 'cable W1 { cores: 4 }\nwire W1.⟦3⟧ -- earth', '1:4'],
    ['a doubled core', 'cable W1 { cores: RD, WH }\nwire W1.RD+⟦WH⟧ -- earth', '1:WH'],
    ['an end of a core', 'place pit\ncable W1 { cores: RD  from: pit }\nwire W1.RD.⟦pit⟧ -- earth', '1:pit'],
    ['a screen', 'cable W1 { cores: RD  screen: yes }\nwire W1.⟦screen⟧ -- earth', '1:screen'],
    ['a terminal of a joint', 'joint X1 { terminals: 12 }\nwire X1.⟦9⟧ -- earth', '1:12'],
    ['a coil terminal', 'relay K1 : Relay\nwire K1.⟦A1⟧-A2 -- earth', 'library.couplet:A1'],
    ['a changeover terminal', 'relay K1 : Relay\nwire K1.11-⟦14⟧ -- earth', 'library.couplet:14'],
    ['a terminal of the second pole', 'relay K1 : Relay\nwire K1.⟦23⟧-24 -- earth', 'library.couplet:13'],
    ['a terminal that the form lacks', 'relay K1 : Relay\nwire K1.⟦22⟧-24 -- earth', undefined],
    ['the only pole by letters', 'switch S1 { contacts: break }\nwire S1.COM-⟦NC⟧ -- earth', 'library.couplet:NC'],
    ['letters with two poles', 'relay K1 : Relay\nwire K1.⟦COM⟧-NC -- earth', undefined],
    [
      'late contacts of a timer',
      'relay K1 { function: on-delay  contacts: changeover }\nwire K1.15-⟦18⟧ -- earth',
      'library.couplet:18',
    ],
    ['a pole whose property is given', 'relay K1 : Relay { ⟦11-14⟧.carries: 230 V ac }', 'library.couplet:11'],
    ['an end of a resistor', 'resistor R1 = 1k\nwire R1.⟦2⟧ -- earth', 'library.couplet:2'],
    ['earth', 'resistor R1 = 1k\nwire ⟦earth⟧ -- R1 -- earth', 'library.couplet:earth'],
    ['a place', 'place pit\nload P1 in ⟦pit⟧', '1:pit'],
    ['a case', 'case one {}\ncase two after ⟦one⟧ {}', '1:one'],
    ['the case that need not be written', 'case two after ⟦rest⟧ {}', 'library.couplet:rest'],
    [
      'the case of a reading',
      'case hi-lo {}\nmeasured 2026-01-01 {\n  ⟦hi-lo⟧: amps in R1 = 1 mA\n}\nresistor R1 = 1k',
      '1:hi-lo',
    ],
    [
      'a setting',
      'unit p : Panel\nprogram p "Beacon time" = 90 s\ncase a { turn p.Q1 on for p.⟦"Beacon time"⟧ }',
      '2:"Beacon time"',
    ],
    ['a named value', 'value LIM = 10 V\nload P1 { works: ⟦LIM⟧ .. 15 V }', '1:LIM'],
    ['a confirmation', 'unit p : Panel\nconfirm both = p.Z1, p.Z2\ncase a { expect ⟦both⟧ confirmed }', '2:both'],
    ['a plain word', 'load P1 { style: ⟦resistive⟧ }', undefined],
    ['a plain state', 'load P1\ncase a { expect P1 ⟦on⟧ }', undefined],
  ])('%s', async (_, text, expected) => {
    const main = `${text}\nuse "panel.couplet"\n`;
    const workspace = await Workspace.of({ 'main.couplet': main, 'panel.couplet': PANEL });
    const found = workspace.definitionAt();
    if (expected?.startsWith('library.couplet:')) {
      expect(found).toMatch(/^library\.couplet:\d+:/);
      expect(found?.replace(/:\d+:/, ':')).toBe(expected);
    } else expect(found).toBe(expected);
  });
});

describe('references, as a rename takes them', () => {
  test('a core', async () => {
    const text = `cable W1 { cores: ⟦GN⟧, YE  length: 1 m }
cable W2 { cores: GN }
resistor R1 = 1k
wire earth -- W1.GN -- R1 -- W1.YE -- earth
wire W2.GN -- earth
spare W1.GN
`;
    const workspace = await Workspace.of(text);
    expect(workspace.referencesAt()).toEqual(['1:GN', '4:GN', '6:GN']);
  });

  test('a terminal that a pole and two contacts name, from a use in another file', async () => {
    const workspace = await Workspace.of({
      'main.couplet': 'use "panel.couplet"\nunit p : Panel\nwire p.⟦C⟧-NO -- earth\nwire p.C-T -- earth\n',
      'panel.couplet': PANEL,
    });
    expect(workspace.referencesAt()).toEqual([
      '3:C',
      '4:C',
      `panel.couplet:${line('contact OUT')}:C`,
      `panel.couplet:${line('contact TWIN')}:C`,
    ]);
  });

  test('a name with hyphens is one stretch', async () => {
    const workspace = await Workspace.of({
      'main.couplet': 'use "panel.couplet"\nunit p : Panel\nwire p.⟦high⟧-side -- earth\nspare p.high-side\n',
      'panel.couplet': PANEL,
    });
    expect(workspace.referencesAt()).toEqual([
      '3:high-side',
      '4:high-side',
      `panel.couplet:${line('high-side')}:high-side`,
    ]);
  });

  test('a component with its overrides and programs', async () => {
    const workspace = await Workspace.of({
      'main.couplet': `use "panel.couplet"
unit ⟦p⟧ : Panel
program p.Q1 rest = on
program p "Time" = 3 s
case a { turn p.Q1 on for p."Time"  expect volts p.Q1 to p.ZC > 3 V }
accept reset-state-undeclared on p.Q1 because "x"
`,
      'panel.couplet': PANEL,
    });
    expect(workspace.referencesAt()).toEqual(['2:p', '3:p', '4:p', '5:p', '5:p', '5:p', '5:p', '6:p']);
  });
});

describe('assemblies', () => {
  test('every name of the example is found', async () => {
    const panel = readFileSync(join(fixtures, 'tidewater-mill/types/panel-eight-zones.couplet'), 'utf8');
    const loops = readFileSync(join(fixtures, 'assemblies.couplet'), 'utf8');
    const workspace = await Workspace.of({
      'assemblies.couplet': loops,
      'tidewater-mill/types/panel-eight-zones.couplet': panel,
    });
    expect(workspace.document('assemblies.couplet').references.filter((each) => each.error)).toEqual([]);
  });

  const TYPE = `type Loop : assembly {
  given Z : zone
  given run : length
  switch S1 { contacts: break }
  cable W1 { cores: GN, YE  length: run  from: Z  to: here }
  wire Z -- W1.GN -- S1.11-12 -- W1.YE -- Z.return
  case opened { turn S1 open }
}
`;
  test.each<[string, string, string]>([
    ['a part', 'wire B.⟦S1⟧.11-12 -- earth', '4:S1'],
    ['a part’s core', 'wire B.W1.⟦GN⟧ -- earth', '5:GN'],
    ['a case', 'case later after B.⟦opened⟧ {}', '7:opened'],
    ['a given', 'assembly C : Loop { ⟦Z⟧: earth }', '2:Z'],
    ['a part of the type in an acceptance', 'accept silent-fault on Loop.⟦S1⟧ because "x"', '4:S1'],
    ['an overridden part', 'assembly C : Loop { ⟦W1⟧.size: 1 mm2 }', '5:W1'],
  ])('%s', async (_, text, expected) => {
    const workspace = await Workspace.of(`${TYPE}assembly B : Loop\n${text}\n`);
    expect(workspace.definitionAt() ?? 'none').toBe(expected);
  });

  test('a given is renamed with its uses', async () => {
    const workspace = await Workspace.of(
      `${TYPE.replace('given Z', 'given ⟦Z⟧')}assembly B : Loop { Z: earth  run: 3 m }\n`,
    );
    expect(workspace.referencesAt()).toEqual(['2:Z', '5:Z', '6:Z', '6:Z', '9:Z']);
  });

  test('a given of a use within a use is found by its dotted name, and renamed with it', async () => {
    const workspace = await Workspace.of(
      `${TYPE.replace('given run', 'given ⟦run⟧')}type Pair : assembly {
  assembly L : Loop { Z: earth  run: 3 m }
}
assembly P : Pair { L.run: 4 m  L.W1.size: 1 mm2 }
assembly Q : Pair { L.away: 4 m }
`,
    );
    expect(workspace.referencesAt()).toEqual(['10:run', '12:run', '3:run', '5:run']);
    expect(workspace.findings().map(({ code, message, text }) => [code, text, message])).toEqual([
      ['property-unknown', 'away', "'Loop' asks for Z, run, not for 'away'."],
    ]);
  });

  test('inside, names are the assembly’s own', async () => {
    const workspace = await Workspace.of(`resistor R1 = 1k
type Loop : assembly {
  given Z : zone
  wire Z -- ⟦R1⟧ -- Z.return
}
`);
    const [unknown] = workspace.document().references.filter((each) => each.error !== undefined);
    expect(unknown?.$refText).toBe('R1');
  });
});

describe('files', () => {
  const SITE = 'site "S" {}\nuse "a.couplet"\nuse "north/b.couplet" as north\nwire north.R9 -- R1 -- earth\n';
  test('a prefix leads into the file, and the file sees its own names and those around it', async () => {
    const workspace = await Workspace.of({
      'main.couplet': SITE,
      'a.couplet': 'resistor R1 = 1k\nresistor R2 = 1k\n',
      'north/b.couplet': 'resistor R1 = 2k\nresistor R9 = 2k\nwire ⟦R1⟧ -- ⟦R2⟧\n',
    });
    for (const path of ['main.couplet', 'a.couplet', 'north/b.couplet']) {
      expect(workspace.document(path).references.filter((each) => each.error)).toEqual([]);
    }
    expect(workspace.definitionAt('north/b.couplet', 0)).toBe('1:R1');
    expect(workspace.definitionAt('north/b.couplet', 1)).toBe('a.couplet:2:R2');
  });

  test('what no site joins does not see each other', async () => {
    const workspace = await Workspace.of({ 'a.couplet': 'resistor R1 = 1k\n', 'b.couplet': 'wire R1 -- earth\n' });
    expect(workspace.document('b.couplet').references.filter((each) => each.error).length).toBe(1);
  });

  test('circles are allowed', async () => {
    const workspace = await Workspace.of({
      'a.couplet': 'use "b.couplet"\nresistor R1 = 1k\nwire R2 -- earth\n',
      'b.couplet': 'use "a.couplet"\nresistor R2 = 1k\nwire R1 -- earth\n',
    });
    for (const path of ['a.couplet', 'b.couplet']) {
      expect(workspace.document(path).references.filter((each) => each.error)).toEqual([]);
    }
    expect(workspace.services.references.SiteScopes.roots()).toEqual(['file:///a.couplet']);
  });
});

describe('the same name in two files of a site', () => {
  const FILES = {
    'main.couplet': 'site "S" {}\nuse "a.couplet"\nuse "b.couplet"\n',
    'a.couplet': 'resistor R1 = 1k\ncase rest {}\ntype T : unit\n',
    'b.couplet': 'resistor ⟦R1⟧ = 2k\ncase rest {}\ntype ⟦T⟧ : unit\n',
  };

  test('is told in the later one, with the place of the other', async () => {
    const workspace = await Workspace.of(FILES);
    expect(workspace.findings('a.couplet')).toEqual([]);
    const marks = workspace.marks.get('b.couplet') ?? [];
    const findings = workspace.findings('b.couplet');
    expect(findings.map((each) => [each.code, each.start])).toEqual(marks.map((mark) => ['name-taken', mark.start]));
    expect(findings[0]?.message).toContain("line 1 of 'a.couplet'");
    const [first] = workspace.document('b.couplet').diagnostics ?? [];
    expect(first?.relatedInformation?.[0]?.location.uri).toBe('file:///a.couplet');
  });

  test('goes when the other is renamed', async () => {
    const workspace = await Workspace.of(FILES);
    await workspace.change({ 'a.couplet': 'resistor R9 = 1k\n' });
    expect(workspace.findings('b.couplet')).toEqual([]);
  });

  test('is no finding under different prefixes, and a file counts once', async () => {
    const workspace = await Workspace.of({
      ...FILES,
      'main.couplet': 'site "S" {}\nuse "a.couplet"\nuse "b.couplet" as north\nuse "a.couplet" as south\n',
      'b.couplet': 'resistor R1 = 2k\n',
    });
    expect(workspace.findings('b.couplet')).toEqual([]);
    expect(workspace.findings().map((each) => each.code)).toEqual(['used-twice']);
  });
});

test('a resolved chain names poles, ends and doubled cores', async () => {
  const workspace = await Workspace.of({
    'main.couplet': `use "panel.couplet"
place pit
relay K1 : Relay
cable W1 { cores: RD, WH, high-1  from: pit }
wire K1.11-14 -- W1.RD+WH -- W1.high-1.pit
`,
    'panel.couplet': PANEL,
  });
  const wire = workspace.file().statements.at(-1) as Wire;
  const chain = wire.elements.map((element) => resolveReference(element, workspace.services.references.Resolver));
  expect(chain.map((each) => each.complete)).toEqual([true, true, true]);
  expect(chain[0]?.steps[0]).toMatchObject({ sort: 'pole', first: { name: '11' }, second: { name: '14' } });
  expect(chain[1]?.steps[0]).toMatchObject({ sort: 'name', name: 'RD', doubled: [{ name: 'WH' }] });
  expect(chain[2]?.steps.map((step) => step.sort === 'name' && step.name)).toEqual(['high-1', 'pit']);
});
