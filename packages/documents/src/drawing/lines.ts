/** The figures of a moment in the few lines that a drawing has room for, and all of them in the words of a tooltip. */
import type {
  DrawnFigure,
  DrawnNode,
  DrawnTerminal,
  DrawnWire,
  MemberFigures,
  NodeFigures,
  WireFigures,
} from './contract.ts';

export interface FigureLine {
  readonly text: string;
  readonly lack: boolean;
}

/** Quantities by line and kind; the states stand before the first. */
const LINES: Readonly<Record<string, readonly (readonly DrawnFigure['quantity'][])[]>> = {
  relay: [['volts'], ['amps']],
  load: [['volts'], ['amps', 'watts']],
  source: [['volts', 'amps']],
  fuse: [['amps']],
  contact: [['amps']],
};
const ANY: readonly (readonly DrawnFigure['quantity'][])[] = [['volts', 'amps']];

export function nodeLines(node: DrawnNode, figures: NodeFigures | undefined): readonly FigureLine[] {
  if (figures === undefined) return [];
  if (node.kind === 'contact') return contactLines(node, figures);
  const lacking = figures.figures.find(({ sort }) => sort === 'not-evaluated');
  const states = node.kind === 'source' || node.kind === 'fuse' ? exceptional(figures.states) : figures.states;
  if (lacking !== undefined) {
    const state = states.length > 0 ? [{ text: states.join(' or '), lack: false }] : [];
    return [...state, { text: lacking.text, lack: true }];
  }
  if (figures.figures.length > 0 && figures.figures.every(({ sort }) => sort === 'no-connection')) {
    const words = [states.join(' or '), 'no connection'].filter((text) => text !== '');
    return words.map((text) => ({ text, lack: false }));
  }
  if (states.length > 1) {
    // Two states leave no room beside them.
    const words = [states.join(' or '), told(figures.figures, ['volts', 'amps'])].filter((text) => text !== '');
    return words.map((text) => ({ text, lack: false }));
  }
  const rows = (LINES[node.kind] ?? ANY).map((quantities) => told(figures.figures, quantities));
  const first = [states.join(' or '), rows[0]].filter((text) => text !== '' && text !== undefined).join(' · ');
  return [first, ...rows.slice(1)].filter((text) => text !== '').map((text) => ({ text, lack: false }));
}

/** What is as it should be needs no word. */
function exceptional(states: readonly string[]): readonly string[] {
  return states.length === 1 && (states[0] === 'on' || states[0] === 'intact') ? [] : states;
}

/** Texts of some quantities, each said once; that one of them has no connection only where none has a figure. */
function told(figures: readonly DrawnFigure[], quantities: readonly DrawnFigure['quantity'][]): string {
  const wanted = quantities.flatMap((quantity) => figures.filter((each) => each.quantity === quantity));
  const values = wanted.filter(({ sort }) => sort === 'value');
  const texts = (values.length > 0 ? values : wanted).map(({ text }) => text);
  return [...new Set(texts)].join(' · ');
}

function contactLines(node: DrawnNode, { closed = [], figures, states }: NodeFigures): readonly FigureLine[] {
  const label = (id: string) => node.terminals.find((terminal) => terminal.id === id)?.label ?? id;
  const sure = closed.filter(({ state }) => state === 'closed');
  const unsure = closed.some(({ state }) => state === 'undecided');
  const amps = figures.map(({ sort, text }) => ({ text, lack: sort === 'not-evaluated' }));
  if (unsure) {
    const text = states.length === 0 ? 'state not evaluated' : 'open or closed';
    return [{ text, lack: true }, ...amps.slice(0, 1)];
  }
  const words = closed.length > 1 ? sure.map(({ a, b }) => `${label(a)}–${label(b)} closed`).join(', ') : undefined;
  const state = words ?? (sure.length > 0 ? 'closed' : 'open');
  return [{ text: state, lack: false }, ...amps.slice(0, 1)];
}

/** Beside a terminal of a unit: what a zone reads, what an output carries. */
export function memberLine(member: string, figures: MemberFigures | undefined): FigureLine | undefined {
  if (figures === undefined) return undefined;
  const lacking = figures.figures.find(({ sort }) => sort === 'not-evaluated');
  if (lacking !== undefined) return { text: brief(lacking.text), lack: true };
  const wanted = MEMBER_QUANTITIES[member];
  if (wanted === undefined) return undefined;
  const states = member === 'source' || member === 'feed' ? '' : figures.states.join(' or ');
  const apart = states !== '' && figures.figures.every(({ sort }) => sort === 'no-connection');
  const words = new Set([states, figures.states.length > 1 || apart ? '' : told(figures.figures, wanted)]);
  const text = [...words].filter((each) => each !== '').join(' ');
  return text === '' ? undefined : { text, lack: false };
}

/** What is missing, where there is no room to say that it is not evaluated for that. */
export function brief(text: string): string {
  return text.replace(/^not evaluated: /, '');
}

const MEMBER_QUANTITIES: Readonly<Record<string, readonly DrawnFigure['quantity'][]>> = {
  zone: ['ohms'],
  input: ['amps'],
  output: ['amps'],
  source: ['volts', 'amps'],
  feed: ['volts', 'amps'],
};

/** 'volts A1 to A2 12.3 V (10.9 V .. 14.1 V)'. */
export function figureWords({ between, quantity, spread, text }: DrawnFigure): string {
  const label = between === undefined ? quantity : `${quantity} ${between}`;
  return `${label} ${text}${spread === undefined ? '' : ` (${spread})`}`;
}

export function nodeTitle(node: DrawnNode, figures: NodeFigures | undefined): string {
  const { description, name, values } = node;
  const head = description === undefined ? name : `${name}: ${description}`;
  const facts = [...values, ...(node.suppressor === undefined ? [] : [`suppression: ${node.suppressor}`])];
  return [head, ...(facts.length > 0 ? [facts.join(', ')] : []), ...memberWords(figures)].join('\n');
}

export function terminalTitle({ id, spare }: DrawnTerminal, figures: MemberFigures | undefined): string {
  return [`${id}${spare ? ' (spare)' : ''}`, ...memberWords(figures)].join('\n');
}

function memberWords(figures: MemberFigures | undefined): readonly string[] {
  if (figures === undefined) return [];
  const states = figures.states.length > 0 ? [figures.states.join(' or ')] : [];
  return [...states, ...figures.figures.map(figureWords)];
}

export function wireTitle({ bond, from, to }: DrawnWire, figures: WireFigures | undefined): string {
  const lines = [`${bond === undefined ? 'wire' : 'bond'} ${from} to ${to}`];
  if (bond !== undefined) lines.push(bond);
  if (figures?.volts !== undefined) lines.push(figureWords(figures.volts));
  if (figures?.amps !== undefined) {
    const way = figures.forward === undefined ? '' : figures.forward ? `, ${from} to ${to}` : `, ${to} to ${from}`;
    lines.push(`amps ${figures.amps.text}${way}`);
  }
  return lines.join('\n');
}
