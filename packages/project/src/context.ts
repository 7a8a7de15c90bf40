/**
 * Sites that a file belongs to although they were not asked for: a part of a site, checked by its name, is checked as the
 * part that it is. The files around are only looked through for their `use` lines, not parsed.
 */
import { isBundledUri, usedUri } from '@couplet/language';
import { decode, MOST_BYTES } from './decode.ts';
import { findFiles, normalUri, type Reader } from './reader.ts';
import { closureOf } from './sites.ts';

const USE_LINE = /^[ \t]*use[ \t]+"([^"\n]*)"/gm;
const SITE_LINE = /^[ \t]*site\b/m;

/** Files with `site` in a folder and below it that use one of `parts`, directly or through others; sorted. */
export async function sitesThatUse(
  reader: Reader,
  folder: string,
  parts: ReadonlySet<string>,
  wanted: (uri: string) => boolean,
): Promise<string[]> {
  const targets = new Map<string, string[]>();
  const sites: string[] = [];
  for (const address of await findFiles(reader, folder, wanted)) {
    const uri = normalUri(await reader.realPath(address));
    if (targets.has(uri)) continue;
    const { text = '' } = decode(uri, await reader.read(uri, MOST_BYTES));
    const used = [...text.matchAll(USE_LINE)]
      .flatMap(([, path = '']) => usedUri(uri, path) ?? [])
      .filter((target) => !isBundledUri(target));
    targets.set(uri, await Promise.all(used.map(async (each) => normalUri(await reader.realPath(each)))));
    if (SITE_LINE.test(text)) sites.push(uri);
  }
  const graph = { isSite: () => false, targets: (uri: string) => targets.get(uri) ?? [] };
  return sites.filter((site) => closureOf(graph, site).some((uri) => parts.has(uri)));
}
