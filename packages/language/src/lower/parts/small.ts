/** Resistors, capacitors, diodes, fuses, loads, arresters and joints. */
import {
  type Arrester,
  type Capacitor,
  type Datum,
  type Diode,
  exact,
  type Fuse,
  type Load,
  type Plain,
  type Resistor,
} from '@couplet/engine';
import type { PartBuilder } from './builder.ts';

export function buildResistor(b: PartBuilder): void {
  const amount = b.facts.amount('=', 'ohm');
  const tolerance = amount?.tolerance;
  b.add<Resistor>({
    kind: 'resistor',
    ...b.head(),
    ...b.through(['1', '2'], { repeat: 'once' }),
    ohms: b.facts.datum('=', 'ohm'),
    tolerance: tolerance?.relative === true ? Math.max(tolerance.below, tolerance.above) : undefined,
  });
}

export function buildCapacitor(b: PartBuilder): void {
  const minds = b.facts.choice('polarised')?.word === 'yes' ? 'its plus' : undefined;
  b.add<Capacitor>({
    kind: 'capacitor',
    ...b.head(),
    ...b.through(['plus', 'minus'], { repeat: 'once', minds }),
    farads: b.facts.datum('=', 'F'),
  });
}

export function buildDiode(b: PartBuilder): void {
  const { facts } = b;
  b.add<Diode>({
    kind: 'diode',
    ...b.head(),
    ...b.through(['A', 'K'], { repeat: 'once', minds: 'its anode' }),
    rated: facts.datum('=', 'A'),
    drop: facts.datum('drop') ?? exact(0.7, b.origin, 'drop taken as 0.7 V'),
    slope: facts.datum('slope'),
    reverse: facts.datum('reverse'),
    clamps: facts.datum('clamps'),
  });
}

export function buildFuse(b: PartBuilder): void {
  b.add<Fuse>({
    kind: 'fuse',
    ...b.head(),
    ...b.through(['1', '2'], { repeat: 'same-way' }),
    rated: b.facts.datum('=', 'A'),
    ohms: b.facts.datum('ohms') ?? exact(0, b.origin, 'intact fuse taken as 0 ohm (common practice, no source)'),
    speed: b.facts.choice('speed'),
  });
}

export function buildLoad(b: PartBuilder): void {
  const { facts } = b;
  const works = facts.datum('works');
  b.noteAlternating('=', 'works');
  b.add<Load>({
    kind: 'load',
    ...b.head(),
    ...b.through(['plus', 'minus'], { repeat: 'once' }),
    rating: loadRating(b),
    style: facts.choice<'resistive' | 'constant-current' | 'constant-power'>('style'),
    works,
    offBelow: facts.datum('off-below') ?? assumedOffBelow(b, works),
    inrush: inrushOf(b),
    inductance: facts.datum('inductance'),
    suppressor: b.suppressor(),
    polarised: facts.choice('polarised'),
    modes: b.modes(),
  });
}

function loadRating(b: PartBuilder): Load['rating'] {
  const pair = b.facts.pair('=');
  if (pair === undefined) return undefined;
  const dimension = pair.read.sort === 'pair' ? pair.read.left.dimension : pair.read.dimension;
  if (dimension === 'ohm') return { sort: 'ohms', ohms: pair.left };
  if (dimension === 'A') return { sort: 'amps', amps: pair.left, atVolts: pair.right };
  if (dimension === 'W') return { sort: 'watts', watts: pair.left, atVolts: pair.right };
  return undefined;
}

/** A tenth of the lower end of the working range. */
function assumedOffBelow(b: PartBuilder, works: Datum | undefined): Datum | undefined {
  if (works === undefined || b.facts.has('off-below')) return undefined;
  return exact(works.least * 0.1, b.origin, 'off-below taken as 10 % of the lower end of works');
}

function inrushOf(b: PartBuilder): Load['inrush'] {
  const pair = b.facts.pair('inrush');
  if (pair === undefined) return undefined;
  const { read } = pair;
  const dimension = read.sort === 'pair' ? read.left.dimension : read.dimension;
  const size = dimension === 'ratio' ? { factor: pair.left } : { amps: pair.left };
  return { ...size, seconds: pair.right, origin: b.facts.at(read.node) };
}

/** Every line is a part of its own between the line side and the protected side. */
export function buildArrester(b: PartBuilder): void {
  const { facts } = b;
  const lines = Math.max(1, Math.round(facts.datum('lines')?.usual ?? 1));
  const owner = b.next;
  b.part.id = owner;
  const earth = b.terminal('E', owner);
  for (let line = 0; line < lines; line++) {
    const names = [String(line * 2 + 1), String(line * 2 + 2)] as const;
    const component = b.next;
    const a = b.terminal(names[0], component);
    const z = b.terminal(names[1], component);
    const pass = { component, first: a, second: z, repeat: 'once' } as const;
    b.point(`${names[0]}-${names[1]}`, { component, pass });
    if (lines === 1) b.part.alone = { pass };
    const head = line === 0 ? b.head() : { ...b.inner(facts, `${names[0]}-${names[1]}`, owner) };
    b.add<Arrester>({
      kind: 'arrester',
      ...head,
      a,
      b: z,
      earth,
      ohms: facts.datum('ohms') ?? exact(0, b.origin),
      clamps: facts.datum('clamps'),
    });
  }
}

/** One node under its own name, or as many numbered nodes as it has terminals. */
export function buildJoint(b: PartBuilder): void {
  const count = b.facts.amount('terminals')?.usual;
  if (count === undefined) {
    b.part.id = b.next;
    const a = b.site.terminal(b.part.name, b.next, b.origin, b.part.spot);
    b.part.alone = { terminal: a };
    b.add<Plain>({ kind: 'joint', ...b.head(), a });
    return;
  }
  b.part.id = b.next;
  for (let number = 1; number <= Math.min(count, MOST_TERMINALS); number++) {
    const id = b.next;
    const a = b.terminal(String(number), id);
    b.point(String(number), { component: id });
    b.add<Plain>({ kind: 'joint', ...b.head(), name: `${b.part.name}.${number}`, a });
  }
}

const MOST_TERMINALS = 1000;
