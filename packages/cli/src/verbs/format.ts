/** `couplet format`: the layout of files, written back or only compared. */
import { writeFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { type Content, decode, type Formatted, format as layOut, MOST_BYTES } from '@couplet/project';
import { diskReader, shownPath } from '../disk.ts';
import { UsageError } from '../options.ts';
import type { Terminal } from '../terminal.ts';
import { EXIT, type Exit, type Verb } from '../verb.ts';
import { readInputs } from './inputs.ts';

export const format: Verb = {
  name: 'format',
  takes: 'PATH…',
  says: 'lay out files, so that one change shows as one line',
  options: [
    { name: 'check', says: 'write nothing, and exit with status 1 where a file is laid out otherwise' },
    { name: 'skip', takes: 'PATH', repeats: true, says: 'leave this out where a folder is gone through' },
  ],
  more: [
    'A PATH is a .couplet file or a folder: then every .couplet file in it and below it.',
    'A statement with a syntax error is left exactly as it is; everything else in its file is laid out.',
    '',
    'Exit status: 0 every file is laid out, 1 with --check one is not, or one could not be read or written in full,',
    '2 nothing could be read, 3 an internal error.',
  ],

  async run({ options, words }, terminal) {
    if (words.length === 0) throw new UsageError("say what to lay out: 'couplet format PATH', '.' for this folder");
    const inputs = await readInputs({ paths: words, skip: options.get('skip') ?? [], from: terminal.folder });
    const uris = [...new Set(inputs.flatMap((each) => each.files))].sort();
    const work = new Work(terminal, options.has('check'));
    for (const uri of uris) await work.file(uri);
    return work.finish();
  },
};

class Work {
  private readonly terminal: Terminal;
  private readonly checks: boolean;
  private readonly trouble: string[] = [];
  private read = 0;
  private changed = 0;
  private complete = true;

  constructor(terminal: Terminal, checks: boolean) {
    this.terminal = terminal;
    this.checks = checks;
  }

  async file(uri: string): Promise<void> {
    const path = shownPath(uri, this.terminal.folder);
    const content = await diskReader.read(uri, MOST_BYTES);
    const { finding, text } = decode(uri, content);
    if (text === undefined) {
      this.trouble.push(`${path}: ${finding?.message}`);
      return;
    }
    this.read++;
    const formatted = layOut(text);
    for (const offset of formatted.unread) {
      this.complete = false;
      this.terminal.out(`${path}:${lineOf(text, offset)}: left as it is: this statement has a syntax error\n`);
    }
    if (formatted.edits.length > 0) await this.differs(uri, path, text, formatted, content);
  }

  finish(): Exit {
    if (this.read === 0) throw new UsageError(this.trouble.join('\n'));
    for (const line of this.trouble) this.terminal.err(`${line}\n`);
    const verb = this.checks ? 'to be laid out' : 'laid out';
    this.terminal.out(`${this.changed} of ${count(this.read)} ${verb}\n`);
    const failed = this.trouble.length > 0 || !this.complete || (this.checks && this.changed > 0);
    return failed ? EXIT.findings : EXIT.fine;
  }

  private async differs(uri: string, path: string, text: string, formatted: Formatted, content: Content) {
    if (this.checks) {
      this.changed++;
      const line = lineOf(text, formatted.edits[0]?.start ?? 0);
      this.terminal.out(`${path}:${line}: is laid out otherwise from here on\n`);
      return;
    }
    try {
      await writeFile(fileURLToPath(uri), byteOrderMark(content) + formatted.text);
    } catch (error) {
      const code = (error as NodeJS.ErrnoException).code ?? String(error);
      this.trouble.push(`${path}: This file cannot be written: the system says ${code}.`);
      return;
    }
    this.changed++;
    this.terminal.out(`${path}: laid out\n`);
  }
}

/** Reading drops the mark; a file that had one keeps it. */
function byteOrderMark(content: Content): string {
  if (content.sort !== 'bytes') return '';
  const [a, b, c] = content.bytes;
  return a === 0xef && b === 0xbb && c === 0xbf ? '\ufeff' : '';
}

function lineOf(text: string, offset: number): number {
  return text.slice(0, offset).split(/\r\n|\r|\n/).length;
}

function count(files: number): string {
  return files === 1 ? '1 file' : `${files} files`;
}
