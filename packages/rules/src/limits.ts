/** Thresholds that a site sets in `limits { rule: value }`: which are in force, and how a message says so. */
import { type Dimension, formatFigure, type SiteFacts } from '@couplet/engine';
import type { RuleName } from './catalogue.ts';
import { RULES } from './registry.ts';
import type { Detection, Rule, Threshold } from './rule.ts';

/** A settable threshold with the value that counts on a site. */
export interface ThresholdInForce {
  readonly rule: RuleName;
  readonly threshold: Threshold;
  /** In the threshold's unit; a fraction or a number where that is ''. */
  readonly value: number;
  /** The site chose it; else it is the threshold's own. */
  readonly set: boolean;
}

/** The dimensions in which a site writes a threshold: a share as a percentage, a factor or count as a number. */
export function dimensionsOfThreshold({ unit }: Threshold): readonly Dimension[] {
  return unit === '' ? ['ratio', 'number'] : [unit as Dimension];
}

/** The value that a site sets for a threshold; undefined where it sets none, or one of another dimension. */
export function limitOf(site: SiteFacts, rule: RuleName, threshold: Threshold): number | undefined {
  if (!threshold.settable) return undefined;
  const limit = site.limits.find((item) => item.rule === rule);
  if (limit === undefined) return undefined;
  return (dimensionsOfThreshold(threshold) as readonly string[]).includes(limit.dimension) ? limit.value : undefined;
}

/** Every threshold that a site may set, in the order of the rules. */
export function thresholdsInForce(site: SiteFacts): readonly ThresholdInForce[] {
  return RULES.flatMap(({ name, thresholds }) =>
    thresholds.flatMap((threshold): ThresholdInForce[] => {
      if (!threshold.settable) return [];
      const limit = limitOf(site, name, threshold);
      return [{ rule: name, threshold, value: limit ?? threshold.value, set: limit !== undefined }];
    }),
  );
}

/** A threshold as a person reads it: `80 %`, `5 kΩ`, a whole number where it counts. */
export function thresholdText({ unit }: Threshold, value: number): string {
  if (!Number.isFinite(value)) return 'unlimited';
  if (unit === '' && Number.isInteger(value) && value !== 0 && value !== 1) return String(value);
  return formatFigure(value, (unit || 'ratio') as Dimension).replace(/\.0+(?=\D)/, '');
}

/**
 * The sentence of a finding that a threshold of the site had a part in: 'Threshold: 90 %, set by this site (80 % unless
 * set).' A rule's warning level has no part in its errors.
 */
export function limitSentence(rule: Rule, detection: Detection<unknown>, site: SiteFacts): string | undefined {
  if (detection.beyondLimits === true) return undefined;
  for (const threshold of rule.thresholds) {
    const value = limitOf(site, rule.name, threshold);
    if (value === undefined) continue;
    if (threshold.key === 'warning' && detection.severity !== 'warning') return undefined;
    const usual = thresholdText(threshold, threshold.value);
    return `Threshold: ${thresholdText(threshold, value)}, set by this site (${usual} unless set).`;
  }
  return undefined;
}
