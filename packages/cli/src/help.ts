/** The help, written from the verbs' own tables. */
import { COMMON, type OptionSpec } from './options.ts';
import type { Verb } from './verb.ts';
import { VERBS } from './verbs/index.ts';

export function overview(): string {
  const rows = VERBS.map((verb) => [`${verb.name} ${verb.takes}`, verb.says] as const);
  return [
    'Couplet checks the extra-low-voltage couplings between two systems on a site.',
    '',
    'couplet <verb> …',
    '',
    ...columns(rows),
    '',
    ...columns(COMMON.map(optionRow)),
    '',
    "'couplet <verb> --help' says what a verb takes.",
    'For extra-low voltage only. Results are as good as the data entered and must be proven by test on site.',
    '',
  ].join('\n');
}

export function helpOf(verb: Verb): string {
  const lines = [`couplet ${verb.name} ${verb.takes}`, '', sentence(verb.says)];
  if (verb.options.length > 0) lines.push('', ...columns(verb.options.map(optionRow)));
  if (verb.more !== undefined) lines.push('', ...verb.more);
  return `${lines.join('\n')}\n`;
}

function optionRow(option: OptionSpec): readonly [string, string] {
  const takes = option.choices?.join('|') ?? option.takes;
  const name = option.short === undefined ? `--${option.name}` : `-${option.short}, --${option.name}`;
  return [takes === undefined ? name : `${name} ${takes}`, option.says];
}

function columns(rows: readonly (readonly [string, string])[]): string[] {
  const width = Math.max(...rows.map(([left]) => left.length));
  return rows.map(([left, right]) => `  ${left.padEnd(width)}  ${right}`);
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`;
}
