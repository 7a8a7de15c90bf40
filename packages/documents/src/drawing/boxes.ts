/**
 * The box that a node takes: its symbol, its words, room for its figures, and where its terminals lie. All in px from
 * the box's upper left corner. Terminals of blocks and cables get their order from the layout.
 */
import type { DrawnNode, DrawnTerminal } from './contract.ts';
import { isBlock, isPoint, type Lie, type Side } from './sides.ts';
import { LENGTH, SYMBOLS, THROW } from './symbols.ts';
import { LINE, widthOf, wrapped } from './text.ts';

export type TextRole = 'name' | 'value' | 'label' | 'note';

export interface BoxText {
  readonly x: number;
  /** Of the baseline. */
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly role: TextRole;
  readonly text: string;
  /** Data behind a name, on its line. */
  readonly data?: string;
}

/** A line of text before it has a place. */
type Line = Omit<BoxText, 'x' | 'y' | 'anchor'>;

export interface BoxPort {
  readonly x: number;
  readonly y: number;
  readonly side: Side;
}

/** Where figures go: lines from `y` downwards. */
export interface FigureSlot {
  readonly x: number;
  readonly y: number;
  readonly anchor: 'start' | 'middle' | 'end';
  readonly width: number;
  readonly lines: number;
}

export interface Box {
  readonly form: 'along' | 'upright' | 'block' | 'cable' | 'point';
  readonly width: number;
  readonly height: number;
  /** Where the symbol's grid begins, turned by a quarter where upright, `flip` with its first terminal at the far end. */
  readonly art: { readonly x: number; readonly y: number; readonly flip: boolean };
  readonly ports: ReadonlyMap<string, BoxPort>;
  readonly texts: readonly BoxText[];
  readonly figures?: FigureSlot;
}

const PAD = 10;
const LEAST_WIDTH = 132;
/** px between a name and the data behind it. */
export const NAME_GAP = 7;
const HEAD_WIDTH = 150;
export const PORT_PITCH = 36;
export const CORE_PITCH = 28;
/** px that a member's figure takes beside its terminal. */
const MEMBER_WIDTH = 118;
const FIGURED: ReadonlySet<string> = new Set(['zone', 'input', 'output', 'source', 'feed']);

/** Lines that are kept for figures below or beside a symbol; none elsewhere. */
const FIGURE_LINES: Readonly<Record<string, number>> = {
  relay: 2,
  load: 2,
  source: 1,
  resistor: 1,
  contact: 2,
  fuse: 1,
  diode: 1,
  capacitor: 1,
  arrester: 1,
};

/** `order` gives the terminals of blocks and cables from top to bottom, by side. */
export function boxOf(node: DrawnNode, lie: Lie, order?: (node: DrawnNode) => readonly DrawnTerminal[]): Box {
  const terminals = order?.(node) ?? node.terminals;
  if (isBlock(node)) return blockBox(node, terminals, lie);
  if (node.symbol === 'cable') return cableBox(node, terminals, lie);
  if (isPoint(node)) return pointBox(node);
  return lie.upright.has(node.id) ? uprightBox(node, lie) : alongBox(node, lie);
}

/** Name with its values, then what it is for. */
function headOf({ description, name, symbol, values }: DrawnNode): readonly Line[] {
  const shown = values.slice(0, 2).join(', ');
  const head: Line[] = [{ role: 'name', text: name }];
  if (shown !== '') {
    const together: Line = { role: 'name', text: name, data: shown };
    if (lineWidth(together) <= HEAD_WIDTH && symbol !== 'cable') head[0] = together;
    else head.push(...wrapped(shown, HEAD_WIDTH, 2).map((text) => ({ role: 'value' as const, text })));
  }
  const notes = description === undefined ? [] : wrapped(description, HEAD_WIDTH, 2);
  return [...head, ...notes.map((text) => ({ role: 'note' as const, text }))];
}

function lineWidth({ data, role, text }: Line): number {
  if (role === 'note') return widthOf(text, 11);
  return widthOf(text) + (data === undefined ? 0 : NAME_GAP + widthOf(data));
}

function alongBox(node: DrawnNode, lie: Lie): Box {
  const { half } = SYMBOLS[node.symbol];
  const head = headOf(node);
  const lines = FIGURE_LINES[node.kind] ?? 0;
  const width = Math.max(LEAST_WIDTH, ...head.map((line) => lineWidth(line) + 2 * PAD));
  const axis = head.length * LINE + half + (node.symbol === 'changeover' ? 14 : 8);
  const extra = node.terminals.slice(node.symbol === 'changeover' ? 3 : 2);
  const below = axis + half + 6 + extra.length * 18;
  const height = below + lines * LINE + 4;
  const [first] = node.terminals;
  const flip = (lie.sides.get(first!.id) === 'east') !== (node.symbol === 'changeover');
  const ports = new Map<string, BoxPort>();
  const place = (terminal: DrawnTerminal, y: number) => {
    const side = lie.sides.get(terminal.id)!;
    ports.set(terminal.id, { side, x: side === 'west' ? 0 : width, y });
  };
  if (node.symbol === 'changeover') {
    const [common, first, second] = node.terminals;
    place(common!, axis);
    place(first!, axis - THROW);
    place(second!, axis + THROW);
  } else {
    for (const terminal of node.terminals.slice(0, 2)) place(terminal, axis);
  }
  for (const [index, terminal] of extra.entries()) place(terminal, axis + half + 12 + index * 18);
  const texts = stacked(head, width / 2, 'middle', LINE - 3);
  return {
    form: 'along',
    width,
    height,
    art: { x: (width - LENGTH) / 2, y: axis, flip },
    ports,
    texts: [...texts, ...portLabels(node, ports)],
    ...(lines === 0
      ? {}
      : { figures: { x: width / 2, y: below + LINE - 4, anchor: 'middle', width: width - 4, lines } }),
  };
}

/** px by which the farther throw of an upright changeover contact passes over the nearer. */
const OVER = 16;

function uprightBox(node: DrawnNode, lie: Lie): Box {
  const { half } = SYMBOLS[node.symbol];
  const head = headOf(node);
  const lines = FIGURE_LINES[node.kind] ?? 0;
  const extra = node.symbol === 'changeover' ? [] : node.terminals.slice(2);
  const top = node.symbol === 'changeover' ? 14 + OVER : 14;
  const beside = Math.max(...head.map(lineWidth), lines > 0 ? 128 : 0);
  const lead = 26;
  const width = lead + 2 * half + 8 + beside + 4;
  const height = Math.max(top + LENGTH + 10 + extra.length * 18, (head.length + lines) * LINE + 12);
  const side = lie.sides.get(node.terminals[0]!.id)!;
  const west = side === 'west';
  const axis = west ? lead + half : width - lead - half;
  const begin = Math.max(top, Math.round((height - LENGTH - extra.length * 18) / 2));
  const ports = new Map<string, BoxPort>();
  const x = west ? 0 : width;
  const heights =
    node.symbol === 'changeover'
      ? [LENGTH, 0, -OVER]
      : [0, LENGTH, ...extra.map((_, index) => LENGTH + (index + 1) * 18)];
  for (const [index, { id }] of node.terminals.entries()) ports.set(id, { side, x, y: begin + (heights[index] ?? 0) });
  const textX = west ? axis + half + 8 : axis - half - 8;
  const anchor = west ? 'start' : 'end';
  const from = (height - (head.length + lines) * LINE) / 2 + LINE - 3;
  return {
    form: 'upright',
    width,
    height,
    art: { x: axis, y: begin, flip: west },
    ports,
    texts: [...stacked(head, textX, anchor, from), ...portLabels(node, ports)],
    ...(lines === 0 ? {} : { figures: { x: textX, y: from + head.length * LINE, anchor, width: beside, lines } }),
  };
}

function blockBox(node: DrawnNode, terminals: readonly DrawnTerminal[], lie: Lie): Box {
  const head = headOf(node);
  const header = head.length * LINE + 12;
  const rows = { west: 0, east: 0 };
  const widths = { west: 0, east: 0 };
  const ports = new Map<string, BoxPort>();
  for (const { id, label, member } of terminals) {
    const side = lie.sides.get(id)!;
    ports.set(id, { side, x: 0, y: header + rows[side]++ * PORT_PITCH + 12 });
    const room = Math.max(widthOf(label), FIGURED.has(member) ? MEMBER_WIDTH : 0) + 14;
    widths[side] = Math.max(widths[side], room);
  }
  const sides = widths.west + widths.east + (widths.west > 0 && widths.east > 0 ? 16 : 0);
  const width = Math.max(LEAST_WIDTH, sides, ...head.map((line) => lineWidth(line) + 2 * PAD));
  const height = header + Math.max(rows.west, rows.east, 1) * PORT_PITCH;
  const placed = new Map([...ports].map(([id, port]) => [id, port.side === 'west' ? port : { ...port, x: width }]));
  return {
    form: 'block',
    width,
    height,
    art: { x: 0, y: 0, flip: false },
    ports: placed,
    texts: stacked(head, width / 2, 'middle', LINE),
  };
}

function cableBox(node: DrawnNode, terminals: readonly DrawnTerminal[], lie: Lie): Box {
  const head = headOf(node);
  const header = head.length * LINE + 14;
  const width = Math.max(120, ...head.map((line) => lineWidth(line) + 2 * PAD));
  const rows = new Map<string, number>();
  for (const { way = '' } of terminals) if (!rows.has(way)) rows.set(way, rows.size);
  const ports = new Map<string, BoxPort>();
  for (const { id, way = '' } of terminals) {
    const side = lie.sides.get(id)!;
    ports.set(id, { side, x: side === 'west' ? 0 : width, y: header + rows.get(way)! * CORE_PITCH + 14 });
  }
  return {
    form: 'cable',
    width,
    height: header + rows.size * CORE_PITCH + 12,
    art: { x: 0, y: header, flip: false },
    ports,
    texts: stacked(head, width / 2, 'middle', LINE - 3),
  };
}

/** A point with its name above; it has a port for each side and not for each wire. */
function pointBox({ name, symbol, terminals }: DrawnNode): Box {
  const label = symbol === 'earth' ? '' : name;
  const width = Math.max(20, widthOf(label) + 4);
  const axis = label === '' ? 6 : LINE + 6;
  const id = terminals[0]?.id ?? name;
  return {
    form: 'point',
    width,
    height: axis + (symbol === 'earth' ? 24 : 8),
    art: { x: width / 2, y: axis, flip: false },
    ports: new Map([
      [pointPort(id, 'west'), { side: 'west', x: 0, y: axis }],
      [pointPort(id, 'east'), { side: 'east', x: width, y: axis }],
    ]),
    texts: label === '' ? [] : stacked([{ role: 'name', text: label }], width / 2, 'middle', LINE - 4),
  };
}

/** The port of a point's terminal by which wires come from one side. */
export function pointPort(terminal: string, side: Side): string {
  return `${terminal} ${side}`;
}

function stacked(lines: readonly Line[], x: number, anchor: BoxText['anchor'], y: number): BoxText[] {
  return lines.map((line, index) => ({ ...line, x, y: y + index * LINE, anchor }));
}

/** Labels of a part's terminals, above its leads. Parts that may be turned round have none. */
function portLabels({ kind, terminals }: DrawnNode, ports: ReadonlyMap<string, BoxPort>): BoxText[] {
  if (kind === 'resistor' || kind === 'fuse') return [];
  return terminals.flatMap(({ id, label }) => {
    const port = ports.get(id);
    if (port === undefined) return [];
    const west = port.side === 'west';
    const text = POLES[label] ?? label;
    return [{ role: 'label', text, x: port.x + (west ? 3 : -3), y: port.y - 4, anchor: west ? 'start' : 'end' }];
  });
}

const POLES: Readonly<Record<string, string>> = { plus: '+', minus: '−' };
