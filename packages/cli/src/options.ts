/** What a verb takes, as a table; reading the command line and writing the help both follow it. */
import { parseArgs } from 'node:util';

export interface OptionSpec {
  /** Without the dashes. */
  readonly name: string;
  /** One letter that stands for it, without the dash. */
  readonly short?: string;
  /** What stands after it: 'DATE'; absent for a switch. */
  readonly takes?: string;
  readonly choices?: readonly string[];
  readonly repeats?: boolean;
  readonly says: string;
}

/** The command line as it was understood. */
export interface Invocation {
  readonly words: readonly string[];
  /** Values by option name; a switch that was given is ['']. */
  readonly options: ReadonlyMap<string, readonly string[]>;
}

/** Something on the command line cannot be followed. One plain line, exit status 2. */
export class UsageError extends Error {}

/** Options of every verb. */
export const COMMON: readonly OptionSpec[] = [
  { name: 'help', says: 'say what a verb does and takes' },
  { name: 'version', says: 'say which version this is' },
  { name: 'debug', says: 'show where an internal error happened' },
];

export function readOptions(args: readonly string[], specs: readonly OptionSpec[]): Invocation {
  const known = new Map([...specs, ...COMMON].map((spec) => [spec.name, spec]));
  const { tokens } = parseArgs({
    args: [...args],
    strict: false,
    allowPositionals: true,
    tokens: true,
    options: Object.fromEntries(
      [...known.values()].map((spec) => [
        spec.name,
        {
          type: spec.takes === undefined ? 'boolean' : 'string',
          ...(spec.short === undefined ? {} : { short: spec.short }),
        } as const,
      ]),
    ),
  });
  const words: string[] = [];
  const options = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind === 'positional') words.push(token.value);
    if (token.kind !== 'option') continue;
    const spec = known.get(token.name);
    if (spec === undefined) throw new UsageError(unknownOption(token.rawName, [...known.keys()]));
    const value = checkedValue(spec, token.value);
    const values = options.get(spec.name) ?? [];
    if (values.length > 0 && spec.takes !== undefined && !spec.repeats) {
      throw new UsageError(`--${spec.name} may be given once`);
    }
    options.set(spec.name, [...values, value]);
  }
  return { words, options };
}

function checkedValue(spec: OptionSpec, value: string | undefined): string {
  if (spec.takes === undefined) {
    if (value !== undefined) throw new UsageError(`--${spec.name} takes no value`);
    return '';
  }
  if (value === undefined || value === '')
    throw new UsageError(`--${spec.name} needs a value: --${spec.name} ${spec.takes}`);
  if (spec.choices !== undefined && !spec.choices.includes(value)) {
    throw new UsageError(`--${spec.name} is one of ${spec.choices.join(', ')}; '${value}' is not`);
  }
  return value;
}

function unknownOption(written: string, names: readonly string[]): string {
  const bare = written.replace(/^-+/, '');
  const near = names.find((name) => name.startsWith(bare.slice(0, 3)) || bare.startsWith(name));
  return near === undefined
    ? `there is no option ${written}`
    : `there is no option ${written}; did you mean --${near}?`;
}

/** The only value of an option. */
export function optionValue(invocation: Invocation, name: string): string | undefined {
  return invocation.options.get(name)?.[0];
}
