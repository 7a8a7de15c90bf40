/** What the registry says of a rule, as it stands in the rule's page. */
import { type Dimension, writeQuantity } from '@couplet/engine';
import { catalogueRow, isComputed, RULES, type RuleName, ruleOf, type Threshold, thresholdText } from '@couplet/rules';
import type { Outcome } from './examples.ts';
import type { Block } from './page.ts';

export function blocksOf(name: RuleName, failing: Outcome | undefined): Readonly<Record<Block, string>> {
  return { facts: facts(name), thresholds: thresholds(name), told: told(name, failing), origin: origin(name) };
}

function facts(name: RuleName): string {
  const { group, severity, summary } = catalogueRow(name);
  const explained = [...(ruleOf(name)?.explains ?? [])].filter(isComputed).sort();
  const explainers = RULES.filter((rule) => rule.explains.includes(name)).map((rule) => rule.name);
  const lines = [
    `${sentence(summary)}`,
    '',
    `- Group: ${group}`,
    `- Severity: ${severityWords(name, severity)}`,
    `- Acceptance: ${acceptance(name)}`,
  ];
  if (explained.length > 0) lines.push(`- Explains, where they follow from it: ${links(explained)}`);
  if (explainers.length > 0) lines.push(`- Explained by: ${links(explainers.sort())}`);
  return lines.join('\n');
}

function severityWords(name: RuleName, severity: string): string {
  const keys = (ruleOf(name)?.thresholds ?? []).map(({ key }) => key);
  if (severity === 'error' && keys.includes('warning')) return 'error, or warning at the lower level';
  if (name === 'not-evaluated') return 'information; warning with `--strict`';
  return severity;
}

function acceptance(name: RuleName): string {
  if (catalogueRow(name).acceptable === false) return 'nobody may accept it';
  const fault = name === 'silent-fault' ? ' FAULT' : '';
  return `\`accept ${name}${fault} on TARGET because "…" until DATE\``;
}

function thresholds(name: RuleName): string {
  const all = ruleOf(name)?.thresholds ?? [];
  if (all.length === 0) return 'There is no threshold to set.';
  return all.map((threshold) => thresholdLine(name, threshold)).join('\n');
}

function thresholdLine(name: RuleName, threshold: Threshold): string {
  const { origin: from, says, settable, standing, unit, value } = threshold;
  const shown = thresholdText(threshold, value);
  const counts = shown === String(value);
  const dimension = (unit || (counts ? 'number' : 'ratio')) as Dimension;
  const set =
    settable && Number.isFinite(value)
      ? `; a site sets it: \`limits { ${name}: ${writeQuantity(value, dimension)} }\``
      : '';
  return `- **${shown}**: ${says}. From: ${from} (${standing})${set}.`;
}

/** The message that the failing example gives, at its place. */
function told(name: RuleName, failing: Outcome | undefined): string {
  const finding = failing?.findings.find((each) => each.code === name);
  if (finding === undefined) return '';
  const { line, character } = finding.place.start;
  return `> **${finding.severity}** at line ${line + 1}, column ${character + 1}: ${finding.message}`;
}

function origin(name: RuleName): string {
  return `From: ${catalogueRow(name).origin}.`;
}

export function sentence(summary: string): string {
  return `${summary.slice(0, 1).toUpperCase()}${summary.slice(1)}.`;
}

function links(names: readonly RuleName[]): string {
  return names.map((name) => `[${name}](${name}.md)`).join(', ');
}
