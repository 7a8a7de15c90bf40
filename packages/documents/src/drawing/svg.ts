/** A drawing as SVG: the same text for the same data, on every machine. */

import { type Box, type BoxText, NAME_GAP } from './boxes.ts';
import type { Drawing, DrawnFigure, DrawnNode, DrawnTerminal, DrawnWire } from './contract.ts';
import { junctionsOf } from './junctions.ts';
import type { DrawingLayout, LaidNode, LaidWire, Point } from './layout.ts';
import { brief, memberLine, nodeLines, nodeTitle, terminalTitle, wireTitle } from './lines.ts';
import { styleOf, type Theme } from './style.ts';
import { BLADES, BY_HAND, CHANGEOVER_BLADES, LATE, LENGTH, type Stroke, SYMBOLS, THROW } from './symbols.ts';
import { escaped, FIGURE_SIZE, LINE, px, shortened, widthOf, wrapped } from './text.ts';

/** Room above the drawing for its title. */
const HEAD = 30;

/**
 * The drawing at its moment. What can be chosen carries `data-ref` ('node K1', 'wire K1.A2 -- level.Q1', 'terminal K1.A1',
 * 'frame pit', 'core W1.GN') and takes the focus.
 */
export function svgOf(drawing: Drawing, layout: DrawingLayout, theme: Theme = {}): string {
  const { shape } = drawing;
  const reached = endsIn(layout);
  const width = Math.max(layout.width, widthOf(titleOf(drawing), 13) + 32);
  const height = layout.height + HEAD;
  const parts = [
    `<svg xmlns="http://www.w3.org/2000/svg" class="couplet" role="img" viewBox="0 0 ${px(width)} ${px(height)}" width="${px(width)}" height="${px(height)}" aria-labelledby="couplet-title couplet-desc">`,
    `<title id="couplet-title">${escaped(titleOf(drawing))}</title>`,
    `<desc id="couplet-desc">${escaped(describe(drawing))}</desc>`,
    ...(theme.style === false ? [] : [`<style>${styleOf(theme)}</style>`]),
    `<text class="title" x="16" y="20">${escaped(titleOf(drawing))}</text>`,
    `<g transform="translate(0 ${HEAD})">`,
    ...shape.frames.flatMap((frame) => frameSvg(frame, layout)),
    ...shape.wires.map((wire) => wireSvg(wire, drawing, layout.wires.get(wire.id)!)),
    ...junctionsOf(shape, layout).map(({ x, y }) => `<circle class="solid" cx="${px(x)}" cy="${px(y)}" r="3"/>`),
    ...shape.nodes.map((node) => nodeSvg(node, drawing, layout.nodes.get(node.id)!, reached)),
    ...shape.wires.flatMap((wire) => netSvg(wire, drawing, layout.wires.get(wire.id)!)),
    '</g>',
    '</svg>',
  ];
  return `${parts.join('\n')}\n`;
}

/** Where wires end. */
type Reached = ReadonlySet<string>;

function endsIn({ wires }: DrawingLayout): Reached {
  return new Set([...wires.values()].flatMap(({ points }) => [points[0]!, points.at(-1)!].map(spot)));
}

function spot({ x, y }: Point): string {
  return `${x.toFixed(1)} ${y.toFixed(1)}`;
}

function titleOf({ case: name, cases, moment, shape, site }: Drawing): string {
  const label = cases.find((each) => each.name === name)?.moments[moment]?.label ?? '';
  const when = name === 'rest' && label === 'at rest' ? 'rest' : `${name}, ${label}`;
  return `${site}: ${shape.title} (${when})`;
}

function describe({ shape }: Drawing): string {
  const nodes = shape.nodes.map(({ name }) => name);
  return `Circuit diagram of ${[...new Set(nodes)].join(', ')}, with ${shape.wires.length} wires.`;
}

function frameSvg({ id, title }: Drawing['shape']['frames'][number], layout: DrawingLayout): string[] {
  const area = layout.frames.get(id);
  if (area === undefined) return [];
  const { height, width, x, y } = area;
  return [
    `<g data-ref="${escaped(`frame ${id}`)}" tabindex="0" aria-label="${escaped(title)}"><title>${escaped(title)}</title>` +
      `<rect class="frame" x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}" rx="6"/>` +
      `<rect class="mark" x="${px(x)}" y="${px(y)}" width="${px(width)}" height="${px(height)}" rx="6"/>` +
      `<text class="place" x="${px(x + 12)}" y="${px(y + 19)}">${escaped(shortened(title, width - 20))}</text></g>`,
  ];
}

function wireSvg(wire: DrawnWire, { figures }: Drawing, { points }: LaidWire): string {
  const d = points.map(({ x, y }, index) => `${index === 0 ? 'M' : 'L'}${px(x)} ${px(y)}`).join('');
  const title = escaped(wireTitle(wire, figures.wires[wire.id]));
  const dashed = wire.bond === undefined ? '' : ' dashed';
  return `<g data-ref="${escaped(`wire ${wire.id}`)}" tabindex="0" aria-label="${title}"><title>${title}</title><path class="hit" d="${d}"/><path class="wire${dashed}" d="${d}"/></g>`;
}

/** Volts of a net, once, where the layout kept room for them. */
function netSvg(wire: DrawnWire, { figures }: Drawing, { label }: LaidWire): string[] {
  const volts = figures.wires[wire.id]?.volts;
  if (label === undefined || volts?.sort !== 'value') return [];
  const x = px(label.x + label.width / 2);
  return [
    `<text class="figure halo in-frame" text-anchor="middle" x="${x}" y="${px(label.y + label.height / 2 - 4)}">${escaped(volts.text)}</text>`,
  ];
}

function nodeSvg(node: DrawnNode, drawing: Drawing, laid: LaidNode, reached: Reached): string {
  const figures = drawing.figures.nodes[node.id];
  const { box, height, width, x, y } = laid;
  const title = escaped(nodeTitle(node, figures));
  const inner = [
    `<rect class="box" width="${px(width)}" height="${px(height)}"/>`,
    ...bodySvg(node, drawing, laid, reached),
    ...box.texts.map(textSvg),
    ...figureSvg(node, drawing, laid),
    `<rect class="mark" x="-3" y="-3" width="${px(width + 6)}" height="${px(height + 6)}" rx="4"/>`,
  ];
  return `<g data-ref="${escaped(`node ${node.id}`)}" tabindex="0" aria-label="${title}" transform="translate(${px(x)} ${px(y)})"><title>${title}</title>${inner.join('')}</g>`;
}

function textSvg({ anchor, data, role, text, x, y }: BoxText): string {
  const at = `text-anchor="${anchor}" x="${px(x)}" y="${px(y)}"`;
  if (data === undefined) return `<text class="${role}" ${at}>${escaped(text)}</text>`;
  return `<text ${at}><tspan class="${role}">${escaped(text)}</tspan><tspan dx="${NAME_GAP}">${escaped(data)}</tspan></text>`;
}

function figureSvg(node: DrawnNode, { figures }: Drawing, { box: { figures: slot } }: LaidNode): string[] {
  if (slot === undefined) return [];
  const lines = nodeLines(node, figures.nodes[node.id]).flatMap(({ lack, text }) =>
    (lack ? wrapped(text, slot.width, slot.lines + 1, FIGURE_SIZE) : [shortened(text, slot.width, FIGURE_SIZE)]).map(
      (each) => ({
        lack,
        text: each,
      }),
    ),
  );
  return lines
    .slice(0, slot.lines + 1)
    .map(
      ({ lack, text }, index) =>
        `<text class="${lack ? 'lack' : 'figure'}" text-anchor="${slot.anchor}" x="${px(slot.x)}" y="${px(slot.y + index * LINE)}">${escaped(text)}</text>`,
    );
}

function bodySvg(node: DrawnNode, drawing: Drawing, laid: LaidNode, reached: Reached): string[] {
  switch (laid.box.form) {
    case 'block':
      return blockSvg(node, drawing, laid);
    case 'cable':
      return cableSvg(node, drawing, laid);
    case 'point':
      return pointSvg(node, laid, reached);
    default:
      return symbolSvg(node, drawing, laid);
  }
}

function strokes(list: readonly Stroke[], className = 'line'): string {
  return list
    .map(({ d, dashed, fill }) => `<path class="${fill ?? className}${dashed ? ' dashed' : ''}" d="${d}"/>`)
    .join('');
}

/** A part between two terminals, or a changeover contact: leads to its box's edge, and its symbol in the state shown. */
function symbolSvg(node: DrawnNode, drawing: Drawing, { box, width }: LaidNode): string[] {
  const { art, form, ports } = box;
  const leads: string[] = [];
  const drawn = node.terminals.slice(0, node.symbol === 'changeover' ? 3 : 2);
  for (const { id } of node.terminals) {
    const port = ports.get(id)!;
    if (form === 'upright') {
      leads.push(uprightLead(node, id, box));
    } else if (drawn.some((each) => each.id === id)) {
      leads.push(`M${px(port.x)} ${px(port.y)}H${px(port.side === 'west' ? art.x : width - art.x)}`);
    } else {
      const x = art.x + LENGTH / 2;
      leads.push(`M${px(port.x)} ${px(port.y)}H${px(x)}V${px(art.y + SYMBOLS[node.symbol].half)}`);
    }
  }
  const move =
    form === 'upright'
      ? `translate(${px(art.x)} ${px(art.y)})${art.flip ? ' scale(-1 1)' : ''} rotate(90)`
      : `translate(${px(art.flip ? art.x + LENGTH : art.x)} ${px(art.y)})${art.flip ? ' scale(-1 1)' : ''}`;
  const body = strokes(SYMBOLS[node.symbol].strokes) + strokes(bladesOf(node, drawing), 'blade');
  return [`<path class="line" d="${leads.join('')}"/>`, `<g transform="${move}">${body}</g>`];
}

/** From the edge to the end of an upright symbol; the farther throw of a changeover contact passes over the nearer. */
function uprightLead({ symbol, terminals }: DrawnNode, id: string, { art, ports }: Box): string {
  const { x, y } = ports.get(id)!;
  const at = terminals.findIndex((each) => each.id === id);
  const towards = art.flip ? -1 : 1;
  const shift = symbol === 'changeover' && at > 0 ? towards * (at === 1 ? THROW : -THROW) : 0;
  return `M${px(x)} ${px(y)}H${px(art.x + shift)}V${px(symbol === 'changeover' && at > 0 ? art.y : y)}`;
}

/** The moving part of a contact as it stands. */
function bladesOf(node: DrawnNode, { figures }: Drawing): readonly Stroke[] {
  const { symbol } = node;
  if (symbol !== 'make' && symbol !== 'break' && symbol !== 'changeover') return [];
  const { closed = [] } = figures.nodes[node.id] ?? {};
  const more = [...(node.late ? [LATE] : []), ...(node.byHand ? [BY_HAND] : [])];
  if (symbol !== 'changeover') return [...BLADES[symbol][closed[0]?.state ?? 'undecided'], ...more];
  const [, first, second] = node.terminals;
  const isClosed = (terminal: DrawnTerminal | undefined) =>
    closed.some(({ a, b, state }) => state === 'closed' && (a === terminal?.id || b === terminal?.id));
  const position = isClosed(first) ? 'first' : isClosed(second) ? 'second' : 'undecided';
  return [CHANGEOVER_BLADES[position], ...more];
}

function blockSvg(node: DrawnNode, drawing: Drawing, { box, height, width }: LaidNode): string[] {
  const lines = [`<rect class="block" width="${px(width)}" height="${px(height)}" rx="3"/>`];
  const state = drawing.figures.nodes[node.id]?.states ?? [];
  const unusual = state.filter((word) => word !== 'on');
  if (unusual.length > 0) {
    // On the line of the name, which stands in the middle.
    const room = (width - widthOf(node.name)) / 2 - 12;
    const text = shortened(unusual.join(' or '), room, FIGURE_SIZE);
    lines.push(`<text class="lack" text-anchor="end" x="${px(width - 6)}" y="${px(LINE)}">${escaped(text)}</text>`);
  }
  for (const terminal of node.terminals) {
    const port = box.ports.get(terminal.id)!;
    const west = port.side === 'west';
    const anchor = west ? 'start' : 'end';
    const x = px(port.x + (west ? 9 : -9));
    const figures = drawing.figures.members[terminal.id];
    const line = memberLine(terminal.member, figures);
    const room = width - 18;
    const title = escaped(terminalTitle(terminal, figures));
    const parts = [
      `<circle class="paper" cx="${px(port.x)}" cy="${px(port.y)}" r="3.5"/>`,
      `<circle class="mark" cx="${px(port.x)}" cy="${px(port.y)}" r="6"/>`,
      `<text class="value" text-anchor="${anchor}" x="${x}" y="${px(port.y + 4)}">${escaped(shortened(terminal.label, room))}</text>`,
    ];
    if (line !== undefined) {
      const text = escaped(shortened(line.text, room, FIGURE_SIZE));
      parts.push(
        `<text class="${line.lack ? 'lack' : 'figure'}" text-anchor="${anchor}" x="${x}" y="${px(port.y + 18)}">${text}</text>`,
      );
    }
    lines.push(
      `<g data-ref="${escaped(`terminal ${terminal.id}`)}" tabindex="0" aria-label="${title}"><title>${title}</title>${parts.join('')}</g>`,
    );
  }
  return lines;
}

/** A sheath around the cores, each a line with its colour and its current. */
function cableSvg(node: DrawnNode, drawing: Drawing, { box, height, width }: LaidNode): string[] {
  const top = box.art.y;
  const lines = [
    `<rect class="sheath" x="16" y="${px(top - 6)}" width="${px(width - 32)}" height="${px(height - top + 2)}" rx="${px(Math.min(18, (height - top) / 2))}"/>`,
  ];
  for (const { label, unused, way } of node.cores ?? []) {
    const ends = node.terminals.filter((terminal) => terminal.way === way);
    const y = box.ports.get(ends[0]?.id ?? '')?.y;
    if (y === undefined) continue;
    const figures = ends.map(({ id }) => drawing.figures.members[id]).find((each) => each !== undefined);
    const amps = figures?.figures.find(({ quantity }) => quantity === 'amps');
    const title = escaped(terminalTitle({ id: `${node.name}.${label}`, label, member: 'core' }, figures));
    const [from, to] = unused ? [16, width - 16] : [0, width];
    lines.push(
      `<g data-ref="${escaped(`core ${way}`)}" tabindex="0" aria-label="${title}"><title>${title}</title>` +
        `<path class="hit" d="M${px(from)} ${px(y)}H${px(to)}"/><path class="wire${unused ? ' unused' : ''}" d="M${px(from)} ${px(y)}H${px(to)}"/>` +
        `<text text-anchor="middle" x="${px(width / 2)}" y="${px(y - 4)}">${coreWords(label, unused, amps, width - 40)}</text></g>`,
    );
  }
  return lines;
}

/** A core's colour or number, apart from what flows in it: '7' and '876 µA'. */
function coreWords(label: string, unused: true | undefined, amps: DrawnFigure | undefined, width: number): string {
  const name = shortened(label, width);
  const room = width - widthOf(name) - NAME_GAP;
  const [role, told] = unused
    ? ['note', 'spare']
    : amps?.sort === 'value'
      ? ['figure', amps.text.replace(/^-/, '')]
      : ['lack', amps?.sort === 'not-evaluated' ? brief(amps.text) : ''];
  const words = room > 20 && told !== '' ? escaped(shortened(told, room, FIGURE_SIZE)) : '';
  const behind = words === '' ? '' : `<tspan class="${role}" dx="${NAME_GAP}">${words}</tspan>`;
  return `<tspan class="name">${escaped(name)}</tspan>${behind}`;
}

/** A dot, with a line to each side from which wires come. */
function pointSvg({ symbol }: DrawnNode, { box, x, y }: LaidNode, reached: Reached): string[] {
  const { art, ports } = box;
  const used = [...ports.values()].filter((port) => reached.has(spot({ x: x + port.x, y: y + port.y })));
  const lines = used.map((port) => `M${px(port.x)} ${px(port.y)}H${px(art.x)}`);
  return [
    ...(lines.length === 0 ? [] : [`<path class="line" d="${lines.join('')}"/>`]),
    `<g transform="translate(${px(art.x)} ${px(art.y)})">${strokes(SYMBOLS[symbol].strokes)}</g>`,
  ];
}
