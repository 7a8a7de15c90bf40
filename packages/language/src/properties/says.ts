/** Words of the syntax with one sentence each. The compiler asks for a row here when the grammar gains a word. */
import type { Kind, MemberKind } from '../generated/ast.ts';

export const KIND_SAYS: Readonly<Record<Kind, string>> = {
  unit: 'Equipment with members of its own: a controller, a panel, a detector, a module.',
  relay: 'A coil and the contacts that it works.',
  resistor: 'A resistor: `resistor RE = 2k2 +-1%`.',
  capacitor: 'A capacitor.',
  diode: 'A diode, met from its anode.',
  fuse: 'A fuse with its rated current.',
  load: 'A sounder, lamp, lock or module that draws current.',
  switch: 'A passive contact worked by the world: door contact, push button, float.',
  cable: 'A cable with its cores; only a cable joins two places.',
  supply: 'A supply with a plus and a minus.',
  battery: 'A battery with its ampere-hours.',
  arrester: 'A surge arrester with a line side and a protected side.',
  joint: 'A joint: one node, or a strip of numbered terminals.',
  assembly: 'A typical: components with their wiring, used many times.',
};

export const MEMBER_SAYS: Readonly<Record<MemberKind, string>> = {
  supply: 'A pair of terminals that the unit is fed by.',
  rail: 'A supply that the unit gives.',
  common: 'A 0 V of the unit.',
  output: 'An output that sinks, sources or does both.',
  input: 'An input, fed from outside or feeding its contact.',
  port: 'A terminal that can be output or input; `program` decides.',
  contact: 'A volt-free contact of the unit.',
  zone: 'Reads a supervised loop.',
  scheme: 'A set of bands that a zone can be programmed to.',
  mode: 'A way of working with its own figures.',
  terminal: 'A plain terminal.',
};

/** Words that begin a statement and are not kinds of component. */
export const STATEMENT_SAYS: Readonly<Record<string, string>> = {
  site: 'Makes this file a site and says what holds for all of it.',
  use: 'Brings in another file, by a path from this one.',
  place: 'Somewhere on site, with its ambient temperature.',
  value: 'A named value.',
  type: 'A type of component, used many times.',
  wire: 'Joins terminals in the order in which the current flows.',
  bond: 'Joins commons or earth of different systems on purpose.',
  spare: 'Left open on purpose.',
  program: 'A setting that must be made in a unit.',
  confirm: 'Zones that count only together.',
  case: 'A situation, read from top to bottom like a test sheet.',
  measured: 'Readings taken on site.',
  accept: 'Tolerates a finding, with the reason.',
  autonomy: 'How long a battery shall carry which cases.',
};
