/** Findings within assemblies: told once in the assembly where every use has them, else at the rows of those that do. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { analyse } from '@couplet/engine';
import {
  applyEdits,
  type CheckedSite,
  checkSites,
  mergeFindings,
  type ProjectFinding,
  proveFixes,
  type Workspace,
} from '@couplet/project';
import { run } from '@couplet/rules';
import { describe, expect, test } from 'vitest';
import { lowerText } from '../language/lower/site.ts';
import { asWritten, twins } from '../support/twins.ts';
import { FOLDER, MemoryReader, uri } from './memory.ts';

const PANEL = readFileSync(join(import.meta.dirname, '../../examples/types/panel-eight-zones.couplet'), 'utf8');

const SLOW = 120_000;

const SWITCH = 'contacts: break  contact-rating: 0.1 A @ 30 V  minimum-load: 10 uA @ 10 mV';

/** A door contact with its resistors; `RE` is to be given, so that it may be one that is not made. */
function door(re: string): string {
  return `type DoorLoop : assembly {
  given Z : zone
  given run : length
  switch S1 { ${SWITCH} }
  resistor RA = 4k7 +-1%
  resistor RE = ${re}
  cable W1 { cores: GN, YE  size: 0.22 mm2  length: run  from: Z  to: here  route: indoor }
  wire Z -- W1.GN -- S1.11-12 -- RE -- W1.YE -- Z.return
  wire S1.11 -- RA -- S1.12
  case opened { turn S1 open  expect Z alarm within 1 s }
}
`;
}

const USES = `assembly B01 : DoorLoop "Front door" { Z: panel.Z1  run: 40 m }
assembly B02 : DoorLoop "Kitchen door" { Z: panel.Z2  run: 52 m }
assembly B03 : DoorLoop "Yard door" { Z: panel.Z3  run: 95 m }
`;

function site(assemblies: string, uses: string): string {
  return `site "Doors" { blind: 50  blind-fitting: 50 }
${PANEL}${assemblies}place office { wet: no }
unit panel : PanelEightZones in office
${uses}`;
}

async function check(text: string): Promise<readonly ProjectFinding[]> {
  const reader = new MemoryReader({ 'site.couplet': text });
  for await (const one of checkSites({ reader, folder: FOLDER }, [uri('site.couplet')], { today: '2026-10-02' })) {
    return mergeFindings([one]);
  }
  return [];
}

/** Findings of a rule, each with the characters that it stands at and the line that holds them. */
async function told(text: string, code: string) {
  const lines = text.split('\n');
  const findings = (await check(text)).filter((each) => each.code === code);
  return findings.map(({ accepted, message, place, related, severity }) => ({
    severity,
    at: lines[place.start.line]?.slice(place.start.character, place.end.character),
    line: lines[place.start.line]?.trim().slice(0, 30),
    message,
    rows: related.map((each) => `${lines[each.place.start.line]?.trim().slice(0, 16)}: ${each.message.slice(0, 80)}`),
    ...(accepted === undefined ? {} : { because: accepted.because }),
  }));
}

const NOT_MADE =
  'RE = 2.30 kΩ is not a preferred value: it is not made with 1 % (E24 and E96), so that what is fitted will be another value than what was computed. The nearest is 2k32 (the next one is 2k26).';

describe('what every use has', () => {
  test('is told once, in the assembly, in words without the names of the uses; the uses stand beside it', async () => {
    expect(await told(site(door('2k3 +-1%'), USES), 'value-not-preferred')).toEqual([
      {
        severity: 'warning',
        at: '2k3 +-1%',
        line: 'resistor RE = 2k3 +-1%',
        message: `${NOT_MADE} So it is in every use of DoorLoop: B01, B02, B03.`,
        rows: [
          'assembly B01 : D: B01 is a use of DoorLoop',
          'assembly B02 : D: B02 is a use of DoorLoop',
          'assembly B03 : D: B03 is a use of DoorLoop',
        ],
      },
    ]);
  });

  test('with figures of its own in each use keeps the words of the gravest, and each row its own', async () => {
    const long = USES.replace('run: 40 m', 'run: 1300 m').replace('run: 52 m', 'run: 1400 m').replace('95 m', '1500 m');
    const found = await told(site(door('2k2 +-1%'), long), 'loop-resistance-high');
    expect(found).toMatchObject([
      {
        line: 'wire Z -- W1.GN -- S1.11-12 --',
        message: expect.stringMatching(
          / 246\.5 Ω into the loop of panel\.Z1.* So it is in B01; every use of DoorLoop has the like: B01, B02, B03\.$/,
        ),
        rows: [
          'cable W1 { cores: W1 is in this loop',
          expect.stringMatching(/^assembly B01 : D: B01: .* 246\.5 Ω/),
          expect.stringMatching(/^assembly B02 : D: B02: .* 265\.5 Ω/),
          expect.stringMatching(/^assembly B03 : D: B03: .* 284\.5 Ω/),
        ],
      },
    ]);
  });

  test('is told in the assembly too where there is one use, in its own words', async () => {
    const [only, ...further] = await told(
      site(door('2k3 +-1%'), 'assembly B01 : DoorLoop { Z: panel.Z1  run: 40 m }\n'),
      'value-not-preferred',
    );
    expect(further).toEqual([]);
    expect(only).toMatchObject({ at: '2k3 +-1%', message: `B01.${NOT_MADE}` });
  });

  test('names no more than a dozen uses', async () => {
    const panels = Array.from({ length: 3 }, (_, n) => `unit p${n} : PanelEightZones in office\n`).join('');
    const rows = Array.from({ length: 20 }, (_, n) => {
      const zone = `p${Math.floor(n / 8)}.Z${(n % 8) + 1}`;
      return `assembly B${n + 1} : DoorLoop { Z: ${zone}  run: 40 m }\n`;
    }).join('');
    const [finding, ...further] = await told(site(door('2k3 +-1%'), panels + rows), 'value-not-preferred');
    expect(further).toEqual([]);
    expect(finding?.message).toMatch(/every use of DoorLoop: B1, B2, .*, B12 and 8 more\.$/);
    expect(finding?.rows).toHaveLength(12);
  });
});

describe('what some uses have', () => {
  test('stands at what the use overrides by a dotted name, and names the part', async () => {
    const overridden = USES.replace('run: 95 m', 'run: 95 m  S1.minimum-load: 10 mA @ 5 V');
    const found = await told(site(door('2k2 +-1%'), overridden), 'contact-below-minimum-load');
    expect(found).toHaveLength(1);
    expect(found[0]?.message).toMatch(/^B03\.S1\.11-12 carries /);
    expect(found[0]?.line).toContain('assembly B03 : DoorLoop');
  });

  test('stands at the row of the use, with what the assembly says beside it', async () => {
    const uses = USES.replace('B03 : DoorLoop "Yard door" {', 'B03 : DoorLoop "Yard door" { RE.role: fire-detection ');
    const found = await told(site(door('2k2 +-1%'), uses), 'safety-function-interposed');
    expect(found.map(({ line }) => line?.slice(0, 12))).toEqual(['assembly B03']);
  });

  test('follows from what the use is given', async () => {
    const uses = USES.replace('run: 95 m', 'run: 2500 m');
    const found = await told(site(door('2k2 +-1%'), uses), 'loop-resistance-high');
    expect(found).toHaveLength(1);
    expect(found[0]?.message).toContain('B03');
    expect(found[0]?.line).toContain('assembly B03');
  });
});

describe('assemblies in assemblies', () => {
  const PAIR = `type Pair : assembly {
  given ZA : zone
  given ZB : zone
  assembly L : DoorLoop { Z: ZA  run: 10 m }
  assembly R : DoorLoop { Z: ZB  run: 12 m }
}
`;
  const PAIRS = `assembly P : Pair { ZA: panel.Z1  ZB: panel.Z2 }
assembly Q : Pair { ZA: panel.Z3  ZB: panel.Z4 }
`;

  test('what all uses of the inner one have is told there', async () => {
    const found = await told(site(door('2k3 +-1%') + PAIR, PAIRS), 'value-not-preferred');
    expect(found).toMatchObject([
      { at: '2k3 +-1%', message: `${NOT_MADE} So it is in every use of DoorLoop: P.L, P.R, Q.L, Q.R.` },
    ]);
  });

  test('what one row of the outer one brings about in all of its uses is told at that row', async () => {
    const pair = PAIR.replace('run: 12 m', 'run: 2500 m');
    const found = await told(site(door('2k2 +-1%') + pair, PAIRS), 'loop-resistance-high');
    expect(found).toHaveLength(1);
    expect(found[0]?.line).toContain('assembly R : DoorLoop');
    expect(found[0]?.message).toContain('every use of Pair');
  });

  test('what one use alone has is told at its row in the site', async () => {
    const pairs = PAIRS.replace('ZB: panel.Z4', 'ZB: panel.Z4  R.run: 2500 m');
    const found = await told(site(door('2k2 +-1%') + PAIR, pairs), 'loop-resistance-high');
    expect(found).toHaveLength(1);
    expect(found[0]?.line).toContain('assembly Q : Pair');
    expect(found[0]?.message).toContain('Q.R');
  });
});

describe('acceptances', () => {
  const SAID = 'because "stock"\n';

  test('for the part of the assembly hold for all uses, and are told once', async () => {
    const found = await told(
      site(door('2k3 +-1%'), `${USES}accept value-not-preferred on DoorLoop.RE ${SAID}`),
      'value-not-preferred',
    );
    expect(found).toMatchObject([{ at: '2k3 +-1%', because: 'stock' }]);
  });

  test('in the assembly hold for all uses, and one that matches nothing is told once, where it is written', async () => {
    const accepting = (rule: string) =>
      site(door('2k3 +-1%').replace('  case opened', `  accept ${rule} on RE ${SAID}  case opened`), USES);
    expect(await told(accepting('value-not-preferred'), 'value-not-preferred')).toMatchObject([
      { at: '2k3 +-1%', because: 'stock', message: expect.stringContaining('every use of DoorLoop: B01, B02, B03.') },
    ]);
    expect(await told(accepting('coil-unsuppressed'), 'acceptance-stale')).toMatchObject([
      { at: 'accept coil-unsuppressed on RE because "stock"' },
    ]);
  });

  test('in the assembly are not stale as long as they match in one of its uses', async () => {
    const accepting = door('2k2 +-1%').replace(
      '  case opened',
      `  accept value-not-preferred on RE ${SAID}  case opened`,
    );
    const one = site(accepting, USES.replace(/(B02 : DoorLoop[^{]*\{)/, '$1 RE.rating: 2k3 +-1% '));
    expect(await told(one, 'value-not-preferred')).toMatchObject([{ because: 'stock' }]);
    expect(await told(one, 'acceptance-stale')).toEqual([]);
    expect(await told(site(accepting, USES), 'acceptance-stale')).toHaveLength(1);
  });

  test('for one use leave the others, each at its row', async () => {
    const found = await told(
      site(door('2k3 +-1%'), `${USES}accept value-not-preferred on B02.RE ${SAID}`),
      'value-not-preferred',
    );
    expect(found.map(({ because, at }) => [at, because])).toEqual([
      ['B01', undefined],
      ['B02', 'stock'],
      ['B03', undefined],
    ]);
  });
});

describe('what the language finds in an assembly', () => {
  test('is told once, in the assembly', async () => {
    const wrong = door('2k2 +-1%').replace('turn S1 open', 'turn S1 operated');
    const found = (await check(site(wrong, USES))).filter(({ severity }) => severity === 'error');
    expect(found.map(({ code }) => code)).toEqual(['state-wrong']);
  });
});

describe('quick fixes', () => {
  /** Lines that the first proven fix of a finding takes away and puts in. */
  async function fixed(text: string, code: string): Promise<{ title: string; lines: readonly string[] }> {
    const workspace: Workspace = { reader: new MemoryReader({ 'site.couplet': text }), folder: FOLDER };
    const sites: CheckedSite[] = [];
    for await (const one of checkSites(workspace, [uri('site.couplet')], { today: '2026-10-02' })) sites.push(one);
    const finding = sites.flatMap(({ findings }) => findings).find((each) => each.code === code && !each.accepted);
    const [fix] = await proveFixes(workspace, sites, finding as ProjectFinding, { today: '2026-10-02' });
    const [before, now] = [text, applyEdits(text, fix?.edits ?? []) ?? ''].map((each) => each.split('\n'));
    const gone = before?.filter((line) => !now?.includes(line)).map((line) => `- ${line.trim()}`) ?? [];
    const come = now?.filter((line) => !before?.includes(line)).map((line) => `+ ${line.trim()}`) ?? [];
    return { title: fix?.title ?? '', lines: [...gone, ...come] };
  }

  test('mend what every use has in the assembly', async () => {
    expect(await fixed(site(door('2k3 +-1%'), USES), 'value-not-preferred')).toEqual({
      title: 'Use 2k32 for RE',
      lines: ['- resistor RE = 2k3 +-1%', '+ resistor RE = 2k32 +-1%'],
    });
  });

  test('override what one use has in its row, and leave the others', async () => {
    const accepted = ['B01', 'B03'].map((use) => `accept value-not-preferred on ${use}.RE because "stock"\n`).join('');
    expect(await fixed(site(door('2k3 +-1%'), USES + accepted), 'value-not-preferred')).toEqual({
      title: 'Use 2k32 for B02.RE',
      lines: [
        '- assembly B02 : DoorLoop "Kitchen door" { Z: panel.Z2  run: 52 m }',
        '+ assembly B02 : DoorLoop "Kitchen door" { Z: panel.Z2  run: 52 m  RE.rating: 2k32 +-1% }',
      ],
    });
  });

  test('override in the row of the outer assembly what all of its uses have by that row', async () => {
    const pair = `type Pair : assembly {
  given ZA : zone
  given ZB : zone
  assembly L : DoorLoop { Z: ZA  run: 10 m }
  assembly R : DoorLoop { Z: ZB  run: 12 m }
}
`;
    const uses = `assembly P : Pair { ZA: panel.Z1  ZB: panel.Z2 }
assembly Q : Pair { ZA: panel.Z3  ZB: panel.Z4 }
accept value-not-preferred on P.L.RE because "stock"
accept value-not-preferred on Q.L.RE because "stock"
`;
    expect(await fixed(site(door('2k3 +-1%') + pair, uses), 'value-not-preferred')).toEqual({
      title: 'Use 2k32 for R.RE',
      lines: [
        '- assembly R : DoorLoop { Z: ZB  run: 12 m }',
        '+ assembly R : DoorLoop { Z: ZB  run: 12 m  RE.rating: 2k32 +-1% }',
      ],
    });
  });
});

describe('a half-typed assembly', () => {
  const text = site(door('2k2 +-1%'), USES);
  const lines = text.split('\n');
  const first = lines.findIndex((line) => line.startsWith('type DoorLoop'));
  const last = lines.length - 1;

  test.each(Array.from({ length: last - first }, (_, n) => first + n).filter((n) => n % 2 === 0))(
    'without its line %i has findings at places that exist, none of them twice',
    async (at) => {
      const found = await check(lines.filter((_, n) => n !== at).join('\n'));
      const keys = found.map(
        ({ code, message, place }) => `${code} ${place.start.line} ${place.start.character} ${message}`,
      );
      expect(new Set(keys).size).toBe(keys.length);
      for (const { message, place, related } of found) {
        expect(message).not.toMatch(/NaN|undefined/);
        for (const each of [place, ...related.map((beside) => beside.place)]) {
          expect(each.start.line).toBeLessThan(lines.length);
          expect(each.uri).toBe(uri('site.couplet'));
        }
      }
    },
    SLOW,
  );
});

describe('a site of assemblies and the same site written out', () => {
  test(
    'have the same findings, in the words for each part',
    async () => {
      const { assemblies, written } = twins(24);
      const [one, other] = await Promise.all([judged(assemblies), judged(written)]);
      expect(other.length).toBeGreaterThan(24);
      expect(one).toEqual(other);
    },
    SLOW,
  );
});

/** What the rules find, before anything is told once: rule, severity, case and words, with the names of the twin. */
async function judged(text: string): Promise<string[]> {
  const { design } = lowerText(text);
  const result = run(design, analyse(design), { today: '2026-10-02' });
  return [...result.findings, ...result.accepted]
    .map(({ caseName, message, rule, severity }) => asWritten(`${severity} ${rule} ${caseName ?? ''} ${message}`))
    .sort();
}
