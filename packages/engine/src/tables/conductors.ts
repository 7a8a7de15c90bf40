/** Resistance of cable cores at 20 °C, from published maxima and from geometry. */
import { COPPER_RESISTIVITY } from './copper.ts';
import type { Provenance } from './provenance.ts';

/** 1 solid, 2 stranded, 5 flexible. */
export type ConductorClass = 1 | 2 | 5;

export const CONDUCTOR_CLASSES: readonly ConductorClass[] = [1, 2, 5];

export const IEC_60228_PROVENANCE: Provenance = {
  source: 'IEC 60228, tables 1 (class 1), 2 (class 2) and 3 (class 5)',
  status: 'confirmed',
};

export interface ConductorRow {
  /** Nominal cross-section, mm². */
  readonly mm2: number;
  /** Greatest resistance at 20 °C in Ω/km by class, plain annealed copper. */
  readonly plain: Readonly<Record<ConductorClass, number>>;
  /** The same of metal-coated wires. From 25 mm² the standard has no coated class 1; class 2 stands in its place. */
  readonly coated: Readonly<Record<ConductorClass, number>>;
}

function row(
  mm2: number,
  plain: readonly [number, number, number],
  coated: readonly [number, number, number],
): ConductorRow {
  return {
    mm2,
    plain: { 1: plain[0], 2: plain[1], 5: plain[2] },
    coated: { 1: coated[0], 2: coated[1], 5: coated[2] },
  };
}

export const IEC_60228: readonly ConductorRow[] = [
  row(0.5, [36.0, 36.0, 39.0], [36.7, 36.7, 40.1]),
  row(0.75, [24.5, 24.5, 26.0], [24.8, 24.8, 26.7]),
  row(1, [18.1, 18.1, 19.5], [18.2, 18.2, 20.0]),
  row(1.5, [12.1, 12.1, 13.3], [12.2, 12.2, 13.7]),
  row(2.5, [7.41, 7.41, 7.98], [7.56, 7.56, 8.21]),
  row(4, [4.61, 4.61, 4.95], [4.7, 4.7, 5.09]),
  row(6, [3.08, 3.08, 3.3], [3.11, 3.11, 3.39]),
  row(10, [1.83, 1.83, 1.91], [1.84, 1.84, 1.95]),
  row(16, [1.15, 1.15, 1.21], [1.16, 1.16, 1.24]),
  row(25, [0.727, 0.727, 0.78], [0.734, 0.734, 0.795]),
  row(35, [0.524, 0.524, 0.554], [0.529, 0.529, 0.565]),
];

export const SMALL_CONDUCTOR_PROVENANCE: Provenance = {
  source: 'geometry of the strands; IEC 60228 begins at 0.5 mm²',
  status: 'partly confirmed',
};

/** Cores below and around 0.5 mm² as they are sold: strands by strand diameter, and their true section in mm². */
export const SMALL_CONDUCTORS: readonly {
  readonly construction: string;
  readonly soldAs: number;
  readonly mm2: number;
}[] = [
  { construction: '18/0.1', soldAs: 0.14, mm2: 0.1414 },
  { construction: '1/0.5', soldAs: 0.2, mm2: 0.1963 },
  { construction: '7/0.2', soldAs: 0.22, mm2: 0.2199 },
  { construction: '14/0.15', soldAs: 0.25, mm2: 0.2474 },
  { construction: '1/0.6', soldAs: 0.28, mm2: 0.2827 },
  { construction: '7/0.25', soldAs: 0.34, mm2: 0.3436 },
  { construction: '14/0.2', soldAs: 0.44, mm2: 0.4398 },
  { construction: '16/0.2', soldAs: 0.5, mm2: 0.5027 },
  { construction: '1/0.8', soldAs: 0.5, mm2: 0.5027 },
  { construction: '24/0.2', soldAs: 0.75, mm2: 0.754 },
];

/** Cross-sections that cables of this trade are made in, mm², rising: what a size may be raised to. */
export const CABLE_SECTIONS: readonly number[] = [0.14, 0.22, 0.25, 0.34, 0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16, 25, 35];

/** Ω/km at 20 °C of `mm2` of annealed copper without lay, tin or drawing: ρ·l/A. */
export function idealOhmsPerKm(mm2: number): number {
  return (COPPER_RESISTIVITY * 1e9) / mm2;
}

/** The class that is assumed where none is given: flexible up to 2.5 mm², stranded above. */
export function assumedClass(mm2: number): ConductorClass {
  return mm2 <= 2.5 ? 5 : 2;
}

export interface CoreOhms {
  /** Ω/km at 20 °C. */
  readonly least: number;
  readonly usual: number;
  readonly most: number;
  /** A clause that says what was taken for granted: every one of these figures is an assumption. */
  readonly assumption: string;
}

/** Usual and greatest resistance of cores below 0.5 mm² over ρ·l/A, from printed 88 Ω/km to 95 Ω/km for 7/0.2. */
const SMALL_USUAL = 1.12;
const SMALL_MOST = 1.21;

/**
 * Resistance of a copper core of `section` mm², of which neither Ω/km nor tolerance is known, or undefined where the
 * section is not positive. From 0.5 mm² the most is the maximum of IEC 60228 for the class, and usual and least are
 * ρ·l/A; a section between two nominal ones has the share over ρ·l/A of the smaller. Below 0.5 mm² the factors 1.12 and
 * 1.21 over ρ·l/A are common practice.
 */
export function coreOhmsPerKm(core: {
  readonly section: number;
  readonly class?: ConductorClass;
  readonly coated?: boolean;
}): CoreOhms | undefined {
  const { section } = core;
  if (!(section > 0) || !Number.isFinite(section)) return undefined;
  const ideal = idealOhmsPerKm(section);
  const nominal = IEC_60228.findLast((each) => each.mm2 <= section * (1 + 1e-9));
  if (nominal === undefined) {
    const assumption = `core of ${shown(section)} mm² taken as ${shown(ideal)} to ${shown(ideal * SMALL_MOST)} Ω/km, copper, at 20 °C`;
    return { least: ideal, usual: ideal * SMALL_USUAL, most: ideal * SMALL_MOST, assumption };
  }
  const used = core.class ?? assumedClass(section);
  const table = core.coated === true ? nominal.coated : nominal.plain;
  // A nominal section may have less copper than its name says; its greatest resistance is what the standard promises.
  const most = table[used] * (nominal.mm2 / section);
  const wires = `class ${used}${core.class === undefined ? ' assumed' : ''}, ${core.coated === true ? 'metal-coated' : 'plain'} copper`;
  const assumption = `core of ${shown(section)} mm² taken as ${shown(ideal)} to ${shown(most)} Ω/km at 20 °C (IEC 60228 ${wires})`;
  return { least: ideal, usual: ideal, most, assumption };
}

function shown(value: number): string {
  return String(Number(value.toPrecision(3)));
}

/**
 * Correction of a resistance measured at `celsius` to 20 °C as the standard has it, with 0.004/K: R20 = R × kt.
 * Source: IEC 60228, annex on measurement; the formula is from memory and agrees with a printed table to three decimals.
 */
export function resistanceCorrection(celsius: number): number {
  return 250 / (230 + celsius);
}
