/** One script out of the test files and the engine of a checkout: evaluated anew for every mutant, it leaves no state behind. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Script } from 'node:vm';
import { build } from 'esbuild';

/** Evaluates the script; every test file is a function that evaluates it, and with it what it imports of the engine. */
export type Bundle = (require: (name: string) => unknown) => Record<string, () => void>;

/** @param root the checkout whose engine is run, never another that a workspace link leads to */
export async function bundleOf(root: string, tests: readonly string[]): Promise<Bundle> {
  const files = tests.map((file) => `${JSON.stringify(file)}: () => require(${JSON.stringify(`./${file}`)})`);
  const made = await build({
    stdin: { contents: `module.exports = { ${files.join(',\n')} };`, resolveDir: root, loader: 'js' },
    bundle: true,
    write: false,
    format: 'cjs',
    platform: 'node',
    target: 'node24',
    logLevel: 'silent',
    alias: { '@couplet/engine': join(root, 'packages/engine/src/index.ts') },
    external: ['vitest', 'fast-check'],
    plugins: [
      {
        name: 'place of a test file',
        setup(under) {
          under.onLoad({ filter: /\/test\/.*\.ts$/ }, ({ path }) => ({
            loader: 'ts',
            contents: readFileSync(path, 'utf8').replaceAll(
              'import.meta.url',
              JSON.stringify(pathToFileURL(path).href),
            ),
          }));
        },
      },
    ],
  });
  const text = made.outputFiles[0]!.text;
  const wrapped = new Script(`(function (require, module, exports) {${text}\n})`).runInThisContext();
  return (require) => {
    const module = { exports: {} as Record<string, () => void> };
    wrapped(require, module, module.exports);
    return module.exports;
  };
}
