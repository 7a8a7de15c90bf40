/** `couplet explain`: what a rule looks for, where its thresholds come from, and how it is set or accepted. */
import {
  type CatalogueRow,
  catalogueRow,
  isComputed,
  isRuleName,
  RULE_NAMES,
  type RuleName,
  reasonUncomputed,
  ruleOf,
} from '@couplet/rules';
import { UsageError } from '../options.ts';
import { written } from '../output/json.ts';
import type { Paint, Terminal } from '../terminal.ts';
import { EXIT, type Verb } from '../verb.ts';

export const explain: Verb = {
  name: 'explain',
  takes: 'RULE',
  says: 'say what a rule looks for and where its thresholds come from',
  options: [{ name: 'format', takes: 'FORMAT', choices: ['text', 'json'], says: 'text unless given' }],
  more: ['Without a RULE all rules are listed, those that this version does not compute marked.'],

  async run({ options, words }, terminal) {
    const names = words.length === 0 ? RULE_NAMES : words.map(known);
    if (options.get('format')?.[0] === 'json') terminal.out(written(names.map(ruleJson)));
    else if (words.length === 0) list(terminal);
    else terminal.out((await pages(names, terminal.paint)).join('\n'));
    return EXIT.fine;
  },
};

function known(word: string): RuleName {
  if (isRuleName(word)) return word;
  const part = word.split('-')[0] as string;
  const near = RULE_NAMES.filter((name) => name.includes(word) || (part.length > 2 && name.includes(part))).slice(0, 5);
  const hint = near.length > 0 ? `; near it are ${near.join(', ')}` : "; 'couplet explain' lists all rules";
  throw new UsageError(`there is no rule '${word}'${hint}`);
}

function list(terminal: Terminal): void {
  const { paint } = terminal;
  const width = Math.max(...RULE_NAMES.map((name) => name.length));
  let group = '';
  for (const name of RULE_NAMES) {
    const row = catalogueRow(name);
    if (row.group !== group) {
      terminal.out(`${group === '' ? '' : '\n'}${paint('bold', row.group)}\n`);
      group = row.group;
    }
    const mark = isComputed(name) ? '' : ' (not computed yet)';
    terminal.out(`  ${name.padEnd(width)}  ${row.summary}${paint('dim', mark)}\n`);
  }
}

/** The pages are loaded only here: they are many times the size of everything else that the command says of rules. */
async function pages(names: readonly RuleName[], paint: Paint): Promise<readonly string[]> {
  const { RULE_PAGES } = await import('@couplet/rules/pages');
  return names.map((name) => {
    const lines = RULE_PAGES[name]?.map((line) =>
      line.startsWith('#') ? paint('bold', line.replace(/^#+ /, '')) : line,
    );
    return lines === undefined ? named(name, paint) : `${lines.join('\n')}\n`;
  });
}

/** What there is to say of a rule that is named and not computed. */
function named(name: RuleName, paint: Paint): string {
  const row = catalogueRow(name);
  const lines = [
    `${paint('bold', name)}  ${row.group}, ${row.severity}`,
    `  ${row.summary}`,
    `  This version does not compute it yet: ${reasonUncomputed(name)}. A site that it concerns says so.`,
    `  origin: ${row.origin}`,
    acceptance(name, row),
  ];
  return `${lines.join('\n')}\n`;
}

function acceptance(name: RuleName, row: CatalogueRow): string {
  if (row.acceptable === false) return '  nobody may accept it';
  const fault = name === 'silent-fault' ? ' FAULT' : '';
  return `  accepted with: accept ${name}${fault} on TARGET because "…" until DATE`;
}

function ruleJson(name: RuleName) {
  const { acceptable, group, origin, severity, summary } = catalogueRow(name);
  const rule = ruleOf(name);
  return {
    name,
    group,
    severity,
    summary,
    origin,
    computed: isComputed(name),
    acceptable: acceptable !== false,
    thresholds: rule?.thresholds ?? [],
    explains: rule === undefined ? [] : [...rule.explains].sort(),
  };
}
