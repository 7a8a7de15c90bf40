/** Wires and bonds: what joins what, what is passed through, and how often it may be. */
import type { TerminalId } from '@couplet/engine';
import type { Bond, Reference, Wire } from '../generated/ast.ts';
import { type Element, elementOf } from './elements.ts';
import type { Part, Pass } from './part.ts';
import type { Scope } from './scope.ts';
import type { Site } from './site.ts';
import type { Spot } from './spots.ts';

export interface Chain {
  readonly node: Wire | Bond;
  readonly scope: Scope;
  readonly elements: readonly Element[];
}

interface Use {
  readonly node: Reference;
  readonly backwards: boolean;
}

/** Reads the chains of a site one after the other. */
export class Chains {
  readonly list: Chain[] = [];
  private readonly site: Site;
  /** First use of a way through a part, by its two terminals. */
  private readonly uses = new Map<string, Use>();
  private readonly alone = new Map<Part, Reference>();
  private readonly byTerminal = new Map<TerminalId, Reference>();

  constructor(site: Site) {
    this.site = site;
  }

  read(node: Wire | Bond, scope: Scope): void {
    const { site } = this;
    const elements = node.elements.map((each) => elementOf(site, each, scope));
    if (elements.length === 0) return;
    this.checkEnds(node, elements);
    for (const element of elements) this.note(element);
    for (let i = 1; i < elements.length; i++) {
      const one = leaveSpot(site, elements[i - 1] as Element);
      const other = enterSpot(site, elements[i] as Element);
      if (one !== undefined && other !== undefined) site.spots.unite(one, other);
    }
    this.list.push({ node, scope, elements });
  }

  /** What can be said only when every chain is read. */
  finish(): void {
    const { site } = this;
    for (const [part, node] of this.alone) {
      for (const [name, point] of part.points) {
        const other = point.terminal === undefined ? undefined : this.byTerminal.get(point.terminal);
        if (other === undefined) continue;
        const pole = [...part.points.keys()].find((each) => each.includes('-'));
        const message = `${part.name} stands here by its name alone, and ${part.name}.${name} is named elsewhere: write ${part.name}.${pole}.`;
        site.report('pole-form-needed', node, message, {
          related: [{ node: other, message: `${part.name}.${name} is named here.` }],
        });
        break;
      }
    }
  }

  private checkEnds(node: Wire | Bond, elements: readonly Element[]): void {
    const { site } = this;
    if (elements.length === 1) {
      if (elements[0]?.sort !== 'gap') site.report('chain-short', node, "A chain joins at least two: 'A -- B'.");
      return;
    }
    for (const [end, verb] of [
      [elements[0], 'begins'],
      [elements.at(-1), 'ends'],
    ] as const) {
      if (end === undefined || end.sort === 'gap' || end.sort === 'terminal') continue;
      const message = `A chain ${verb} at a terminal, a joint or earth; ${end.name} is passed through${endsOf(site, end)}.`;
      site.report('chain-end', end.node, message);
    }
  }

  private note(element: Element): void {
    if (element.sort === 'terminal') {
      for (const terminal of element.terminals) {
        if (!this.byTerminal.has(terminal)) this.byTerminal.set(terminal, element.node);
      }
    }
    if (element.sort !== 'pass') return;
    if (element.alone !== undefined && !this.alone.has(element.alone)) this.alone.set(element.alone, element.node);
    this.notePass(element, element.pass, element.backwards);
  }

  private notePass({ node, name }: Element, pass: Pass, backwards: boolean): void {
    const { site } = this;
    if (backwards && pass.minds !== undefined) {
      const message = `${name} is reversed: the current meets ${pass.minds} last.`;
      site.report('part-reversed', node, message, { severity: 'warning' });
    }
    const key = `${pass.first} ${pass.second}`;
    const before = this.uses.get(key);
    if (before === undefined) {
      this.uses.set(key, { node, backwards });
      return;
    }
    if (pass.repeat === 'free' || (pass.repeat === 'same-way' && before.backwards === backwards)) return;
    const elsewhere = site.sameFile(node, before.node) ? `on line ${site.line(before.node)}` : 'in another file';
    const related = [{ node: before.node, message: `${name} is passed through here first.` }];
    if (pass.repeat === 'same-way') {
      const message = `${name} is passed through the other way round ${elsewhere}; it stands the same way round in every chain.`;
      site.report('passed-both-ways', node, message, { related });
      return;
    }
    const end = site.terminals[pass.first]?.name;
    const message = `${name} is passed through a second time; the first is ${elsewhere}. To join one of its ends again, name it: ${end}.`;
    site.report('passed-twice', node, message, { related });
  }
}

/** 'name one of its ends, RE.1 or RE.2'. */
function endsOf(site: Site, element: Element): string {
  if (element.sort === 'pass') {
    const names = [element.pass.first, element.pass.second].map((terminal) => site.terminals[terminal]?.name);
    return `: name one of its ends, ${names.join(' or ')}`;
  }
  if (element.sort !== 'core') return '';
  const pieces = element.lines[0]?.pieces ?? [];
  const names = [pieces[0]?.first, pieces.at(-1)?.second].map((terminal) =>
    terminal === undefined ? '' : site.terminals[terminal]?.name,
  );
  return `: name one of its ends, ${names.join(' or ')}`;
}

export function enterSpot(site: Site, element: Element): Spot | undefined {
  switch (element.sort) {
    case 'terminal':
      return site.spotOf[element.terminals[0] as TerminalId];
    case 'pass':
      return site.spotOf[element.backwards ? element.pass.second : element.pass.first];
    case 'core':
      return element.left;
    case 'gap':
      return undefined;
  }
}

export function leaveSpot(site: Site, element: Element): Spot | undefined {
  switch (element.sort) {
    case 'pass':
      return site.spotOf[element.backwards ? element.pass.first : element.pass.second];
    case 'core':
      return element.right;
    default:
      return enterSpot(site, element);
  }
}
