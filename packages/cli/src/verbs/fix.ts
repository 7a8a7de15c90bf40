/** `couplet check --fix`: safe fixes, proven by solving again, written back to the disk. */
import { readFile, writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { fixAll } from '@couplet/project';
import { diskReader, shownPath } from '../disk.ts';
import { type Invocation, UsageError } from '../options.ts';
import { position } from '../output/report.ts';
import type { Terminal } from '../terminal.ts';
import { inputsOf, type SiteOptions } from './sites.ts';

/** A mark that some editors put before the text; a file that had one keeps it. */
const BYTE_ORDER_MARK = Buffer.from([0xef, 0xbb, 0xbf]);

/** One line for each fix that was applied, at the place where its finding stood. */
export async function fixPaths(invocation: Invocation, terminal: Terminal, options: SiteOptions): Promise<string[]> {
  const lines: string[] = [];
  for (const { around, files, folder } of await inputsOf(invocation, terminal)) {
    const { applied, texts } = await fixAll({ reader: diskReader, folder }, files, { ...options, around });
    for (const [uri, text] of texts) await write(uri, text, terminal);
    for (const { finding, fix } of applied) {
      const place = position(finding.place, (uri) => shownPath(uri, terminal.folder));
      lines.push(`${place}: fixed ${finding.code}: ${fix.title}`);
    }
  }
  return lines;
}

async function write(uri: string, text: string, terminal: Terminal): Promise<void> {
  try {
    const path = fileURLToPath(uri);
    const before = await readFile(path);
    await writeFile(path, before.subarray(0, 3).equals(BYTE_ORDER_MARK) ? `\ufeff${text}` : text);
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code ?? String(error);
    throw new UsageError(`${shownPath(uri, terminal.folder)} cannot be written: the system says ${code}`);
  }
}
