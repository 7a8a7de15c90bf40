/** Units of which nobody can say whether they have supply: followed both ways, or not evaluated, never taken for granted. */
import { type Analysis, analyse, type ComponentId, faultTable } from '@couplet/engine';
import { checkSites, mergeFindings } from '@couplet/project';
import { describe, expect, test } from 'vitest';
import { lowerText } from '../language/lower/site.ts';
import { FOLDER, MemoryReader, uri } from './memory.ts';

interface Choices {
  readonly volts: string;
  readonly unpowered?: string;
  readonly horn?: string;
}

/**
 * A detector at the far end of 80 m, fed through two cores of 80 Ω/km: 6.4 Ω each, on which its 60 mA drop
 * 60 mA · 2 · 6.4 Ω = 0.768 V. It works from 10.5 V, below which its current falls in proportion: of 11 V it gets
 * 11 V / (1 + 12.8 Ω · 60 mA / 10.5 V) = 10.25 V; its contact opens to report and, mostly, without supply.
 */
function site({ volts, unpowered = 'open', horn }: Choices): string {
  const wired = horn === undefined ? 'spare gauge.Q1' : `${horn}\nwire gauge.P -- H1 -- gauge.Q1`;
  return `site "Ferry kiosk" { ambient: 20 degC }
place kiosk
place quay
type TideGauge : unit {
  supply IN { plus: P  minus: M  works: 10.5 V .. 30 V  draws: 60 mA }
  output Q1 { style: sink  return: M  rated: 500 mA  drop: 0.5 V  leak: 0 A  withstands: 40 V  at-power-up: off }
  contact ALARM { from: A1  to: A2  rest: closed  unpowered: ${unpowered}  rating: 1 A @ 30 V  minimum-load: 1 mA @ 5 V }
}
type Dialler : unit {
  common ZC { earthed: no }
  zone Z1 { feed: 5 V via 1k  return: ZC  bands { normal: below 3 V  alarm: above 3 V } }
}
supply PS1 in kiosk { volts: ${volts}  limit: 1 A  earthed: no }
unit gauge : TideGauge in quay
unit dial : Dialler in kiosk
cable W1 { cores: RD, BK, GN, YE  size: 0.22 mm2  core-ohms: 80 ohm/km  length: 80 m  from: kiosk  to: quay }
wire PS1.plus -- W1.RD -- gauge.P
wire PS1.minus -- W1.BK -- gauge.M
wire dial.Z1 -- W1.GN -- gauge.ALARM -- W1.YE -- dial.ZC
${wired}
case tide { turn gauge.ALARM open  expect dial.Z1 alarm }
case calm { turn gauge.Q1 on  expect dial.Z1 normal }
`;
}

function analysed(choices: Choices): Analysis {
  return analyse(lowerText(site(choices)).design);
}

function idOf({ design }: Pick<Analysis, 'design'>, name: string): ComponentId {
  return design.components.find((part) => part.name === name)!.id;
}

async function findingsOf(text: string) {
  const reader = new MemoryReader({ 'site.couplet': text });
  const sites = [];
  for await (const one of checkSites({ reader, folder: FOLDER }, [uri('site.couplet')], { today: '2026-10-02' })) {
    sites.push(one);
  }
  return mergeFindings(sites);
}

/** What the zone may read at rest, the usual class first. */
function atRest(analysis: Analysis): readonly (string | undefined)[] {
  const [rest] = analysis.cases;
  return rest!.moments.at(-1)!.reading(idOf(analysis, 'dial.Z1')).possible;
}

describe('corners of the supply on both sides of what a unit works at', () => {
  test.each([
    ['12 V .. 13 V', ['normal'], 'at least 11.23 V'],
    ['11 V .. 12 V .. 13 V', ['normal', 'alarm'], 'at least 10.25 V, usually 11.23 V'],
    ['10 V .. 11 V .. 13 V', ['alarm', 'normal'], 'usually 10.25 V, at most 13 V'],
    ['8 V .. 9 V .. 10 V', ['alarm'], 'at most 10 V'],
  ])('%s: the zone reads %j (%s)', (volts, classes) => {
    expect(atRest(analysed({ volts }))).toEqual(classes);
  });

  test('a contact that stays as it is without supply says the same both ways', () => {
    expect(atRest(analysed({ volts: '11 V .. 12 V .. 13 V', unpowered: 'unchanged' }))).toEqual(['normal']);
  });

  test('an output does what it is turned to, or nothing', () => {
    const analysis = analysed({ volts: '11 V .. 12 V .. 13 V' });
    const output = idOf(analysis, 'gauge.Q1');
    const calm = analysis.cases.find(({ name }) => name === 'calm')!;
    expect(analysis.cases[0]!.moments.at(-1)!.states(output)).toEqual(['off', 'unpowered']);
    expect(calm.moments.at(-1)!.states(output)).toEqual(['on', 'unpowered']);
  });

  test('what the unit feeds itself is not followed, and that is said', () => {
    const fed = site({ volts: '11 V .. 12 V .. 13 V' })
      .replace('common ZC', 'supply IN { plus: P  minus: ZC  works: 11.5 V .. 15 V  draws: 60 mA }\n  common ZC')
      .replace('wire dial.Z1', 'wire PS1.plus -- dial.P\nwire PS1.minus -- dial.ZC\nwire dial.Z1');
    const details = analyse(lowerText(fed).design).problems.map(({ detail }) => detail);
    expect(details).toContain('dial.IN may see less than its working volts; what it feeds itself then is not followed');
    expect(details.filter((detail) => detail.startsWith('gauge.IN'))).toEqual([]);
  });

  test('it is found with the zone as its consequence, and nothing is left uncomputed', async () => {
    const findings = await findingsOf(site({ volts: '11 V .. 12 V .. 13 V' }));
    expect(findings.map(({ code }) => code)).not.toContain('not-computed-yet');
    const low = findings.find(({ code }) => code === 'load-undervoltage')!;
    expect(low.message).toMatch(/^gauge\.IN gets 10\.3 V at least at rest .* 250 mV less/);
    expect(low.related.map(({ message }) => message).join('\n')).toMatch(/dial\.Z1 reads .* may be reported as alarm/);
  });
});

describe('a datum is missing of what hangs on the same feed', () => {
  const UNKNOWN = 'load H1 = 80 mA @ 12 V in quay "Horn" { works: 9 V .. 15 V }';
  const KNOWN = 'load H1 = 80 mA @ 12 V in quay "Horn" { style: constant-current  works: 9 V .. 15 V }';

  function classes(horn: string): ReadonlyMap<string, string> {
    const { design } = lowerText(site({ volts: '13 V', horn }));
    const { zones } = faultTable(design);
    const { rows } = zones.find(({ zone }) => zone === idOf({ design }, 'dial.Z1'))!;
    return new Map(rows.map((row) => [row.fault.name, row.class]));
  }

  test('what a lost supply shows is not evaluated, and told once the datum is there', () => {
    const unknown = classes(UNKNOWN);
    const known = classes(KNOWN);
    for (const fault of ['PS1 lost', 'W1.RD cut', 'W1.BK cut']) {
      expect(unknown.get(fault), fault).toBe('not-evaluated');
      expect(known.get(fault), fault).toBe('announced');
    }
    // The loop itself hangs on none of it.
    expect(unknown.get('W1.GN cut')).toBe('announced');
  });

  test('at rest the unit is taken to work; what is switched on its feed after that may take its supply away', () => {
    const analysis = analysed({ volts: '13 V', horn: UNKNOWN });
    expect(atRest(analysis)).toEqual(['normal']);
    const calm = analysis.cases.find(({ name }) => name === 'calm')!;
    const zone = idOf(analysis, 'dial.Z1');
    expect(calm.moments.at(-1)!.reading(zone).ohms).toMatchObject({ sort: 'not-evaluated' });
    expect(calm.verdicts.map(({ holds }) => holds)).toEqual(['not-evaluated']);
  });
});

describe('what a unit switches on hangs on its own feed', () => {
  const horn = (amps: string) =>
    `load H1 = ${amps} @ 12 V in quay "Horn" { style: constant-current  works: 9 V .. 15 V }`;

  test('all words that are possible are told, and what is neither comes last', async () => {
    const text = site({ volts: '11 V .. 12 V .. 13 V', horn: horn('80 mA') }).replace(
      'turn gauge.Q1 on  expect dial.Z1 normal',
      'turn gauge.Q1 on  expect H1 on',
    );
    const said = (await findingsOf(text)).flatMap(({ related }) => related.map(({ message }) => message));
    expect(said.join('\n')).toMatch(/H1 on is expected; computed: off, on or neither on nor off\./);
  });

  test('where that takes its supply down at the usual figures, it finds no rest', async () => {
    // 13 V less (60 + 250) mA · 12.8 Ω = 9.03 V, below 10.5 V; without the horn 12.23 V.
    const found = await findingsOf(site({ volts: '13 V', horn: horn('250 mA') }));
    expect(found.find(({ code }) => code === 'relay-oscillates')?.message).toBe(
      'gauge finds no state to rest in (case calm, after gauge.Q1 on): what it switches on takes its own supply down, and ' +
        'without supply it switches it off again. Feed gauge, or what it switches, from another supply.',
    );
  });
});
