/** What kept rules from judging: one finding a missing datum, which names every rule that needs it. */
import { type ComponentId, type Design, NO_ORIGIN, type Origin } from '@couplet/engine';
import type { RuleName } from './catalogue.ts';
import { touchedBy } from './circuit/reach.ts';
import type { Finding, Gap } from './rule.ts';

/** What the engine says of figures that it cannot give, by the rule that tells the cause of it. */
const CAUSES: Partial<Readonly<Record<RuleName, RegExp>>> = {
  'contradictory-sources': /^sources contradict each other/,
  'power-not-deliverable': /^the supply cannot deliver/,
  'relay-oscillates': /find no state to rest in$/,
  'solution-unsound': /^no operating point was found/,
};

/** A datum that is missing, or a figure that there is not. */
export interface GapEntry {
  /** Where it belongs: a datum that a type leaves out is missing once, however many components are of that type. */
  readonly at: { readonly component: ComponentId } | { readonly origin: Origin };
  /** The property, or why there is no figure. */
  readonly what: string;
  readonly text: string;
  readonly origin: Origin;
  readonly subject: ComponentId;
  readonly concerns: readonly ComponentId[];
  readonly rules: readonly RuleName[];
}

interface Entry extends GapEntry {
  /** Why there is no figure, where no datum is missing. */
  readonly reason?: string;
  readonly concerns: ComponentId[];
  readonly rules: RuleName[];
}

export class GapList {
  readonly #design: Design;
  readonly #entries = new Map<string, Entry>();
  readonly #subjects = new Map<RuleName, Set<ComponentId>>();

  constructor(design: Design) {
    this.#design = design;
  }

  add(rule: RuleName, gap: Gap): void {
    const subjects = this.#subjects.get(rule) ?? new Set();
    this.#subjects.set(rule, subjects.add(gap.subject));
    for (const need of gap.needs) {
      subjects.add(need.component);
      const name = this.#name(need.component);
      const at = need.origin === NO_ORIGIN ? { component: need.component } : { origin: need.origin };
      const text = `needs \`${need.property}\` of ${name}`;
      this.#put({ at, what: need.property, text, origin: need.origin, subject: need.component }, gap.subject, rule);
    }
    if (gap.needs.length > 0) return;
    const origin = this.#design.components[gap.subject]?.origin ?? NO_ORIGIN;
    const reason = gap.reason ?? 'the computation gave no figure';
    const text = `${this.#name(gap.subject)}: ${reason}`;
    const at = { component: gap.subject };
    this.#put({ at, what: reason, reason, text, origin, subject: gap.subject }, gap.subject, rule);
  }

  /** Components that a rule could not judge: an acceptance for one of them is not stale. */
  subjectsOf(rule: RuleName): Iterable<ComponentId> {
    return this.#subjects.get(rule) ?? [];
  }

  /** Rules that could not judge something. */
  rules(): Iterable<RuleName> {
    return this.#subjects.keys();
  }

  /** What could not be judged, but for what follows from one of the findings that are shown. */
  entries(shown: readonly Finding[]): readonly GapEntry[] {
    return [...this.#entries.values()].filter((entry) => !this.#isTold(entry, shown));
  }

  /** An error of the computation leaves its whole circuit without figures: told once, by the rule on the error. */
  #isTold({ reason, subject }: Entry, shown: readonly Finding[]): boolean {
    if (reason === undefined) return false;
    return shown.some(
      (finding) =>
        CAUSES[finding.rule]?.test(reason) === true &&
        touchedBy(this.#design, [finding.subject, ...finding.concerns]).has(subject),
    );
  }

  #put(found: Omit<Entry, 'concerns' | 'rules'>, subject: ComponentId, rule: RuleName): void {
    const key = keyOf(found);
    const known = this.#entries.get(key);
    const entry = known ?? { ...found, concerns: [], rules: [] };
    if (known === undefined) this.#entries.set(key, entry);
    if (!entry.rules.includes(rule)) entry.rules.push(rule);
    if (subject !== entry.subject && !entry.concerns.includes(subject)) entry.concerns.push(subject);
  }

  #name(component: ComponentId): string {
    return this.#design.components[component]?.name ?? 'the site';
  }
}

/** Gaps of several designs in the same numbers, as findings: one for each datum. */
export function gapFindings(entries: Iterable<GapEntry>, strict: boolean): readonly Finding[] {
  const open = new Map<string, { first: GapEntry; concerns: Set<ComponentId>; rules: Set<RuleName> }>();
  for (const entry of entries) {
    const key = keyOf(entry);
    const known = open.get(key);
    if (known === undefined) {
      open.set(key, { first: entry, concerns: new Set(entry.concerns), rules: new Set(entry.rules) });
      continue;
    }
    for (const id of [entry.subject, ...entry.concerns]) if (id !== known.first.subject) known.concerns.add(id);
    for (const rule of entry.rules) known.rules.add(rule);
  }
  return [...open.values()].map(({ first, concerns, rules }) => ({
    rule: 'not-evaluated',
    severity: strict ? 'warning' : 'information',
    message: `Not evaluated: ${first.text} (${[...rules].sort().join(', ')}).`,
    origin: first.origin,
    subject: first.subject,
    concerns: [...concerns].sort((one, other) => one - other),
    explainsAt: [],
    related: [],
    figures: [],
    cures: [],
    assumptions: [],
  }));
}

function keyOf({ at, what }: Pick<GapEntry, 'at' | 'what'>): string {
  return 'origin' in at ? `o${at.origin} ${what}` : `c${at.component} ${what}`;
}
