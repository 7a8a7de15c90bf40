/** From the words of a command line to an exit status. Nothing a user wrote ends in a stack trace. */
import manifest from '../package.json' with { type: 'json' };
import { helpOf, overview } from './help.ts';
import { readOptions, UsageError } from './options.ts';
import type { Terminal } from './terminal.ts';
import { EXIT, type Exit } from './verb.ts';
import { VERBS } from './verbs/index.ts';

export async function run(args: readonly string[], terminal: Terminal): Promise<Exit> {
  try {
    return await dispatch(args, terminal);
  } catch (error) {
    if (error instanceof UsageError) {
      terminal.err(`couplet: ${error.message}\n`);
      return EXIT.nothing;
    }
    const [first] = String(error instanceof Error ? error.message || error.name : error).split('\n');
    terminal.err(`couplet: internal error: ${first} (this is a fault of couplet; --debug shows more)\n`);
    if (args.includes('--debug') && error instanceof Error) terminal.err(`${error.stack}\n`);
    return EXIT.internal;
  }
}

async function dispatch(args: readonly string[], terminal: Terminal): Promise<Exit> {
  const [word, ...rest] = args;
  if (word === undefined) {
    terminal.err(overview());
    return EXIT.nothing;
  }
  if (word === '--version') return say(terminal, `couplet ${manifest.version}\n`);
  if (word === '--help' || (word === 'help' && rest.length === 0)) return say(terminal, overview());
  const wanted = word === 'help' ? rest[0] : word;
  const verb = VERBS.find((each) => each.name === wanted);
  if (verb === undefined) {
    const names = VERBS.map((each) => each.name).join(', ');
    const kind = word.startsWith('-') ? `'${word}' stands before the verb` : `there is no verb '${wanted}'`;
    throw new UsageError(`${kind}; the verbs are ${names} (couplet --help says more)`);
  }
  if (word === 'help') return say(terminal, helpOf(verb));
  const invocation = readOptions(rest, verb.options);
  if (invocation.options.has('help')) return say(terminal, helpOf(verb));
  if (invocation.options.has('version')) return say(terminal, `couplet ${manifest.version}\n`);
  return verb.run(invocation, terminal);
}

function say(terminal: Terminal, text: string): Exit {
  terminal.out(text);
  return EXIT.fine;
}
