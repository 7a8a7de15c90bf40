/** The command in this process, its words caught; and as a process of its own. */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { coloured, type Exit, plain, run } from '@couplet/cli';
import { onTestFinished } from 'vitest';

export const ROOT = join(import.meta.dirname, '..', '..');

export interface Outcome {
  readonly exit: Exit;
  readonly out: string;
  readonly err: string;
}

export async function couplet(args: readonly string[], folder = ROOT, colour = false): Promise<Outcome> {
  let out = '';
  let err = '';
  const exit = await run(args, {
    out: (text) => {
      out += text;
    },
    err: (text) => {
      err += text;
    },
    folder,
    paint: colour ? coloured : plain,
    watched: false,
  });
  return { exit, out, err };
}

/** The sources as a process, without a build between. */
export function coupletProcess(args: readonly string[], folder = ROOT, environment: Record<string, string> = {}) {
  const main = join(ROOT, 'packages', 'cli', 'src', 'main.ts');
  const { PATH = '' } = process.env;
  const result = spawnSync(process.execPath, [main, ...args], {
    cwd: folder,
    encoding: 'utf8',
    env: { PATH, ...environment },
    maxBuffer: 64e6,
  });
  return { exit: result.status, out: result.stdout, err: result.stderr };
}

/** A folder with these files, gone when the test is. */
export function folderOf(files: Readonly<Record<string, string | Uint8Array>>): string {
  const folder = mkdtempSync(join(tmpdir(), 'couplet-test-'));
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  for (const [path, content] of Object.entries(files)) {
    const file = join(folder, path);
    mkdirSync(dirname(file), { recursive: true });
    writeFileSync(file, content);
  }
  return folder;
}
