import { describe, expect, test } from 'vitest';
import { tidewater } from '../../support/tidewater.ts';
import { said } from './design.ts';
import { example } from './examples.ts';
import { findingsOf, joinsOf, lowerText, partOf, placeOf } from './site.ts';

const files = example('tidewater-mill');
const lowered = lowerText(files);
const { design } = lowered;

describe('Tidewater Mill', () => {
  test('lowers without a finding, and nothing of it is uncomputed', () => {
    expect(findingsOf(lowered)).toEqual([]);
    expect(design.uncomputed).toEqual([]);
    expect(design.fragment).toBe(false);
    expect(design.site.title).toBe('Tidewater Mill');
    expect(design.site.blind).toMatchObject({ usual: 3 });
  });

  test('says what the same site says that is written by hand', () => {
    const byHand = said(tidewater(0.1).build());
    const byText = said(design);
    expect(byText.joins).toEqual(byHand.joins);
    expect(byText.spare).toEqual(byHand.spare);
    expect(byText.terminals).toMatchObject(
      Object.fromEntries(Object.keys(byHand.terminals as object).map((name) => [name, {}])),
    );
    const {
      'unit level': level,
      'unit panel': panel,
      ...parts
    } = byHand.components as Record<string, Record<string, unknown>>;
    // Hand-written units have no settings.
    expect((byText.components as Record<string, object>)['unit level']).toMatchObject({ members: level?.members });
    expect((byText.components as Record<string, object>)['unit panel']).toMatchObject({ members: panel?.members });
    for (const [name, part] of Object.entries(parts)) {
      // Hand-written zones have bands of their own, and a hand-written inrush is exact where a written one is a bound.
      const { scheme, inrush, ...facts } = part;
      expect(inrush === undefined).toBe(name !== 'load P1');
      expect({ [name]: (byText.components as Record<string, object>)[name] }).toMatchObject({ [name]: facts });
      if (scheme !== undefined) expect((scheme as { bands: unknown }).bands).toEqual(bandsOf(byText, name));
    }
    const { cases } = byText as { cases: Record<string, { steps: unknown }> };
    for (const [name, { steps }] of Object.entries((byHand as { cases: Record<string, { steps: unknown }> }).cases)) {
      expect({ [name]: cases[name]?.steps }).toEqual({ [name]: steps });
    }
  });

  test('joins in the order of the chains', () => {
    expect(joinsOf(design)).toEqual([
      'K1.11 RA.1',
      'K1.14 RE.1',
      'K1.A2 level.Q1',
      'P1.minus level.Q2',
      'RA.2 K1.14',
      'RE.2 W1.YE.pit',
      'W1.GN.pit K1.11',
      'W1.YE.mill panel.ZC',
      'level.V12 K1.A1',
      'level.V12 P1.plus',
      'panel.Z4 W1.GN.mill',
    ]);
  });

  test('finds the places of resistors and of the ends of cores', () => {
    expect(placeOf(design, 'RE.1')).toBe('pit');
    expect(placeOf(design, 'RA.2')).toBe('pit');
    expect(placeOf(design, 'W1.YE.pit')).toBe('pit');
    expect(placeOf(design, 'W1.YE.mill')).toBe('mill');
    expect(placeOf(design, 'panel.ZC')).toBe('mill');
    expect(partOf(design, 'RE', 'resistor').place).toBe(design.places.findIndex((place) => place.name === 'pit'));
  });

  test('knows where every number was written', () => {
    const { rated, drop } = partOf(design, 'level.Q1', 'output');
    expect(textAt(rated?.origin)).toBe('200 mA');
    expect(textAt(drop?.origin)).toBe('0.5 V');
    expect(textAt(partOf(design, 'W1.GN', 'core').ohms?.origin)).toBe('95 ohm/km');
    expect(textAt(partOf(design, 'level.Q1', 'output').rest.origin)).toBe('on');
    const join = design.joins.find((each) => design.terminals[each.b]?.name === 'K1.11');
    expect(textAt(join?.origin)).toBe('W1.GN -- K1.11-14');
    expect(lowered.place(-1)).toBeUndefined();
  });

  test('keeps nothing of the trees', () => {
    const seen = new Set<unknown>();
    const nodes = (value: unknown): string[] => {
      if (typeof value !== 'object' || value === null || seen.has(value)) return [];
      seen.add(value);
      const own = '$type' in value || '$cstNode' in value ? [String((value as { $type: unknown }).$type)] : [];
      return [...own, ...Object.values(value).flatMap(nodes)];
    };
    expect(nodes([design, lowered.findings])).toEqual([]);
    expect(seen.size).toBeGreaterThan(100);
  });

  test('marks what it assumes', () => {
    expect(partOf(design, 'K1', 'relay').holds?.assumption).toBe(
      'holds taken equal to operates (common practice, no source)',
    );
    expect(partOf(design, 'K1.11-14', 'contact').ohms.assumption).toBe(
      'contact-ohms taken as 0.1 ohm (common practice, no source)',
    );
    expect(partOf(design, 'P1', 'load').works?.assumption).toBe('works: middle of its range taken as usual');
    expect(design.places[0]?.ambient).toMatchObject({ least: -5, usual: 20, most: 40 });
    expect(partOf(design, 'level.V12', 'source').volts?.assumption).toBeUndefined();
  });

  test('takes what is programmed, and keeps all settings for their sheet', () => {
    expect(partOf(design, 'level.Q1', 'output').rest.word).toBe('on');
    expect(partOf(design, 'panel.Z4', 'zone').scheme?.name).toBe('double');
    const settings = partOf(design, 'level', 'unit').settings.map(({ name, text }) => `${name} = ${text}`);
    expect(settings).toEqual(['Beacon time = 90 s', 'Q1 rest = on']);
  });

  test('keeps readings and acceptances', () => {
    expect(design.readings).toHaveLength(2);
    expect(design.readings[1]).toMatchObject({
      case: 'high-water',
      quantity: 'volts',
      value: 2.98,
      date: '2026-10-02',
      with: 'meter 7',
    });
    expect(design.acceptances.map(({ rule, targetName, until }) => [rule, targetName, until])).toEqual([
      ['leakage-masks-alarm', 'panel.Z4', '2028-01-31'],
      ['line-unprotected', 'W1', '2028-01-31'],
    ]);
  });
});

function bandsOf(text: Record<string, unknown>, name: string): unknown {
  return (text.components as Record<string, { scheme: { bands: unknown } }>)[name]?.scheme.bands;
}

function textAt(origin: number | undefined): string | undefined {
  const place = lowered.place(origin ?? -1);
  if (place === undefined) return undefined;
  const name = Object.keys(files).find((each) => place.uri.endsWith(each));
  const line = (files[name ?? ''] ?? '').split('\n')[place.start.line];
  return line?.slice(place.start.character, place.end.character);
}
