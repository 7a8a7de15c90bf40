/** docs/rules/README.md: every rule by group, with its line, its page, or why it is not computed. */
import { catalogueRow, isComputed, RULE_NAMES, type RuleGroup, type RuleName, reasonUncomputed } from '@couplet/rules';
import { sentence } from './blocks.ts';

export function indexPage(): string {
  const computed = RULE_NAMES.filter(isComputed).length;
  const lines = [
    '# The rules',
    '',
    'Every check by name, as it stands in findings, in `accept` and in `limits`. `couplet explain NAME` prints a page.',
    `${computed} of ${RULE_NAMES.length} are computed; a site that has what another one is about says so.`,
    'Generated from the registry of rules by `npm run generate`.',
  ];
  let group: RuleGroup | undefined;
  for (const name of RULE_NAMES) {
    const row = catalogueRow(name);
    if (row.group !== group) {
      group = row.group;
      lines.push('', `## ${sentence(group).slice(0, -1)}`, '', '| rule | finds | severity |', '|---|---|---|');
    }
    lines.push(
      `| ${isComputed(name) ? `[${name}](${name}.md)` : name} | ${finds(name, row.summary)} | ${row.severity} |`,
    );
  }
  return `${lines.join('\n')}\n`;
}

function finds(name: RuleName, summary: string): string {
  if (isComputed(name)) return summary;
  return `${summary}. *Not computed yet: ${reasonUncomputed(name)}.*`;
}
