/** The check of the command line as a task: what it runs, and how its findings come into the problems view. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeEach, expect, test, vi } from 'vitest';
import { addCheckTask } from '../../packages/vscode/src/check-task.ts';
import { ROOT } from '../cli/command.ts';

interface Provider {
  provideTasks(): PlayedTask[];
  resolveTask(task: { definition: object; scope?: object }): PlayedTask;
}

interface PlayedTask {
  readonly words: readonly unknown[];
  readonly group?: string;
}

const played = vi.hoisted(() => ({
  providers: new Map<string, unknown>(),
  settings: new Map<string, string>(),
  folders: [] as object[],
}));

/** As much of an editor as the task needs. */
vi.mock('vscode', () => ({
  ShellExecution: class {
    readonly run: readonly [string, readonly string[]];
    constructor(command: string, args: readonly string[]) {
      this.run = [command, args];
    }
  },
  Task: class {
    readonly words: readonly unknown[];
    constructor(...words: unknown[]) {
      this.words = words;
    }
  },
  TaskGroup: { Build: 'build' },
  TaskScope: { Workspace: 'workspace' },
  tasks: { registerTaskProvider: (type: string, provider: unknown) => void played.providers.set(type, provider) },
  workspace: {
    getConfiguration: (section: string) => ({
      get: (name: string, otherwise: string) => played.settings.get(`${section}.${name}`) ?? otherwise,
    }),
    get workspaceFolders() {
      return played.folders;
    },
  },
}));

const { contributes } = JSON.parse(readFileSync(join(ROOT, 'packages/vscode/package.json'), 'utf8'));

let provider: Provider;
beforeEach(() => {
  played.settings.clear();
  played.folders = [{ name: 'shed' }, { name: 'mill' }];
  addCheckTask();
  provider = played.providers.get(contributes.taskDefinitions[0].type) as Provider;
});

test('each folder has a build task that checks it, with the matcher that the extension brings', () => {
  const tasks = provider.provideTasks();
  expect(tasks.map(({ group }) => group)).toEqual(['build', 'build']);
  expect(tasks.map(({ words: [, scope] }) => scope)).toEqual(played.folders);
  const [definition, , name, source, execution, matcher] = tasks[0]?.words ?? [];
  expect(definition).toEqual({ type: 'couplet' });
  expect([name, source]).toEqual(['check', 'Couplet']);
  expect(execution).toEqual({ run: ['couplet', ['check', '.']] });
  expect(matcher).toBe(`$${contributes.problemMatchers[0].name}`);
});

test('a task that somebody wrote down checks what it names, with the program that is set', () => {
  played.settings.set('couplet.command', '/opt/couplet');
  const definition = { type: 'couplet', path: 'mill/site.couplet' };
  const task = provider.resolveTask({ definition, scope: played.folders[1] as object });
  expect(task.words[0]).toBe(definition);
  expect(task.words[1]).toBe(played.folders[1]);
  expect(task.words[4]).toEqual({ run: ['/opt/couplet', ['check', 'mill/site.couplet']] });
});

test('without a folder there is nothing to offer', () => {
  played.folders = [];
  expect(provider.provideTasks()).toEqual([]);
});
