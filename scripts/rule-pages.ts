/**
 * Pages of the rules: `npm run generate` writes into each what the registry says and what its failing example is told,
 * and makes the index and the text that `couplet explain` prints. What people wrote in a page is left as it is; a rule
 * that is computed and has no page gets one with empty sections.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { isComputed, RULE_NAMES, type RuleName } from '@couplet/rules';
import { blocksOf } from './rule-pages/blocks.ts';
import { checkExamples, type Example } from './rule-pages/examples.ts';
import { indexPage } from './rule-pages/index-page.ts';
import { pageForTerminal, readPage, writePage } from './rule-pages/page.ts';

const PAGES = 'docs/rules';
const BUNDLED = 'packages/rules/src/generated/pages.ts';

/** Every generated file as path and text, paths below `root`. */
export async function rulePageFiles(root: string): Promise<[path: string, text: string][]> {
  const names = RULE_NAMES.filter(isComputed);
  const written = new Map(names.map((name) => [name, textOf(root, name)]));
  const examples: Example[] = [];
  for (const [name, text] of written) {
    const { failing } = readPage(text);
    if (failing !== undefined) examples.push({ name, kind: 'failing', text: failing });
  }
  const outcomes = new Map((await checkExamples(examples)).map((outcome) => [outcome.name, outcome]));
  const pages = new Map(
    [...written].map(([name, text]) => [name, writePage(name, text, blocksOf(name, outcomes.get(name)))]),
  );
  return [
    ...[...pages].map(([name, text]): [string, string] => [`${PAGES}/${name}.md`, text]),
    [`${PAGES}/README.md`, indexPage()],
    [BUNDLED, bundled(pages)],
  ];
}

function textOf(root: string, name: RuleName): string {
  const path = join(root, PAGES, `${name}.md`);
  return existsSync(path) ? readFileSync(path, 'utf8') : '';
}

function bundled(pages: ReadonlyMap<RuleName, string>): string {
  const entries = [...pages].map(([name, text]) => {
    const lines = pageForTerminal(text)
      .split('\n')
      .map((line) => `    ${JSON.stringify(line)},`);
    return `  ${JSON.stringify(name)}: [\n${lines.join('\n')}\n  ],`;
  });
  return (
    `// Generated from ${PAGES} by scripts/generate.mjs. Not to be edited.\n` +
    `/** The pages of the rules for a terminal, line by line. */\n` +
    `export const RULE_PAGES: Readonly<Record<string, readonly string[]>> = {\n${entries.join('\n')}\n};\n`
  );
}
