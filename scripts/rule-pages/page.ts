/** A rule's page as text: its front matter, its sections in their fixed order, its two examples, and what is generated into it. */

/** The headings of every page, in order. */
export const HEADINGS = [
  'What it finds',
  'Why it matters',
  'Condition and threshold',
  'Failing example',
  'Passing example',
  'How to cure it',
  'Origin',
] as const;

export type Heading = (typeof HEADINGS)[number];

/** Blocks that are written by the generator, each at the beginning or at the end of a part of the page. */
export const BLOCKS = ['facts', 'thresholds', 'told', 'origin'] as const;

export type Block = (typeof BLOCKS)[number];

export interface RulePage {
  /** Codes that the failing example gives besides the page's own: none is an error. */
  readonly also: readonly string[];
  /** What people wrote in each section; generated blocks are taken out. */
  readonly sections: ReadonlyMap<Heading, string>;
  /** Headings as they stand in the text. */
  readonly headings: readonly string[];
  readonly failing?: string;
  readonly passing?: string;
}

const FRONT_MATTER = /^---\n([\s\S]*?)\n---\n/;
const EXAMPLE = /```couplet\n([\s\S]*?)```/;

export function readPage(text: string): RulePage {
  const front = FRONT_MATTER.exec(text)?.[1] ?? '';
  const own = withoutBlocks(text.replace(FRONT_MATTER, ''));
  const parts = own.split(/^## (.+)\n/m);
  const headings: string[] = [];
  const sections = new Map<Heading, string>();
  for (let index = 1; index < parts.length; index += 2) {
    const heading = parts[index]!.trim();
    headings.push(heading);
    sections.set(heading as Heading, parts[index + 1]!.trim());
  }
  return {
    also: words(front, 'also'),
    sections,
    headings,
    failing: EXAMPLE.exec(sections.get('Failing example') ?? '')?.[1],
    passing: EXAMPLE.exec(sections.get('Passing example') ?? '')?.[1],
  };
}

function words(front: string, key: string): readonly string[] {
  const said = new RegExp(`^${key}: (.+)$`, 'm').exec(front)?.[1];
  return said === undefined ? [] : said.split(',').map((word) => word.trim());
}

const open = (block: Block) => `<!-- ${block}: generated -->`;
const CLOSE = '<!-- end -->';

function withoutBlocks(text: string): string {
  return text.replace(/<!-- [a-z]+: generated -->\n[\s\S]*?<!-- end -->\n*/g, '');
}

/** The page with its blocks as they shall be; what people wrote stays as it is. An empty block is left out. */
export function writePage(name: string, text: string, blocks: Readonly<Record<Block, string>>): string {
  const front = FRONT_MATTER.exec(text)?.[0] ?? '';
  const { sections } = readPage(text);
  const block = (which: Block) => (blocks[which] === '' ? [] : [`${open(which)}\n${blocks[which]}\n${CLOSE}`]);
  const paragraphs = [`# ${name}`, ...block('facts')];
  for (const heading of HEADINGS) {
    paragraphs.push(`## ${heading}`);
    if (heading === 'Origin') paragraphs.push(...block('origin'));
    const own = sections.get(heading) ?? '';
    if (own !== '') paragraphs.push(own);
    if (heading === 'Condition and threshold') paragraphs.push(...block('thresholds'));
    if (heading === 'Failing example') paragraphs.push(...block('told'));
  }
  return `${front}${paragraphs.join('\n\n')}\n`;
}

/** The page for a terminal: no front matter, no marks, links by their name only, examples indented. */
export function pageForTerminal(text: string): string {
  const lines: string[] = [];
  let isExample = false;
  for (const line of text.replace(FRONT_MATTER, '').split('\n')) {
    if (line.startsWith('<!-- ')) continue;
    if (line.startsWith('```')) {
      isExample = !isExample;
      continue;
    }
    if (isExample) lines.push(line === '' ? '' : `    ${line}`);
    else lines.push(plain(line));
  }
  return lines
    .join('\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim();
}

function plain(line: string): string {
  return line.replace(/\[([^\]]+)\]\([^)]+\)/g, '$1').replace(/\*\*([^*]+)\*\*/g, '$1');
}
