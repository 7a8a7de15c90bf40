/** The requests of the preview, bound: each waits for the pass that computes what it tells. */
import { interruptAndCheck, URI } from 'langium';
import type { CancellationToken, Connection } from 'vscode-languageserver';
import type { Publisher } from '../diagnostics/publisher.ts';
import type { ServerServices } from '../services.ts';
import type { Pause, Sites } from '../sites/seam.ts';
import { drawingAnswer, nothing } from './answers.ts';
import { bandsAnswer, runtimeAnswer, timeLineAnswer } from './plot-answers.ts';
import { pointedAt } from './pointing.ts';
import type { Answer, Pointed, PreviewParams } from './protocol.ts';

/** Milliseconds that a preview waits for figures; then it says that there are none yet. */
const WAITS = 10_000;

type Answering = (
  sites: Sites | undefined,
  params: PreviewParams,
  pause: Pause,
) => Answer<unknown> | Promise<Answer<unknown>>;

const ANSWERS: Readonly<Record<string, Answering>> = {
  'couplet/drawing': drawingAnswer,
  'couplet/timeLine': timeLineAnswer,
  'couplet/bands': bandsAnswer,
  'couplet/runtime': runtimeAnswer,
};

export function addPreviewHandlers(
  connection: Connection,
  { shared, sites }: Pick<ServerServices, 'shared' | 'sites'>,
  publisher: Publisher,
): void {
  const { LangiumDocuments } = shared.workspace;
  const documentOf = (uri: string) => LangiumDocuments.getDocument(URI.parse(uri));
  /** Waits for the sites of a file; which ones use it is known for certain once all of them have been read. */
  const computed = async (uri: string, token: CancellationToken): Promise<boolean> => {
    if (documentOf(uri) !== undefined) await publisher.upToDate(WAITS, token, uri);
    const isOfSite = sites.current?.sitesOf(uri).some(({ design }) => !design.fragment) ?? false;
    return isOfSite || publisher.upToDate(WAITS, token);
  };
  for (const [method, answer] of Object.entries(ANSWERS)) {
    const answered = async (params: unknown, token: CancellationToken): Promise<Answer<unknown>> => {
      const asked = known(params);
      if (asked === undefined) return nothing('The request names no file.');
      if (!(await computed(asked.uri, token))) return nothing('The sites are still being computed.');
      return answer(sites.current, asked, () => interruptAndCheck(token));
    };
    connection.onRequest<unknown, unknown>(method, answered);
  }
  const pointed = async (params: unknown, token: CancellationToken): Promise<Pointed> => {
    const asked = known(params);
    if (asked === undefined) return { names: [] };
    await computed(asked.uri, token);
    return pointedAt(sites.current, asked, documentOf(asked.uri));
  };
  connection.onRequest<unknown, unknown>('couplet/pointed', pointed);
}

/** Files are spelled as the language's documents spell them. */
function known(params: unknown): PreviewParams | undefined {
  if (typeof params !== 'object' || params === null || !('uri' in params)) return undefined;
  const { uri } = params;
  return typeof uri === 'string' ? { ...params, uri: URI.parse(uri).toString() } : undefined;
}
