/** Makes a rule of its own part (name, thresholds, check, words) and its row in the catalogue. */
import { catalogueRow } from './catalogue.ts';
import type { Rule, Threshold } from './rule.ts';

type OwnPart<D> = Omit<Rule<D>, 'group' | 'summary' | 'severity' | 'acceptable'>;

/** The data type of a rule's detections is its own business; the registry holds rules without it. */
export function defineRule<D>(own: OwnPart<D>): Rule {
  const row = catalogueRow(own.name);
  const rule: Rule<D> = {
    ...own,
    group: row.group,
    summary: row.summary,
    severity: row.severity,
    acceptable: row.acceptable ?? true,
  };
  return rule as unknown as Rule;
}

/** Data of a threshold without its key, for rules with an error level and a warning level. */
type Level = Omit<Threshold, 'key' | 'says'>;

/** An error level that is physics or a rating, and a warning level that a site may set. */
export function levels(
  error: Level & { readonly says: string },
  warning: Level & { readonly says: string },
): readonly Threshold[] {
  return [
    { key: 'error', ...error },
    { key: 'warning', ...warning },
  ];
}
