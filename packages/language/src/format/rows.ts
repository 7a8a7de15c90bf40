/** A statement as rows: words with what stands between them, and the body that may end a row. */
import { scanQuantity } from '@couplet/engine';
import { type Element, lineEnds } from './elements.ts';
import type { BodyStyle, Marks } from './marks.ts';
import { spelling } from './spelling.ts';

export interface Word {
  readonly text: string;
  /** What parts it from the word before it, on one line. */
  readonly glue: '' | ' ' | '  ';
  /** Whether it begins a line. `first`: before any that may, in a long row: another place in a chain, a reason. */
  readonly line: 'never' | 'may' | 'first' | 'must';
  readonly note: boolean;
}

export interface Row {
  readonly words: readonly Word[];
  readonly body?: Body;
  /** A note behind the body. */
  readonly note?: string;
  /** A blank line before it. */
  readonly parted: boolean;
}

export interface Body {
  readonly style: BodyStyle;
  /** A note behind the opening brace. */
  readonly note?: string;
  readonly rows: readonly Row[];
  /** Written with a line end behind its opening brace. */
  readonly broken: boolean;
}

export interface RowOptions {
  readonly text: string;
  readonly elements: readonly Element[];
  readonly marks: Marks;
  isKeyword(word: string): boolean;
}

/** The row of one statement. */
export function rowOf(options: RowOptions): Row {
  const elements = options.elements.filter((each) => each.type === 'NOTE' || !options.marks.struck.has(each.start));
  return new RowReader({ ...options, elements }).row(false);
}

class RowReader {
  private readonly options: RowOptions;
  private next = 0;

  constructor(options: RowOptions) {
    this.options = options;
  }

  row(parted: boolean): Row {
    const words: Word[] = [];
    for (;;) {
      const element = this.element();
      if (element === undefined || element.type === '}') break;
      if (element.type === '{' && words.length > 0) {
        const body = this.body(element);
        return { words, body, ...this.noteBehind(), parted };
      }
      if (words.length > 0 && this.beginsRow()) break;
      words.push(this.word(words.at(-1)));
      this.next++;
    }
    return { words, parted };
  }

  private body(open: Element): Body {
    const style = this.options.marks.bodies.get(open.start) ?? 'lines';
    this.next++;
    const { note } = this.noteBehind();
    const broken = this.linesBefore() > 0;
    const rows: Row[] = [];
    for (;;) {
      const element = this.element();
      if (element === undefined) break;
      if (element.type === '}') {
        this.next++;
        break;
      }
      const parted = rows.length > 0 && this.linesBefore() > 1;
      if (element.type !== 'NOTE') {
        rows.push(this.row(parted));
        continue;
      }
      this.next++;
      rows.push({ words: [noteWord(element)], parted });
    }
    return { style, rows, broken, ...(note === undefined ? {} : { note }) };
  }

  /** Whether what comes next belongs to the next row: an item, or notes on their own lines before one. */
  private beginsRow(): boolean {
    const { elements, marks } = this.options;
    if (this.element()?.type === 'NOTE' && this.linesBefore() === 0) return false;
    let ahead = this.next;
    while (elements[ahead]?.type === 'NOTE') ahead++;
    const after = elements[ahead];
    return after === undefined || after.type === '}' || marks.items.has(after.start);
  }

  private word(before: Word | undefined): Word {
    const element = this.element() as Element;
    if (element.type === 'NOTE') return { ...noteWord(element), line: this.linesBefore() > 0 ? 'must' : 'never' };
    const text = spelling(element, this.options.marks.names.has(element.start));
    const glue = before === undefined ? '' : this.glue(element, before);
    return { text, glue, line: before === undefined ? 'never' : this.lineOf(element, before), note: false };
  }

  private glue(element: Element, before: Word): Word['glue'] {
    const { type } = element;
    const previous = this.element(-1) as Element;
    if (type === ',' || TIGHT.has(type) || TIGHT.has(previous.type)) return '';
    if (type === ':') return this.options.marks.colons.has(element.start) ? ' ' : '';
    // With one blank between them a number and a word could become one value.
    const number = before.text.replace(/^(?:\+-|[+-])/, '');
    const joined = VALUES.has(previous.type) && scanQuantity(`${number} ${element.text}`) !== number;
    return joined && /^[\p{L}%]/u.test(element.text) ? '  ' : ' ';
  }

  private lineOf(element: Element, before: Word): Word['line'] {
    if (before.note) return 'must';
    const { isKeyword, marks } = this.options;
    const previous = this.element(-1) as Element;
    const text = marks.texts.get(element.start);
    if (text === 'must') return text;
    const joint = previous.type === '--';
    const broken = this.linesBefore() > 0 || (joint && this.linesBefore(-1) > 0);
    if (joint) {
      if (broken) return 'must';
      return marks.cores.has(this.element(-2)?.end ?? -1) ? 'first' : 'may';
    }
    // Behind a line end a keyword would not be read as the name that it is here.
    const listed = previous.type === ',' && !isKeyword(element.text);
    if (!listed && text === undefined && !PARTS.has(element.type)) return 'never';
    if (broken || (listed && this.linesBefore(-1) > 0)) return 'must';
    return element.type === 'because' ? 'first' : 'may';
  }

  private noteBehind(): { readonly note?: string } {
    const element = this.element();
    if (element?.type !== 'NOTE' || this.linesBefore() > 0) return {};
    this.next++;
    return { note: noteWord(element).text };
  }

  private element(ahead = 0): Element | undefined {
    return this.options.elements[this.next + ahead];
  }

  /** Line ends right before the element that comes next. */
  private linesBefore(ahead = 0): number {
    const element = this.element(ahead);
    const before = this.element(ahead - 1);
    if (element === undefined || before === undefined) return 0;
    return lineEnds(this.options.text, before.end, element.start);
  }
}

const TIGHT: ReadonlySet<string> = new Set(['.', '-', '+']);
const VALUES: ReadonlySet<string> = new Set(['NUMBER', 'SIGNED', 'TOLERANCE']);
/** Words that begin a part of a statement that may stand on a line of its own. */
const PARTS: ReadonlySet<string> = new Set(['because', 'until']);

function noteWord(element: Element): Word {
  return { text: spelling(element, false), glue: '  ', line: 'must', note: true };
}
