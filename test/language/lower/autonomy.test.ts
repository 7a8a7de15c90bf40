/** How long batteries carry which cases, and what batteries and chargers say of themselves. */
import { describe, expect, test } from 'vitest';
import { findingsOf, lowerText, partOf } from './site.ts';

const PARTS = `site "S"
battery B1 = 12 V, 7 Ah
supply G1 = 12 V, 2 A { earthed: no }
load P1 = 100 mA
case alarm { wait 1 s }
`;

function lowered(statement: string) {
  const { design, ...rest } = lowerText(`${PARTS}${statement}`);
  return { design, found: findingsOf({ design, ...rest }) };
}

describe('autonomy', () => {
  test('cases with their times, ageing, recharge, each with its place', () => {
    const text =
      'autonomy B1 "As the insurer asks" { carries: rest for 24 h, alarm for 30 min  ageing: 130%  recharge: 24 h }';
    const result = lowerText(`${PARTS}${text}`);
    expect(findingsOf(result)).toEqual([]);
    const { autonomies, uncomputed } = result.design;
    expect(uncomputed).toEqual([]);
    expect(autonomies).toMatchObject([
      {
        battery: partOf(result.design, 'B1', 'source').id,
        description: 'As the insurer asks',
        carries: [
          { caseName: 'rest', seconds: { usual: 86_400 } },
          { caseName: 'alarm', seconds: { usual: 1800 } },
        ],
        ageing: { usual: 1.3 },
        recharge: { usual: 86_400 },
      },
    ]);
    const said = `${PARTS}${text}`.split('\n');
    const at = (origin: number) => {
      const { start, end } = result.place(origin)!;
      return said[start.line]!.slice(start.character, end.character);
    };
    const [one] = autonomies;
    expect(at(one!.carries[1]!.origin)).toBe('alarm for 30 min');
    expect(at(one!.carries[1]!.seconds.origin)).toBe('30 min');
    expect(at(one!.ageing!.origin)).toBe('130%');
    expect(one!.ageing!.assumption).toBeUndefined();
  });

  test('ageing and recharge have defaults that say so', () => {
    const [one] = lowered('autonomy B1 { carries: rest for 24 h }').design.autonomies;
    expect(one!.ageing).toMatchObject({ usual: 1.25, assumption: expect.stringContaining('IEEE 485, from memory') });
    expect(one!.recharge).toMatchObject({ usual: 72 * 3600, assumption: expect.stringContaining('EN 50131-1') });
  });

  test('a named time, and a case of an assembly', () => {
    const { design, found } = lowered(
      [
        'value LONG = 12 h',
        'type Part : assembly {\n  load P = 10 mA\n  case busy { wait 1 s }\n}',
        'assembly A1 : Part',
        'autonomy B1 { carries: A1.busy for LONG }',
      ].join('\n'),
    );
    expect(found).toEqual([]);
    expect(design.autonomies[0]!.carries).toMatchObject([{ caseName: 'A1.busy', seconds: { usual: 43_200 } }]);
  });

  test.each([
    [
      'what is no battery',
      'autonomy G1 { carries: rest for 24 h }',
      'battery-needed 6:10 Autonomy is that of a battery; G1 is none.',
    ],
    [
      'what is no source',
      'autonomy P1 { carries: rest for 24 h }',
      'battery-needed 6:10 Autonomy is that of a battery; P1 is none.',
    ],
    [
      'a name that leads nowhere',
      'autonomy B9 { carries: rest for 24 h }',
      "name-unknown 6:10 There is no 'B9' on this site.",
    ],
    [
      'a case that there is not',
      'autonomy B1 { carries: rest for 24 h, flood for 1 h }',
      "name-unknown 6:39 There is no 'flood' on this site.",
    ],
    [
      'a case without its time',
      'autonomy B1 { carries: rest }',
      "time-missing 6:24 Say for how long: 'rest for 24 h'.",
    ],
  ])('%s is told at its place', (_, statement, finding) => {
    expect(lowered(statement).found).toEqual([finding]);
  });

  test('nothing carried, and the same battery twice', () => {
    const bare = lowered('autonomy B1 { recharge: 24 h }');
    expect(bare.found).toEqual([
      "property-missing 6:1 The autonomy of B1 needs 'carries': which cases for how long, as in carries: rest for 24 h.",
    ]);
    expect(bare.design.autonomies).toEqual([]);
    const twice = lowered('autonomy B1 { carries: rest for 24 h }\nautonomy B1 { carries: alarm for 1 h }');
    expect(twice.found).toEqual(['autonomy-twice 7:1 What B1 shall carry is said already, on line 6.']);
    expect(twice.design.autonomies).toHaveLength(1);
  });
});

describe('batteries', () => {
  const volts = (facts: string) => {
    const { design, findings } = lowerText(`battery B1 = ${facts}`);
    expect(findings).toEqual([]);
    return partOf(design, 'B1', 'source').volts;
  };

  test('of one number go from the end of discharge to full, by their cells', () => {
    // Six cells of lead: 1.75 V and 2.275 V; four of lithium iron phosphate: 2.8 V and 3.65 V.
    expect(volts('12 V, 7 Ah')).toMatchObject({
      least: 10.5,
      usual: 12,
      most: 13.65,
      assumption: 'volts of B1 taken as 10.5 V .. 12 V .. 13.65 V: 6 cells of 1.75 V .. 2.275 V (AGM)',
    });
    expect(volts('24 V, 7 Ah { chemistry: flooded }')).toMatchObject({ least: 21, usual: 24, most: 27.3 });
    expect(volts('12.8 V, 10 Ah { chemistry: lifepo4 }')).toMatchObject({ least: 11.2, usual: 12.8, most: 14.6 });
    expect(volts('12 V, 7 Ah { end-volts: 10.8 V }')).toMatchObject({
      least: 10.8,
      most: 13.65,
      assumption: 'volts of B1 taken as 10.8 V .. 12 V .. 13.65 V: full at 6 cells of 2.275 V (AGM)',
    });
  });

  test('that say their volts are believed', () => {
    const given = volts('12 V, 7 Ah { volts: 11 V .. 12.4 V .. 14.4 V }');
    expect(given).toMatchObject({ least: 11, usual: 12.4, most: 14.4 });
    expect(given!.assumption).toBeUndefined();
    expect(volts('12 V, 7 Ah { volts: 11 V .. 12.4 V .. 14.4 V  end-volts: 11.5 V }')).toMatchObject({
      least: 11.5,
      most: 14.4,
    });
    expect(volts('7 Ah')).toBeUndefined();
  });

  test('say over which time their capacity is stated, and by which volts they are named', () => {
    const { design } = lowerText(
      'battery B1 = 12 V, 7 Ah { volts: 11 V .. 13.2 V }\nbattery B2 = 12 V, 7 Ah { rated-time: 10 h }',
    );
    expect(partOf(design, 'B1', 'source')).toMatchObject({
      nominalVolts: { usual: 12 },
      ratedTime: { usual: 72_000, assumption: 'rated-time taken as 20 h (common practice, no source)' },
    });
    expect(partOf(design, 'B2', 'source').ratedTime).toMatchObject({ usual: 36_000 });
    expect(partOf(design, 'B2', 'source').ratedTime!.assumption).toBeUndefined();
  });
});

test('what charges a battery gives its float volts, unless it says its own', () => {
  const { design, findings } = lowerText(
    [
      'battery B1 = 12 V, 7 Ah',
      'supply G1 = 2 A { charges: B1  charge-limit: 500 mA }',
      'supply G2 = 13.5 V { charges: B1 }',
      'supply G3 = 1 A',
      'unit u { common G  rail R { return: G  charges: B1  charge-limit: 300 mA } }',
    ].join('\n'),
  );
  expect(findings).toEqual([]);
  expect(partOf(design, 'G1', 'source')).toMatchObject({
    volts: { usual: 13.65, assumption: 'float of B1 taken as 13.65 V: 6 cells of 2.275 V (AGM)' },
    chargeLimit: { usual: 0.5 },
  });
  expect(partOf(design, 'G2', 'source').volts).toMatchObject({ least: 13.5, most: 13.5 });
  expect(partOf(design, 'G3', 'source').volts).toBeUndefined();
  expect(partOf(design, 'u.R', 'source')).toMatchObject({ volts: { usual: 13.65 }, chargeLimit: { usual: 0.3 } });
});
