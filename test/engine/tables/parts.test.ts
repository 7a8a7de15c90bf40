import {
  ASSUMED_MINIMUM_LOAD,
  BATTERY_AGEING,
  BATTERY_CHEMISTRIES,
  BATTERY_TEMPERATURE,
  batteryTemperatureFactor,
  IEC_60127,
  MINIMUM_CONTACT_LOADS,
  peukertFactor,
  peukertHours,
  UL_248_14,
  UNSUPPRESSED_SHARE,
} from '@couplet/engine';
import { describe, expect, test } from 'vitest';
import battery from '../../reference/battery.json' with { type: 'json' };
import fuses from '../../reference/fuses.json' with { type: 'json' };
import relay from '../../reference/relay.json' with { type: 'json' };

test('least loads of contacts, value by value', () => {
  const confirmed = relay.minimumContactLoad.filter((row) => row.status === 'confirmed-on-page');
  expect(MINIMUM_CONTACT_LOADS.map(({ volts, amps }) => [volts, amps])).toEqual(
    confirmed.map((row) => [row.volts, row.amps]),
  );
  expect(ASSUMED_MINIMUM_LOAD).toMatchObject({ volts: 5, amps: 0.01 });
  expect(UNSUPPRESSED_SHARE).toBe(relay.inductiveShareOfResistive.fraction[0]);
});

test('fuse factors', () => {
  const { carriesAlways, holdsOneHour, mustOpen } = fuses.iec60127;
  expect(IEC_60127).toMatchObject({ carries: carriesAlways, holds: holdsOneHour, mustOpen });
  const { holds, opensWithinOneHour, loadAtMost } = fuses.ul248_14;
  expect(UL_248_14).toMatchObject({ holds: holds[1], mustOpen: opensWithinOneHour, load: loadAtMost });
});

describe('batteries', () => {
  test('share of capacity by temperature: the points, and straight lines between them', () => {
    expect(BATTERY_TEMPERATURE).toEqual(battery.temperatureCapacity.points);
    for (const [celsius, share] of BATTERY_TEMPERATURE) expect(batteryTemperatureFactor(celsius)).toBe(share);
    expect(batteryTemperatureFactor(5)).toBeCloseTo(0.8, 12);
    expect(batteryTemperatureFactor(-5)).toBeCloseTo(0.675, 12);
    expect(batteryTemperatureFactor(22.5)).toBeCloseTo(0.975, 12);
    expect(batteryTemperatureFactor(40)).toBe(1);
    expect(batteryTemperatureFactor(-10.1)).toBeUndefined();
    expect(batteryTemperatureFactor(Number.NaN)).toBeUndefined();
  });

  test('the table is no more hopeful than the sizing factors of IEEE 485', () => {
    for (const [celsius, factor] of battery.temperatureCapacity.ieee485SizingFactor as [number, number][]) {
      expect((batteryTemperatureFactor(celsius) as number) * factor).toBeLessThanOrEqual(1.09);
      expect((batteryTemperatureFactor(celsius) as number) * factor).toBeGreaterThan(0.95);
    }
  });

  test("Peukert's law", () => {
    const [lasts, delivers] = battery.peukert.examples;
    if (lasts?.lasts === undefined || delivers?.delivers === undefined) throw new Error('two examples');
    expect(peukertHours(lasts.ampereHours, lasts.hours, lasts.amps, lasts.k)).toBeCloseTo(lasts.lasts, 5);
    expect(peukertHours(lasts.ampereHours, lasts.hours, lasts.amps, lasts.k)).toBeCloseTo(lasts.printed as number, 1);
    const hours = peukertHours(delivers.ampereHours, delivers.hours, delivers.amps, delivers.k);
    expect(hours * delivers.amps).toBeCloseTo(delivers.delivers, 3);
    // What a draw counts more is what the battery delivers less.
    expect(peukertFactor(delivers.amps, delivers.ampereHours / delivers.hours, delivers.k)).toBeCloseTo(
      100 / delivers.delivers,
      4,
    );
    expect(peukertFactor(1, 5, 1.2)).toBe(1);
  });

  test('exponents lie in the printed ranges, and volts are those of the pages', () => {
    const printed = battery.peukert as Record<string, unknown>;
    for (const { name, exponent, exponentRange } of BATTERY_CHEMISTRIES) {
      expect(exponentRange).toEqual(printed[name]);
      expect(exponent).toBeGreaterThanOrEqual(exponentRange[0]);
      expect(exponent).toBeLessThanOrEqual(exponentRange[1]);
    }
    const lead = BATTERY_CHEMISTRIES.find((row) => row.name === 'AGM');
    expect((lead?.endVolts as number) * 6).toBe(battery.leadAcid.endVoltsSixCells);
    expect(lead?.fullVolts).toBeGreaterThanOrEqual(battery.leadAcid.floatVoltsPerCell25degC[0] as number);
    expect(lead?.fullVolts).toBeLessThanOrEqual(battery.leadAcid.floatVoltsPerCell25degC[1] as number);
    const lithium = BATTERY_CHEMISTRIES.find((row) => row.name === 'LiFePO4');
    expect(lithium?.fullVolts).toBe(battery.lithiumIronPhosphate.fullVoltsPerCell[1]);
    expect(lithium?.endVolts).toBe(battery.lithiumIronPhosphate.endVoltsPerCell[1]);
    expect(BATTERY_AGEING).toBe(battery.ageing.factor);
  });
});
