/** A site lowered again with what it lowered to before is the site lowered anew. */
import { type CoupletFile, type Lowered, LoweringMemory, lower } from '@couplet/language';
import fc from 'fast-check';
import type { LangiumDocument } from 'langium';
import { describe, expect, test } from 'vitest';
import '../../support/seed.ts';
import { said } from './design.ts';
import { example, SITES } from './examples.ts';
import { findingsOf, parseBroken } from './site.ts';

const ROOT = 'memory:///site.couplet';

/** A site whose files change one at a time; the trees of the others stay. */
class Edited {
  readonly memory = new LoweringMemory();
  private readonly documents = new Map<string, LangiumDocument<CoupletFile>>();

  constructor(files: Readonly<Record<string, string>>) {
    for (const [name, text] of Object.entries(files)) this.write(name, text);
  }

  write(name: string, text: string): void {
    this.documents.set(name, parseBroken({ [name]: text })[0] as LangiumDocument<CoupletFile>);
  }

  lowered(memory: LoweringMemory | undefined = this.memory): Lowered {
    return lower([...this.documents.values()], ROOT, { memory });
  }

  anew(): Lowered {
    return lower([...this.documents.values()], ROOT);
  }
}

/** What a design says, where each of its parts, ends, joins and cases stands, and what is found. */
function told(lowered: Lowered) {
  const { design } = lowered;
  const at = (origin: number) => {
    const place = lowered.place(origin);
    return (
      place && `${place.uri} ${place.start.line}:${place.start.character}-${place.end.line}:${place.end.character}`
    );
  };
  const terminal = (id: number) => design.terminals[id]?.name;
  for (const [index, { id }] of design.components.entries()) expect(id).toBe(index);
  for (const [index, { id }] of design.terminals.entries()) expect(id).toBe(index);
  return {
    said: said(design),
    components: design.components.map(({ name, origin }) => `${name} ${at(origin)}`).sort(),
    terminals: design.terminals.map(({ name, origin }) => `${name} ${at(origin)}`).sort(),
    joins: design.joins.map(({ a, b, origin }) => `${terminal(a)} ${terminal(b)} ${at(origin)}`).sort(),
    cases: design.cases.map(({ name, origin }) => `${name} ${at(origin)}`).sort(),
    uncomputed: design.uncomputed.map(({ what, origin }) => `${what} ${at(origin)}`).sort(),
    earth: design.earth === undefined ? undefined : terminal(design.earth),
    findings: findingsOf(lowered).sort(),
  };
}

const TYPES = `type Controller : unit {
  rail V12 { volts: 11 V .. 12 V .. 14 V  limit: 1 A  return: GND }
  common GND { earthed: no }
  output Q1 { style: sink  return: GND  rated: 1 A  drop: 0.5 V }
}
`;

/** Files that do not name each other's parts, but for what a test changes. */
const part = (n: number, watts = '5 W') => `unit U${n} : Controller in pit
load P${n} = ${watts} @ 12 V in pit { works: 10 V .. 15 V }
wire U${n}.V12 -- P${n} -- U${n}.Q1
case on${n} {
  turn U${n}.Q1 on
  expect P${n} on
}
`;

const FILES = {
  'site.couplet': `site "Mill" { blind: 3 }
use "types.couplet"
use "a.couplet"
use "b.couplet"
use "c.couplet"
place pit { ambient: 5 degC .. 30 degC }
`,
  'types.couplet': TYPES,
  'a.couplet': part(1),
  'b.couplet': part(2),
  'c.couplet': part(3),
};

describe('what is lowered again', () => {
  const componentsOf = (lowered: Lowered) => new Map(lowered.design.components.map((each) => [each.name, each]));

  /** Parts that are the very ones of the time before. */
  function kept(files: Readonly<Record<string, string>>, name: string, text: string): string[] {
    const site = new Edited(files);
    const before = componentsOf(site.lowered());
    site.write(name, text);
    const after = site.lowered();
    expect(told(after)).toEqual(told(site.anew()));
    return ['P1', 'P2', 'P3'].filter((each) => {
      const now = componentsOf(after).get(each);
      return now !== undefined && now === before.get(each);
    });
  }

  test('is the file with the change alone', () => {
    expect(kept(FILES, 'b.couplet', part(2, '6 W'))).toEqual(['P1', 'P3']);
  });

  test('is a file with what names its parts', () => {
    const files = { ...FILES, 'c.couplet': `${part(3)}wire P2.plus -- P3.plus\n` };
    expect(kept(files, 'b.couplet', part(2, '6 W'))).toEqual(['P1']);
  });

  test('is what is named from now on', () => {
    expect(kept(FILES, 'c.couplet', `${part(3)}program U2.Q1 peak = 2 A\n`)).toEqual(['P1']);
  });

  test('is what had been named until now', () => {
    const files = { ...FILES, 'c.couplet': `${part(3)}program U2.Q1 peak = 2 A\n` };
    expect(kept(files, 'c.couplet', part(3))).toEqual(['P1']);
  });

  test('is everything when a type, a place or a named value changes', () => {
    expect(kept(FILES, 'types.couplet', TYPES.replace('0.5 V', '0.7 V'))).toEqual([]);
    expect(kept(FILES, 'site.couplet', FILES['site.couplet'].replace('30 degC', '40 degC'))).toEqual([]);
    const files = {
      ...FILES,
      'a.couplet': `${part(1)}value LOW = 10 V\n`,
      'b.couplet': part(2).replace('10 V', 'LOW'),
    };
    expect(kept(files, 'a.couplet', `${part(1)}value LOW = 9 V\n`)).toEqual([]);
  });

  test('is what stands behind a new part, for its number', () => {
    expect(kept(FILES, 'b.couplet', `${part(2)}resistor R = 2k2\n`)).toEqual(['P1']);
  });

  test('is everything where an acceptance is for a type, or a type names a part', () => {
    const accepting = `${part(3)}accept output-overloaded on Controller because "tried"\n`;
    expect(kept({ ...FILES, 'c.couplet': accepting }, 'b.couplet', part(2, '6 W'))).toEqual([]);
    const naming = TYPES.replace('drop: 0.5 V', 'drop: 0.5 V  follows: K confirmed');
    const files = { ...FILES, 'types.couplet': naming, 'a.couplet': `${part(1)}confirm K = U1.Q1, U1.V12\n` };
    expect(kept(files, 'b.couplet', part(2, '6 W'))).toEqual([]);
  });

  test('earth and the case at rest are one, whichever files speak of them', () => {
    const files = {
      ...FILES,
      'a.couplet': `${part(1)}bond U1.GND -- earth because "one"\ncase rest { expect P1 off }\n`,
      'c.couplet': `${part(3)}bond U3.GND -- earth because "two"\ncase rest { expect P3 off }\n`,
    };
    expect(kept(files, 'b.couplet', part(2, '6 W'))).toEqual(['P1', 'P3']);
    expect(kept(files, 'a.couplet', files['a.couplet'].replace('5 W', '6 W'))).toEqual(['P2']);
  });

  test('uses of assemblies are told together', () => {
    const type = 'type Lamp : assembly {\n  load L { style: resistive }\n}\n';
    const uses = (n: number) => `${part(n)}assembly A${n} : Lamp in pit\n`;
    const files = { ...FILES, 'types.couplet': TYPES + type, 'a.couplet': uses(1), 'c.couplet': uses(3) };
    expect(kept(files, 'b.couplet', part(2, '6 W'))).toEqual([]);
  });
});

test.each(SITES)('%s, lowered with a memory', (name) => {
  const files = Object.entries(example(name)).map(([path, text]): [string, string] =>
    path.endsWith('/site.couplet') ? ['site.couplet', text.replaceAll('"../types/', '"types/')] : [path, text],
  );
  const site = new Edited(Object.fromEntries(files));
  expect(told(site.lowered())).toEqual(told(site.anew()));
  expect(told(site.lowered())).toEqual(told(site.anew()));
});

test('any edits, one after the other', () => {
  /** Statements that files may have besides their own; they name parts of their own and of other files, or nothing. */
  const extras = [
    'resistor R = 2k2\n',
    'place hall\n',
    'value LOW = 9 V\n',
    'spare P1.plus\n',
    'wire P1.minus -- P3.minus\n',
    'wire U2.V12 -- R -- U2.GND\n',
    'bond U1.GND -- earth because "noise"\n',
    'bond U3.GND -- earth because "noise"\n',
    'case rest { expect P2 off }\n',
    'case rest { expect P1 off }\n',
    'case again after on1 { turn U2.Q1 on }\n',
    'case on2 { expect P2 off }\n',
    'load P2 = 3 W @ 12 V in pit\n',
    'program U1 "Beacon time" = 90 s\n',
    'program U1.Q1 rest = on\n',
    'accept output-overloaded on P3 because "tried"\n',
    'accept output-overloaded on Controller because "tried"\n',
    'load PX = LOW in hall\n',
    'load PY = 5 W @ 24 V ac\n',
    'wire nowhere.V12 -- P1\n',
    'resistor\n',
  ];
  const edit = fc.record({
    file: fc.constantFrom('a', 'b', 'c'),
    watts: fc.constantFrom('5 W', '6 W', '0.5 W'),
    extra: fc.subarray(extras, { maxLength: 3 }),
  });
  fc.assert(
    fc.property(fc.array(edit, { minLength: 1, maxLength: 6 }), (edits) => {
      const site = new Edited(FILES);
      site.lowered();
      for (const { extra, file, watts } of edits) {
        site.write(`${file}.couplet`, part('abc'.indexOf(file) + 1, watts) + extra.join(''));
        expect(told(site.lowered())).toEqual(told(site.anew()));
      }
    }),
    { numRuns: 150 },
  );
}, 60_000);
