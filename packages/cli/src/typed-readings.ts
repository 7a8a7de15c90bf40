/** Readings typed on a command line, read by the language itself: they stand behind the text of the site's own file. */
import type { Content, Reader } from '@couplet/project';

/** A date that nobody measures on: it marks what was typed. */
export const TYPED_DATE = '9999-12-31';

const NEW_LINE = 10;

/** A site file says `site` at the start of a line. */
const SITE = /^[ \t]*site[ \t]/m;

export class TypedReadings implements Reader {
  private readonly below: Reader;
  private readonly readings: readonly string[];
  /** By file: the line, from 0, that the first reading stands on. */
  private readonly firstLine = new Map<string, number>();

  constructor(below: Reader, readings: readonly string[]) {
    this.below = below;
    // One reading is one line, so that what the language says of a line is said of a reading.
    this.readings = readings.map((reading) => reading.replaceAll(/[\r\n]+/g, ' '));
  }

  async read(uri: string, atMost: number): Promise<Content> {
    const content = await this.below.read(uri, atMost);
    const bytes =
      content.sort === 'text'
        ? new TextEncoder().encode(content.text)
        : content.sort === 'bytes'
          ? content.bytes
          : undefined;
    if (bytes === undefined || bytes.length > atMost || !SITE.test(new TextDecoder().decode(bytes))) return content;
    let lines = 0;
    for (const byte of bytes) if (byte === NEW_LINE) lines += 1;
    // A line of its own, then the statement's head, then the readings.
    this.firstLine.set(uri, lines + 2);
    const behind = new TextEncoder().encode(`\nmeasured ${TYPED_DATE} {\n${this.readings.join('\n')}\n}\n`);
    const joined = new Uint8Array(bytes.length + behind.length);
    joined.set(bytes);
    joined.set(behind, bytes.length);
    return { sort: 'bytes', bytes: joined };
  }

  list(folder: string) {
    return this.below.list(folder);
  }

  realPath(uri: string) {
    return this.below.realPath(uri);
  }

  /** The reading that a line of a file is, as it was typed; `undefined` where the line is the file's own. */
  readingAt(uri: string, line: number): string | undefined {
    const first = this.firstLine.get(uri);
    if (first === undefined || line < first - 1) return undefined;
    return this.readings[Math.min(Math.max(0, line - first), this.readings.length - 1)];
  }
}
