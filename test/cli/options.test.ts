/** What stands on the command line: verbs, options, help, and what cannot be followed. */
import { expect, test } from 'vitest';
import manifest from '../../packages/cli/package.json' with { type: 'json' };
import { VERBS } from '../../packages/cli/src/verbs/index.ts';
import { couplet, coupletProcess } from './command.ts';

test('--version and --help end with 0', async () => {
  expect(await couplet(['--version'])).toEqual({ exit: 0, out: `couplet ${manifest.version}\n`, err: '' });
  const { exit, out } = await couplet(['--help']);
  expect(exit).toBe(0);
  for (const verb of VERBS) expect(out).toContain(`${verb.name} ${verb.takes}`);
  expect(await couplet(['help'])).toEqual({ exit: 0, out, err: '' });
});

test.each(VERBS.map((verb) => verb.name))('the help of %s names each of its options', async (name) => {
  const { exit, out } = await couplet([name, '--help']);
  expect(exit).toBe(0);
  const verb = VERBS.find((each) => each.name === name);
  for (const option of verb?.options ?? []) expect(out).toContain(`--${option.name}`);
  expect((await couplet(['help', name])).out).toBe(out);
});

test('without a verb the help goes to standard error, and the status is 2', async () => {
  const { err, exit, out } = await couplet([]);
  expect([exit, out]).toEqual([2, '']);
  expect(err).toContain('couplet <verb>');
});

test.each([
  [['chek', 'a.couplet'], "there is no verb 'chek'; the verbs are check, figures"],
  [['--strict', 'check'], "'--strict' stands before the verb"],
  [['check', '--formt', 'json'], 'there is no option --formt; did you mean --format?'],
  [['check', '-x'], 'there is no option -x'],
  [['check', '--format', 'xml'], "--format is one of text, json, sarif, junit, github; 'xml' is not"],
  [['check', '--format'], '--format needs a value'],
  [['check', '--format', 'json', '--format', 'text'], '--format may be given once'],
  [['check', '--strict=yes'], '--strict takes no value'],
  [['check', '--fail-on', 'information'], '--fail-on is one of error, warning'],
  [['check', '--today', 'tomorrow', 'examples'], "'tomorrow' is no date; write it as 2026-10-02"],
  [['check', '--today', '2026-02-30', 'examples'], "'2026-02-30' is no date"],
  [['check', '--workspace', 'nowhere', 'examples'], "'nowhere' is no folder"],
  [['explain', 'output-overloadd'], "there is no rule 'output-overloadd'; near it are output-overloaded"],
])('couplet %j cannot be followed: one line, status 2', async (args, words) => {
  const { err, exit, out } = await couplet(args);
  expect([exit, out]).toEqual([2, '']);
  expect(err).toContain(words);
  expect(err.trimEnd().split('\n')).toHaveLength(1);
});

test('explain says what a rule looks for, and who may accept it', async () => {
  const { exit, out } = await couplet(['explain', 'lock-held-without-supply']);
  expect(exit).toBe(0);
  expect(out).toContain('A lock on an escape route stays locked');
  expect(out).toContain('nobody may accept it');
  const all = (await couplet(['explain'])).out;
  expect(all).toContain('output-overloaded');
  expect(all.split('\n').length).toBeGreaterThan(80);
});

test('the command runs as a process from its sources', () => {
  const { err, exit, out } = coupletProcess(['values', '2k2']);
  expect(err).toBe('');
  expect(exit).toBe(0);
  expect(out).toContain('2k2');
  expect(coupletProcess(['--nonsense']).exit).toBe(2);
});
