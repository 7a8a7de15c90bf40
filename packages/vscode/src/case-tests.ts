/** The cases of the sites in the editor's testing view: found, run, and run again when a file is saved. */
import {
  type CancellationToken,
  type Disposable,
  Location,
  Range,
  type TestItem,
  TestMessage,
  TestRunProfileKind,
  TestRunRequest,
  tests,
  Uri,
  workspace,
} from 'vscode';
import type { BaseLanguageClient } from 'vscode-languageclient';
import { onChecked } from './checked.ts';

/** Answers of the server, as `packages/server/src/features/cases.ts` describes them. */
interface Place {
  readonly uri: string;
  readonly range: { readonly start: Point; readonly end: Point };
}

interface Point {
  readonly line: number;
  readonly character: number;
}

interface CaseTest extends Place {
  readonly id: string;
  readonly name: string;
  readonly description?: string;
  readonly root: string;
  readonly site: string;
}

interface CaseOutcome {
  readonly id: string;
  readonly outcome: 'passed' | 'failed' | 'skipped';
  readonly failures: readonly (Place & { readonly message: string })[];
}

/** Adds the view's content. It follows every complete check of the server. */
export function addCaseTests(client: BaseLanguageClient): Disposable {
  const controller = tests.createTestController('couplet', 'Couplet');
  let shown = '';
  const refresh = async () => {
    const cases = await client.sendRequest<CaseTest[]>('couplet/cases');
    // Outcomes belong to the items: where nothing moved, those stay.
    const listed = JSON.stringify(cases);
    if (listed === shown) return;
    shown = listed;
    const bySite = Map.groupBy(cases, ({ root }) => root);
    controller.items.replace(
      [...bySite].map(([root, own]) => {
        const site = controller.createTestItem(root, own[0]?.site ?? root, Uri.parse(root));
        site.children.replace(own.map((each) => itemOf(each)));
        return site;
      }),
    );
  };
  const itemOf = ({ description, id, name, range, uri }: CaseTest): TestItem => {
    const item = controller.createTestItem(id, name, Uri.parse(uri));
    item.range = rangeOf(range);
    if (description !== undefined) item.description = description;
    return item;
  };
  const run = async (request: TestRunRequest, token: CancellationToken) => {
    if (controller.items.size === 0) await refresh();
    const items = casesOf(request.include ?? [...controller.items].map(([, item]) => item)).filter(
      (item) => !request.exclude?.includes(item),
    );
    const testRun = controller.createTestRun(request);
    for (const item of items) testRun.started(item);
    const ids = items.map(({ id }) => id);
    try {
      const outcomes = await client.sendRequest<CaseOutcome[]>('couplet/runCases', { ids }, token);
      const byId = new Map(outcomes.map((each) => [each.id, each]));
      for (const item of items) {
        const outcome = byId.get(item.id);
        if (outcome === undefined || outcome.outcome === 'skipped') testRun.skipped(item);
        else if (outcome.outcome === 'passed') testRun.passed(item);
        else testRun.failed(item, outcome.failures.map(messageOf));
        for (const { message } of outcome?.failures ?? []) testRun.appendOutput(`${item.label}: ${message}\r\n`);
      }
    } finally {
      testRun.end();
    }
  };

  controller.refreshHandler = refresh;
  controller.resolveHandler = refresh;
  controller.createRunProfile(
    'Run',
    TestRunProfileKind.Run,
    async (request, token) => {
      if (!request.continuous) return run(request, token);
      const saved = workspace.onDidSaveTextDocument(({ languageId }) => {
        if (languageId === 'couplet') void run(new TestRunRequest(request.include, request.exclude), token);
      });
      token.onCancellationRequested(() => saved.dispose());
    },
    true,
    undefined,
    true,
  );
  onChecked(client, () => void refresh());
  return controller;
}

/** The cases among items and below them. */
function casesOf(items: readonly TestItem[]): TestItem[] {
  return items.flatMap((item) =>
    item.children.size === 0 ? [item] : casesOf([...item.children].map(([, each]) => each)),
  );
}

/** One sentence with both: side by side, a figure with its spread and a comparison would look like two texts. */
function messageOf({ message, range, uri }: CaseOutcome['failures'][number]): TestMessage {
  const said = new TestMessage(message);
  said.location = new Location(Uri.parse(uri), rangeOf(range));
  return said;
}

function rangeOf({ end, start }: Place['range']): Range {
  return new Range(start.line, start.character, end.line, end.character);
}
