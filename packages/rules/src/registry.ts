/** All rules by name: those that are computed, and those that are only named so far. */
import { RULE_NAMES, type RuleName } from './catalogue.ts';
import type { Rule } from './rule.ts';
import { RULES as IMPLEMENTED } from './rules/index.ts';

/** Rules that are computed, in the order of the catalogue. */
export const RULES: readonly Rule[] = [...IMPLEMENTED].sort(
  (one, other) => RULE_NAMES.indexOf(one.name) - RULE_NAMES.indexOf(other.name),
);

const BY_NAME: ReadonlyMap<RuleName, Rule> = new Map(RULES.map((rule) => [rule.name, rule]));

/** Findings that the run itself makes. */
const MADE_BY_THE_RUN: ReadonlySet<RuleName> = new Set(['acceptance-stale', 'not-evaluated', 'not-computed-yet']);

export function ruleOf(name: RuleName): Rule | undefined {
  return BY_NAME.get(name);
}

export function isComputed(name: RuleName): boolean {
  return BY_NAME.has(name) || MADE_BY_THE_RUN.has(name);
}

/** Rules whose computation does not exist yet. */
export const UNCOMPUTED_RULES: readonly RuleName[] = RULE_NAMES.filter((name) => !isComputed(name));
