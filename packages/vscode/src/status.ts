/** What the engine is doing, in the status bar of a file of this language. */
import { type Disposable, LanguageStatusSeverity, languages } from 'vscode';
import { type BaseLanguageClient, State } from 'vscode-languageclient';
import { onChecked } from './checked.ts';

const WORDS: Readonly<Record<State, string>> = {
  [State.Stopped]: 'stopped',
  [State.Starting]: 'starting',
  [State.Running]: 'checking',
  [State.StartFailed]: 'did not start',
};

export function addStatus(client: BaseLanguageClient): Disposable {
  const item = languages.createLanguageStatusItem('couplet.engine', { language: 'couplet' });
  item.name = 'Couplet';
  item.text = 'Couplet';
  const show = (state: State, detail = WORDS[state]) => {
    const isDown = state === State.Stopped || state === State.StartFailed;
    item.detail = detail;
    item.severity = isDown ? LanguageStatusSeverity.Error : LanguageStatusSeverity.Information;
    item.busy = state === State.Starting || detail === WORDS[State.Running];
    item.command = isDown
      ? { title: 'Restart', command: 'couplet.restartServer' }
      : { title: 'Show output', command: 'couplet.showOutput' };
  };
  show(State.Starting);
  client.onDidChangeState(({ newState }) => show(newState));
  onChecked(client, () => show(State.Running, 'checked'));
  return item;
}
