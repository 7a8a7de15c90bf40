/**
 * Annealed copper and how it warms.
 * Source: international annealed copper standard (IEC 60028), 58.0 MS/m and 0.00393/K at 20 °C, confirmed on secondary pages.
 */

/** Ω·m at 20 °C. */
export const COPPER_RESISTIVITY = 1.7241e-8;

/** Change of resistance with temperature, per kelvin, referred to 20 °C. */
export const COPPER_COEFFICIENT = 0.00393;

/** Resistance at `celsius` over resistance at 20 °C, of a copper conductor or a copper coil: 1 + 0.00393 (T − 20). */
export function copperFactor(celsius: number): number {
  return 1 + COPPER_COEFFICIENT * (celsius - 20);
}
