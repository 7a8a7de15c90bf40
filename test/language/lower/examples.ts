/** The examples as texts by name, the site first. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const examples = join(import.meta.dirname, '..', '..', '..', 'examples');

export const SITES = ['tidewater-mill', 'cold-store', 'glasshouse', 'archive'] as const;

export function example(site: (typeof SITES)[number]): Record<string, string> {
  const types = readdirSync(join(examples, 'types')).filter((name) => name.endsWith('.couplet'));
  const names = [`${site}/site.couplet`, ...types.map((name) => `types/${name}`)];
  return Object.fromEntries(names.map((name) => [name, readFileSync(join(examples, name), 'utf8')]));
}
