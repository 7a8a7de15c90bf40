/**
 * American wire gauge.
 * Source: ASTM B258 (geometry; diameter 0.127 mm × 92^((36 − n)/39)), confirmed on secondary pages to 0.1 %.
 */
import { COPPER_RESISTIVITY } from './copper.ts';

/** Gauges that the formula is used for here. */
export const AWG_LEAST = 0;
export const AWG_MOST = 40;

/** Diameter of a solid wire in mm. */
export function awgDiameter(gauge: number): number {
  return 0.127 * 92 ** ((36 - gauge) / 39);
}

/** Cross-section of a solid wire in mm². */
export function awgArea(gauge: number): number {
  return (Math.PI / 4) * awgDiameter(gauge) ** 2;
}

/** Resistance of a solid annealed copper wire at 20 °C in Ω/km: ρ·l/A with the international annealed copper standard. */
export function awgOhmsPerKm(gauge: number): number {
  return (COPPER_RESISTIVITY * 1e9) / awgArea(gauge);
}

/** The gauge whose cross-section is nearest by ratio to `mm2`. */
export function nearestAwg(mm2: number): number {
  const exact = 36 - 39 * (Math.log(Math.sqrt((4 * mm2) / Math.PI) / 0.127) / Math.log(92));
  return Math.min(AWG_MOST, Math.max(AWG_LEAST, Math.round(exact)));
}
