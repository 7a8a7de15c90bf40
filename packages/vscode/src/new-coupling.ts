/** 'Couplet: New Coupling': asks what is joined to what and writes a site of it that has no finding but what is left open. */
import { commands, type Disposable, type TextDocument, Uri, window, workspace } from 'vscode';
import { type Answers, couplingText, fileName, nextQuestion } from './new-coupling-text.ts';

const TITLE = 'New coupling';

export function addNewCoupling(): Disposable {
  return commands.registerCommand('couplet.newCoupling', async () => {
    const answers = await ask();
    if (answers === undefined) return;
    await window.showTextDocument(await written(couplingText(answers), answers.title ?? TITLE));
  });
}

/** The answers, or undefined where somebody thinks better of it. */
async function ask(): Promise<Answers | undefined> {
  const title = await window.showInputBox({ title: TITLE, prompt: 'What is the site called?', value: TITLE });
  if (title === undefined) return undefined;
  let answers: Answers = { title };
  for (let next = nextQuestion(answers); next !== undefined; next = nextQuestion(answers)) {
    const choice = await window.showQuickPick(next.choices, { title: TITLE, placeHolder: next.words });
    if (choice === undefined) return undefined;
    answers = { ...answers, [next.asks]: choice.value };
  }
  return answers;
}

/** A file of the first folder under a name that is free; without a folder a text that is not saved yet. */
async function written(text: string, title: string): Promise<TextDocument> {
  const folder = workspace.workspaceFolders?.[0]?.uri;
  if (folder === undefined) return workspace.openTextDocument({ language: 'couplet', content: text });
  for (let count = 1; ; count += 1) {
    const uri = Uri.joinPath(folder, fileName(title, count));
    if (await isThere(uri)) continue;
    await workspace.fs.writeFile(uri, new TextEncoder().encode(text));
    return workspace.openTextDocument(uri);
  }
}

async function isThere(uri: Uri): Promise<boolean> {
  try {
    await workspace.fs.stat(uri);
    return true;
  } catch {
    return false;
  }
}
