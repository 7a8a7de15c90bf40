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

interface Entry {
  /** Why there is no figure, where no datum is missing. */
  readonly reason?: string;
  readonly text: string;
  readonly origin: Origin;
  readonly subject: ComponentId;
  readonly concerns: Set<ComponentId>;
  readonly rules: Set<RuleName>;
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
      // A datum that a type leaves out is missing once, however many components are of that type.
      const place = need.origin === NO_ORIGIN ? `c${need.component}` : `o${need.origin}`;
      const text = `needs \`${need.property}\` of ${name}`;
      this.#put(`${place} ${need.property}`, text, need.origin, need.component, gap.subject, rule);
    }
    if (gap.needs.length > 0) return;
    const origin = this.#design.components[gap.subject]?.origin ?? NO_ORIGIN;
    const reason = gap.reason ?? 'the computation gave no figure';
    const text = `${this.#name(gap.subject)}: ${reason}`;
    this.#put(`${gap.subject} ${reason}`, text, origin, gap.subject, gap.subject, rule, reason);
  }

  /** Components that a rule could not judge: an acceptance for one of them is not stale. */
  subjectsOf(rule: RuleName): Iterable<ComponentId> {
    return this.#subjects.get(rule) ?? [];
  }

  /** What could not be judged, but for what follows from one of the findings that are shown. */
  findings(strict: boolean, shown: readonly Finding[]): readonly Finding[] {
    const open = [...this.#entries.values()].filter((entry) => !this.#isTold(entry, shown));
    return open.map((entry) => ({
      rule: 'not-evaluated',
      severity: strict ? 'warning' : 'information',
      message: `Not evaluated: ${entry.text} (${[...entry.rules].sort().join(', ')}).`,
      origin: entry.origin,
      subject: entry.subject,
      concerns: [...entry.concerns].sort((one, other) => one - other),
      explainsAt: [],
      related: [],
      figures: [],
      cures: [],
      assumptions: [],
    }));
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

  #put(
    key: string,
    text: string,
    origin: Origin,
    owner: ComponentId,
    subject: ComponentId,
    rule: RuleName,
    reason?: string,
  ): void {
    const known = this.#entries.get(key);
    const entry = known ?? { text, origin, subject: owner, concerns: new Set(), rules: new Set(), reason };
    if (known === undefined) this.#entries.set(key, entry);
    entry.rules.add(rule);
    if (subject !== entry.subject) entry.concerns.add(subject);
  }

  #name(component: ComponentId): string {
    return this.#design.components[component]?.name ?? 'the site';
  }
}
