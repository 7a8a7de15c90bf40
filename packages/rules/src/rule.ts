/** What a rule is: its metadata, a pure check, its words, and what a finding carries. */
import type { Analysis, Change, ComponentId, Design, Figure, Need, Origin, SiteFacts } from '@couplet/engine';
import type { RuleName } from './catalogue.ts';

export type Severity = 'error' | 'warning' | 'information';

/** How well founded a threshold is. */
export type Standing = 'physics' | 'standard' | 'standard from memory' | 'common practice';

/** A threshold as data. `value` in SI units or as a fraction; `unit` is '' for a ratio. */
export interface Threshold {
  readonly key: string;
  readonly value: number;
  readonly unit: string;
  readonly says: string;
  readonly origin: string;
  readonly standing: Standing;
  /** The site may set it in `limits { rule: value }`; one settable threshold a rule. */
  readonly settable: boolean;
}

export interface Related {
  readonly origin: Origin;
  readonly message: string;
}

/** What a rule found, before it is worded: data only. */
export interface Detection<D> {
  readonly severity: Severity;
  /** The characters that cause it. */
  readonly origin: Origin;
  /** The component it concerns, which is what `accept … on` names; further ones it also concerns. */
  readonly subject: ComponentId;
  readonly alsoConcerns?: readonly ComponentId[];
  /** Components that it does not concern, but whose findings it explains. */
  readonly alsoExplains?: readonly ComponentId[];
  readonly caseName?: string;
  readonly related?: readonly Related[];
  /** A fault's word, for `accept silent-fault welded on …`. */
  readonly fault?: string;
  /** Clauses that say what the author did not, beyond those of the figures ('upper end of the coil taken as 1.1 × rated'). */
  readonly assumptions?: readonly string[];
  /** The threshold that a site may set had no part in it. */
  readonly beyondLimits?: boolean;
  readonly tally?: Tally;
  readonly data: D;
}

/** A finding of which a site tolerates a number, counted over all of its couplings. */
export interface Tally {
  /** What is counted: a property of the rule. */
  readonly of: string;
  /** How many stand in this finding. */
  readonly here: number;
  /** How many there are in the design that was judged; the same in each of its findings. */
  readonly total: number;
}

/** A datum that kept a rule from judging. */
export interface Gap {
  readonly subject: ComponentId;
  readonly needs: readonly Need[];
  readonly reason?: string;
}

/**
 * How far a finding explains others: to the parts that it names ('subject'), to what shares their circuit ('circuit'),
 * or to all that can change when they do, through the relays they feed as well ('downstream').
 */
export type Reach = 'subject' | 'circuit' | 'downstream';

export interface RuleContext {
  readonly design: Design;
  readonly analysis: Analysis;
  /** ISO date by which acceptances are judged. */
  readonly today: string;
  /** The threshold in force: the site's own, else the default; `set` when the site chose it. */
  threshold(key: string): { readonly value: number; readonly set: boolean };
  /** Says that the rule could not judge `subject`; becomes 'not evaluated: needs …'. */
  gap(gap: Gap): void;
}

export interface Rule<D = unknown> {
  readonly name: RuleName;
  readonly group: string;
  /** One line: the condition for a finding. */
  readonly summary: string;
  readonly severity: Severity;
  readonly thresholds: readonly Threshold[];
  /** Rules whose findings this one explains, where they stand within its reach. */
  readonly explains: readonly RuleName[];
  /** How far it explains; 'subject' unless given. */
  readonly reach?: Reach;
  /** False for rules that nobody may accept. */
  readonly acceptable: boolean;
  find(context: RuleContext): Iterable<Detection<D>>;
  /** The message: what, with values and units, case and corner; why; cure. */
  word(detection: Detection<D>, context: RuleContext): string;
  /**
   * The last sentence of a message with a tally, once `total` is known over the whole site; undefined where the site
   * tolerates so many, and then nothing is found.
   */
  beyondTolerated?(tally: Tally, total: number, site: SiteFacts): string | undefined;
  /** Figures that stand behind the message, for JSON and hovers. */
  figures?(detection: Detection<D>): readonly { readonly label: string; readonly figure: Figure }[];
  /** Changes of text that would cure it, as data; proven by solving again before they are offered. */
  cures?(detection: Detection<D>, context: RuleContext): readonly Cure[];
}

export interface Cure {
  /** 'Use 0.5 mm² for W1'. */
  readonly title: string;
  /** It changes nothing that is bought, fitted or claimed: it may be applied without being looked at. */
  readonly safe: boolean;
  readonly edits: readonly CureEdit[];
  /** The same change to the design, for proving. */
  readonly changes?: readonly Change[];
}

/** One change of a text; where it falls exactly, whoever reads the text finds out. */
export type CureEdit =
  /** The text at the origin gives way to another one. */
  | { readonly how?: 'replace'; readonly origin: Origin; readonly text: string }
  /** Another property or step at the end of the body of what stands at the origin. */
  | { readonly how: 'within'; readonly origin: Origin; readonly text: string }
  /** Further statements below the one that holds the origin, one a line. */
  | { readonly how: 'below'; readonly origin: Origin; readonly text: string }
  /** The statement that holds the origin is struck out. */
  | { readonly how: 'strike'; readonly origin: Origin }
  /** Wires and cases name another terminal or member: 'K1.12' becomes 'K1.14'; what marks that one spare marks this one. */
  | { readonly how: 'rename'; readonly origin: Origin; readonly from: string; readonly to: string }
  /** The part is passed through the other way round: its two terminals change places in the wires, or the ends of its chain do. */
  | {
      readonly how: 'turn';
      readonly origin: Origin;
      readonly part: string;
      readonly terminals: readonly [one: string, other: string];
    };

export interface Finding {
  readonly rule: RuleName;
  readonly severity: Severity;
  readonly message: string;
  readonly origin: Origin;
  readonly subject: ComponentId;
  readonly concerns: readonly ComponentId[];
  readonly explainsAt: readonly ComponentId[];
  readonly caseName?: string;
  readonly fault?: string;
  readonly related: readonly Related[];
  readonly figures: readonly { readonly label: string; readonly figure: Figure }[];
  readonly cures: readonly Cure[];
  /** Clauses of every assumption that it rests on, sorted; they stand at the end of the message too. */
  readonly assumptions: readonly string[];
  readonly tally?: Tally;
  /** The acceptance that tolerates it (index into `Design.acceptances`). */
  readonly accepted?: number;
}
