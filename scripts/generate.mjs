/**
 * Writes what is generated from the grammar and the built-in library:
 *   packages/language/src/generated/{ast,grammar,module}.ts   by langium-cli
 *   packages/language/src/generated/builtin-library.ts        the text of packages/language/library/builtin.couplet
 *   packages/language/src/generated/library-files.ts          the texts beside it, which `use "library/…"` finds
 *   grammar/couplet.tmLanguage.json                           colours, with the grammar's own keywords
 * and, from the registry of rules and the examples of their pages, docs/rules/ and packages/rules/src/generated/pages.ts,
 * and docs/language.md from the grammar and the tables of the language.
 * `--check` writes nothing and exits 1 when a committed file differs from what would be written.
 * It needs nothing but node_modules.
 */
import { spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { textMateGrammar } from './textmate.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const generated = 'packages/language/src/generated';

function parserFiles() {
  const scratch = mkdtempSync(join(tmpdir(), 'couplet-generate-'));
  try {
    cpSync(join(root, 'grammar'), scratch, { recursive: true });
    const configPath = join(scratch, 'langium-config.json');
    const config = JSON.parse(readFileSync(configPath, 'utf8'));
    writeFileSync(configPath, JSON.stringify({ ...config, out: 'generated' }));
    const cli = join(root, 'node_modules/langium-cli/bin/langium.js');
    const run = spawnSync(process.execPath, [cli, 'generate', '-f', configPath], { cwd: scratch, encoding: 'utf8' });
    const files = ['ast.ts', 'grammar.ts', 'module.ts'];
    if (run.status !== 0 || files.some((file) => !existsSync(join(scratch, 'generated', file)))) {
      throw new Error(`The grammar could not be generated:\n${run.stdout}${run.stderr}`);
    }
    return files.map((file) => [`${generated}/${file}`, readFileSync(join(scratch, 'generated', file), 'utf8')]);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
}

const library = 'packages/language/library';
const builtin = 'builtin.couplet';

/** A text as an expression, a line a line, so that a change of one line is a change of one line. */
function textExpression(file, indent) {
  const lines = readFileSync(join(root, library, file), 'utf8')
    .replace(/\r\n/g, '\n')
    .split('\n');
  const body = lines.map((line) => `${indent}  ${JSON.stringify(line)},`).join('\n');
  return `[\n${body}\n${indent}].join('\\n')`;
}

function libraryFiles() {
  const head = (source) => `// Generated from ${source} by scripts/generate.mjs. Not to be edited.\n`;
  const names = readdirSync(join(root, library)).filter((name) => name.endsWith('.couplet') && name !== builtin);
  const entries = names.sort().map((name) => `  ['library/${name}', ${textExpression(name, '  ')}],\n`);
  return [
    [
      `${generated}/builtin-library.ts`,
      `${head(`${library}/${builtin}`)}export const BUILTIN_LIBRARY: string = ${textExpression(builtin, '')};\n`,
    ],
    [
      `${generated}/library-files.ts`,
      `${head(`${library}/`)}/** Texts by the path that \`use\` finds them under. */\nexport const LIBRARY_FILES: ReadonlyMap<string, string> = new Map([\n${entries.join('')}]);\n`,
    ],
  ];
}

function colourFile() {
  const text = readFileSync(join(root, 'grammar/couplet.langium'), 'utf8');
  return ['grammar/couplet.tmLanguage.json', `${JSON.stringify(textMateGrammar(text), null, 2)}\n`];
}

function isStale([file, text]) {
  const path = join(root, file);
  return !existsSync(path) || readFileSync(path, 'utf8') !== text;
}

/** Writes what is stale, or with `--check` says so. */
function settle(files) {
  for (const [file, text] of files.filter(isStale)) {
    if (process.argv.includes('--check')) {
      console.error(`${file} is not what would be generated now: run npm run generate`);
      process.exitCode = 1;
      continue;
    }
    writeFileSync(join(root, file), text);
    console.log(`wrote ${relative('.', join(root, file))}`);
  }
}

settle([...parserFiles(), ...libraryFiles(), colourFile()]);
// The pages are checked by the project itself, which needs the files above.
const { rulePageFiles } = await import('./rule-pages.ts');
settle(await rulePageFiles(root));
const { languageReference } = await import('./language-reference.ts');
settle([languageReference()]);
