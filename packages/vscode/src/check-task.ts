/** The check of the command line as a task of each folder, its findings read into the problems view. */
import { type Disposable, ShellExecution, Task, TaskGroup, TaskScope, tasks, workspace } from 'vscode';

const TYPE = 'couplet';

/** `couplet.command` names the program: the extension brings the language server, not the command. */
export function addCheckTask(): Disposable {
  const taskFor = (definition: { readonly type: string; readonly path?: string }, scope: Task['scope']) => {
    const command = workspace.getConfiguration('couplet').get<string>('command', 'couplet');
    const execution = new ShellExecution(command, ['check', definition.path ?? '.']);
    const task = new Task(definition, scope ?? TaskScope.Workspace, 'check', 'Couplet', execution, '$couplet');
    task.group = TaskGroup.Build;
    return task;
  };
  return tasks.registerTaskProvider(TYPE, {
    provideTasks: () => (workspace.workspaceFolders ?? []).map((folder) => taskFor({ type: TYPE }, folder)),
    resolveTask: ({ definition, scope }) => taskFor(definition, scope),
  });
}
