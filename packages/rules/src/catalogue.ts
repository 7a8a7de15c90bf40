/**
 * Every rule by name: one row a rule. A name is a code that people write in `accept` and `limits`; it is never reused.
 * A row says what is true of a rule whether it is computed yet or not; what computes it is in `rules/`.
 */
import type { MatterName } from './matters.ts';

export type RuleGroup =
  | 'output'
  | 'load'
  | 'coil'
  | 'contact'
  | 'loop'
  | 'time'
  | 'supply'
  | 'cable and protection'
  | 'documentation'
  | 'safety'
  | 'computation';

export interface CatalogueRow {
  readonly group: RuleGroup;
  /** The gravest severity it reports. */
  readonly severity: 'error' | 'warning' | 'information';
  /** The condition for a finding, in one line. */
  readonly summary: string;
  /** Where condition and threshold come from. */
  readonly origin: string;
  /** What must be present in a site for the rule to have anything to judge. */
  readonly concerns: MatterName;
  /** Present and false for the few that nobody may accept. */
  readonly acceptable?: false;
}

type Letter = 'E' | 'W' | 'I';
const SEVERITY = { E: 'error', W: 'warning', I: 'information' } as const;

function rows(group: RuleGroup) {
  return (severity: Letter, concerns: MatterName, summary: string, origin: string): CatalogueRow => ({
    group,
    severity: SEVERITY[severity],
    summary,
    origin,
    concerns,
  });
}

const output = rows('output');
const load = rows('load');
const coil = rows('coil');
const contact = rows('contact');
const loop = rows('loop');
const time = rows('time');
const supply = rows('supply');
const cable = rows('cable and protection');
const documentation = rows('documentation');
const safety = rows('safety');
const computation = rows('computation');

const CP = 'common practice, no source';
const MEMORY = 'from memory, to be confirmed against the text';

export const CATALOGUE = {
  'output-overloaded': output(
    'E',
    'output',
    'an output must carry more than its rating, at whichever supply end is worse and with cold coils',
    `rating of the output; warning level: derating, ${CP}`,
  ),
  'output-inrush-exceeded': output(
    'E',
    'load on an output',
    'the inrush of what an output feeds is above its peak',
    CP,
  ),
  'output-voltage-exceeded': output(
    'E',
    'output',
    'an output that is off must hold more volts than it withstands',
    'semiconductor rating',
  ),
  'no-return-path': output(
    'E',
    'consumer',
    'the path of a driven current does not close at the source that it comes from',
    "Kirchhoff's current law",
  ),
  'output-polarity-reversed': output(
    'E',
    'output',
    'a sourcing output stands at the minus side of a load, or a sinking one at its plus side',
    'direction of the output',
  ),
  'leakage-holds-load': output(
    'E',
    'output',
    'the leakage of an output that is off keeps a load or input above its drop-out',
    "Ohm's law",
  ),
  'back-feed': output(
    'E',
    'several sources',
    'a source or output that is off and unpowered is fed backwards by another one',
    "Kirchhoff's laws",
  ),
  'chattering-output': output(
    'E',
    'pulsed output',
    'a pulsed output is on or off for less time than what it drives needs',
    `EN 50131-1, 400 ms (${MEMORY})`,
  ),
  'reset-state-undeclared': output(
    'W',
    'output',
    'nothing says in which state an output stands at power-up, at reset or when its link is lost',
    CP,
  ),
  'port-role-unset': output(
    'E',
    'anything',
    'a terminal that can be output or input is used and not programmed as either, or against it',
    'meaning of the terminal',
  ),
  'contact-unpowered-undeclared': output(
    'W',
    'contact of a unit',
    'nothing says where the contact of a unit goes when the unit is dead',
    CP,
  ),

  'load-undervoltage': load('E', 'load', 'a load that is on sees less volts than it works at', 'data of the load'),
  'load-overvoltage': load('E', 'load', 'a load sees more volts than it works at', 'data of the load'),
  'worst-mode-missing': load(
    'W',
    'modes',
    'a device with a mode that draws more is given with its quiescent current only',
    CP,
  ),
  'load-polarity-reversed': load('E', 'load', 'a polarised load sees reverse volts', 'data of the load'),

  'coil-may-not-operate': coil(
    'E',
    'relay',
    'at the least supply the hot coil of a relay gets less than it needs to operate',
    'IEC 61810-1; copper 0.00393/K',
  ),
  'relay-may-drop-out': coil(
    'E',
    'relay',
    'a relay that shall stay operated sees less than it holds at',
    'IEC 61810-1; copper 0.00393/K',
  ),
  'coil-undervoltage': coil(
    'W',
    'relay',
    'coil volts at the least supply lie below the declared range of the coil',
    `IEC 61810-1 (${MEMORY})`,
  ),
  'coil-overvoltage': coil(
    'E',
    'relay',
    'coil volts at the most supply lie above the range of the coil',
    `IEC 61810-1 (${MEMORY})`,
  ),
  'coil-may-not-release': coil(
    'E',
    'relay',
    'leakage keeps a coil that is off above the volts at which it releases',
    `IEC 61810-1 (${MEMORY})`,
  ),
  'latching-pulse-too-short': coil('E', 'latching relay', 'a pulse is shorter than twice the minimum of the coil', CP),
  'latching-both-coils': coil('E', 'latching relay', 'both coils of a latching relay are driven at once', CP),
  'latching-state-unproven': coil(
    'W',
    'latching relay',
    'nothing brings a latching relay into a known state after power-up',
    CP,
  ),
  'relay-oscillates': coil('E', 'relay', 'for some input the relays have no stable state', "Kirchhoff's laws"),
  'memory-undeclared': coil(
    'W',
    'relay',
    'a state depends on what went before, and nothing says that this is meant',
    "Kirchhoff's laws",
  ),
  'latch-without-reset': coil(
    'E',
    'self-hold',
    'nothing in the site can release a relay that holds itself',
    "Kirchhoff's laws",
  ),

  'contact-overloaded': contact(
    'E',
    'contact',
    'a contact carries more amperes, or breaks more volts, than it is rated for',
    'IEC 60947-5-1',
  ),
  'contact-below-minimum-load': contact(
    'W',
    'contact',
    'a contact carries less than it needs to stay clean',
    `IEC 61810-1 contact categories (${MEMORY})`,
  ),
  'contact-shared': contact('E', 'contact', 'one pole carries two supplies or two zones', CP),
  'mains-beside-elv': contact(
    'E',
    'foreign circuit',
    'a pole above extra-low voltage stands beside one at extra-low voltage without reinforced insulation',
    'IEC 61140',
  ),
  'rest-inverted': contact('E', 'zone', 'when all is well, a zone does not read normal', 'meaning of the zone'),

  'reading-outside-band': loop(
    'E',
    'zone',
    'with tolerances, the reading of a state does not stay inside its band',
    'bands of the zone',
  ),
  'bands-unsound': loop('E', 'zone', 'the ranges of a scheme overlap or leave a gap', 'bands of the zone'),
  'states-collide': loop('E', 'zone', 'two states that need different answers read as one class', 'bands of the zone'),
  'loop-resistance-high': loop(
    'W',
    'zone',
    'cable and arresters add more than a tenth of the smallest resistor of a loop, or more than the panel allows',
    CP,
  ),
  'terminator-not-at-far-end': loop(
    'E',
    'zone',
    'a short or a cut of the cable leaves a zone normal, because the end resistor is not at the far end',
    "Ohm's law",
  ),
  'terminator-in-hot-leg': loop(
    'W',
    'zone',
    'with an earthed return, one earth fault behind the end resistor freezes a zone at normal',
    "Ohm's law",
  ),
  'several-alarms-misread': loop(
    'E',
    'several contacts in a loop',
    'several alarms at once leave the alarm band',
    "Ohm's law",
  ),
  'too-many-detectors': loop(
    'W',
    'zone',
    'more than one powered detector, or more than ten passive contacts, on one zone',
    `EN 50131-1 (${MEMORY})`,
  ),
  'leakage-masks-alarm': loop('W', 'zone', 'a leakage between cores that damp joints can reach hides an alarm', CP),
  'foreign-voltage': loop('E', 'zone', 'volts from another source stand at a zone', "Kirchhoff's laws"),
  'shared-return-shift': loop(
    'E',
    'zone',
    "the return current of a load moves a zone's reading through a conductor they share",
    "Ohm's law",
  ),
  'silent-fault': loop(
    'E',
    'zone',
    'more single faults leave a zone normal and lose its alarm than the site tolerates',
    'single faults solved one by one; the classes are our own',
  ),
  'tamper-inside-shunt': loop(
    'E',
    'several contacts in a loop',
    "a tamper contact is bridged by the alarm contact's resistor",
    "Ohm's law",
  ),

  'signal-too-short': time(
    'E',
    'zone',
    'a signal does not stand as long as its zone takes to respond',
    `EN 50131-1, 400 ms (${MEMORY})`,
  ),
  'events-merge': time('W', 'zone', 'between two events a zone is restored for less time than it needs', CP),
  'timer-function-wrong': time(
    'E',
    'timer',
    'function, supply or trigger of a timer cannot give what a case expects',
    'data of the timer',
  ),
  'release-too-slow': time(
    'W',
    'suppressed coil',
    'the suppressor lengthens the release beyond its budget (relay 50 ms, lock 500 ms)',
    CP,
  ),
  'order-decides': time(
    'E',
    'relay',
    'two events may come in either order, and what follows hangs on which',
    'times of the site',
  ),
  'signals-never-overlap': time(
    'E',
    'confirmation',
    'signals that must meet do not overlap in time',
    'times of the site',
  ),

  'supply-overloaded': supply(
    'E',
    'source',
    'what hangs on a supply asks for more than it gives, over all cases',
    `limit of the supply; warning level ${CP}`,
  ),
  'fuse-overloaded': supply('E', 'fuse', 'a fuse carries more than its rating', CP),
  'supply-loss-silent': supply('E', 'zone', 'a lost supply or a blown fuse leaves a zone blind', "Kirchhoff's laws"),
  'battery-too-small': supply(
    'E',
    'battery',
    'a battery does not carry the cases that it shall carry for as long as it shall',
    `EN 50131-1 hours (${MEMORY}); IEEE 485 table (${MEMORY}); Peukert`,
  ),
  'charger-too-small': supply(
    'E',
    'battery',
    'a charger does not restore 80 % in the time demanded',
    `EN 50131-1 and -6 (${MEMORY})`,
  ),
  'charger-too-strong': supply(
    'E',
    'battery',
    'a charger gives its battery more than 0.25 C',
    `EN 50131-6 (${MEMORY})`,
  ),
  'standing-load-omitted': supply(
    'W',
    'standing total',
    "a unit's declared standing total is below the computed one by more than 5 %",
    CP,
  ),

  'core-overloaded': cable(
    'E',
    'core',
    'a core carries more than its capacity',
    `IEC 60204-1 table (${MEMORY}); 1 A below 0.5 mm², ${CP}`,
  ),
  'fuse-will-not-clear': cable(
    'E',
    'fuse',
    'a short at the far end draws too little to open the fuse',
    `IEC 60127 (${MEMORY})`,
  ),
  'feed-unfused': cable(
    'W',
    'source',
    'a supply leaves its place by a core that neither a fuse nor the limit of the supply protects',
    CP,
  ),
  'undeclared-bond': cable('E', 'several sources', 'two systems share a conductive path that no bond declares', CP),
  'earthing-undeclared': cable(
    'W',
    'source',
    'nothing says which pole of a supply is earthed, or one circuit is earthed twice',
    CP,
  ),
  'voltage-above-elv': cable(
    'E',
    'anything',
    'more than 50 V a.c. or 120 V d.c. stands somewhere',
    'IEC 61140; IEC 60364-4-41',
  ),
  'coil-unsuppressed': cable('W', 'inductive part', 'an inductive part has no suppression', CP),
  'suppressor-reversed': cable(
    'E',
    'inductive part',
    'the suppression of a part conducts while the part is on',
    'direction of the diode',
  ),
  'core-colour-reversed': cable(
    'I',
    'core',
    'red or brown is on the minus side and black or blue on the plus side of a polarised part',
    CP,
  ),
  'line-unprotected': cable('W', 'core', 'a line leaves the building without an arrester', `IEC 61643 (${MEMORY})`),

  'terminal-overfilled': documentation('W', 'anything', 'more than two conductors in one terminal', CP),
  'terminal-unused': documentation('I', 'anything', 'terminals are left open and not marked spare', CP),
  'core-unused': documentation('I', 'core', 'cores are left open and not marked spare', CP),
  'pole-unused': documentation('I', 'contact', 'contacts are left open and not marked spare', CP),
  'zone-without-case': documentation('W', 'zone', 'no case changes a zone, or nothing is expected of it', CP),
  'value-not-preferred': documentation(
    'W',
    'resistor',
    'a resistor is outside the series of its tolerance',
    'IEC 60063',
  ),
  'places-joined-without-cable': documentation('E', 'anything', 'a wire joins two places', 'only a cable joins places'),
  'changed-unasked': documentation(
    'W',
    'reader',
    'in a case, a zone or input that nothing is expected of reads other than at rest',
    CP,
  ),
  'expectation-failed': documentation(
    'E',
    'expectation',
    'an expectation that the computation does not bear out',
    'the site itself',
  ),
  'reading-disagrees': documentation(
    'E',
    'reading',
    'a reading taken on site lies outside its prediction (a warning where a later reading shows it to be of an earlier state)',
    'tolerance of parts and meter',
  ),
  'acceptance-stale': documentation('W', 'acceptance', 'an acceptance matches nothing or is past its date', CP),

  'release-can-be-defeated': {
    ...safety(
      'E',
      'emergency release',
      'with an emergency release operated, lock current still flows in some state or under a single fault',
      `EN 60839-11, EN 13637 practice (${MEMORY})`,
    ),
    acceptable: false,
  },
  'lock-held-without-supply': {
    ...safety(
      'E',
      'escape lock',
      'a lock on an escape route stays locked when supplies are lost',
      `EN 60839-11, EN 13637 practice (${MEMORY})`,
    ),
    acceptable: false,
  },
  'safety-function-interposed': safety(
    'E',
    'safety function',
    'a safety function of a machine, or fire detection, is wired through this coupling',
    'EN 12453, EN ISO 13849-1, EN 54',
  ),

  'contradictory-sources': computation(
    'E',
    'anything',
    'sources hold different volts across the same two points, or different currents in one path',
    "Kirchhoff's laws",
  ),
  'power-not-deliverable': computation(
    'E',
    'anything',
    'a load that draws constant power asks for more than can reach it',
    'maximum power transfer',
  ),
  'solution-unsound': computation(
    'E',
    'anything',
    'the computation did not balance at a node or hit a bound, so that its figures are not to be relied on',
    "Kirchhoff's current law",
  ),
  'not-evaluated': computation(
    'I',
    'anything',
    'a rule could not judge, because a datum is missing',
    'the site itself',
  ),
  'not-computed-yet': computation(
    'I',
    'anything',
    'something is understood and not computed yet, so that nothing is said of it',
    'this program',
  ),
} as const satisfies Record<string, CatalogueRow>;

export type RuleName = keyof typeof CATALOGUE;

export const RULE_NAMES = Object.keys(CATALOGUE) as readonly RuleName[];

export function isRuleName(name: string): name is RuleName {
  return Object.hasOwn(CATALOGUE, name);
}

export function catalogueRow(name: RuleName): CatalogueRow {
  return CATALOGUE[name];
}
