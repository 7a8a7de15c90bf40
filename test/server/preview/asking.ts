/** Asks a server for what a preview shows, again as long as it is still computing: a crowded machine takes its time. */
import type { Answer } from '../../../packages/server/src/preview/protocol.ts';
import type { Client } from '../client.ts';

/** The answer, once `enough` holds for it; without it, once it tells of computed sites. */
export async function askUntil<T>(
  client: Client,
  what: string,
  params: unknown,
  enough: (answer: Answer<T>) => boolean = () => true,
): Promise<Answer<T>> {
  for (;;) {
    const answer = await client.connection.sendRequest<Answer<T>>(`couplet/${what}`, params);
    const isComputing = answer.sort === 'nothing' && answer.because === 'The sites are still being computed.';
    if (!isComputing && enough(answer)) return answer;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
