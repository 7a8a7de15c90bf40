/** What kept rules from judging: one finding a missing datum, which names every rule that needs it. */
import { type ComponentId, type Design, NO_ORIGIN, type Origin } from '@couplet/engine';
import type { RuleName } from './catalogue.ts';
import type { Finding, Gap } from './rule.ts';

interface Entry {
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
    const text = gap.reason ?? 'the computation gave no figure';
    this.#put(`${gap.subject} ${text}`, `${this.#name(gap.subject)}: ${text}`, origin, gap.subject, gap.subject, rule);
  }

  /** Whether a rule could not judge a component: then an acceptance for it is not stale. */
  has(rule: RuleName, component: ComponentId): boolean {
    return this.#subjects.get(rule)?.has(component) ?? false;
  }

  findings(strict: boolean): readonly Finding[] {
    return [...this.#entries.values()].map((entry) => ({
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

  #put(key: string, text: string, origin: Origin, owner: ComponentId, subject: ComponentId, rule: RuleName): void {
    const known = this.#entries.get(key);
    const entry = known ?? { text, origin, subject: owner, concerns: new Set(), rules: new Set() };
    if (known === undefined) this.#entries.set(key, entry);
    entry.rules.add(rule);
    if (subject !== entry.subject) entry.concerns.add(subject);
  }

  #name(component: ComponentId): string {
    return this.#design.components[component]?.name ?? 'the site';
  }
}
