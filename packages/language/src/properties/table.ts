/** The property table as one, and look-ups in it. A new property is a new row in one of the row files. */
import { PART_ROWS } from './part-rows.ts';
import { RELAY_ROWS } from './relay-rows.ts';
import type { Form, PropertyRow, Subject, Target } from './row.ts';
import { SITE_ROWS } from './site-rows.ts';
import { UNIT_ROWS } from './unit-rows.ts';

/** What stands behind '=' may stand in a body too: a type has no '=', and a use of an assembly overrides by names. */
const RATING_ROWS: readonly PropertyRow[] = PART_ROWS.filter(({ name }) => name === '=').map((row) => ({
  ...row,
  name: 'rating',
  says: `${row.says.slice(0, -1)}; the same as behind '=', for types and overrides.`,
}));

export const PROPERTIES: readonly PropertyRow[] = [
  ...SITE_ROWS,
  ...UNIT_ROWS,
  ...PART_ROWS,
  ...RATING_ROWS,
  ...RELAY_ROWS,
];

const BY_SUBJECT = new Map<Subject, Map<string, PropertyRow>>();
for (const row of PROPERTIES) {
  for (const subject of row.on) {
    const rows = BY_SUBJECT.get(subject) ?? new Map<string, PropertyRow>();
    BY_SUBJECT.set(subject, rows.set(row.name, row));
  }
}

/** The row of a property on a subject, or undefined where the subject has no such property. */
export function propertyRow(subject: Subject, name: string): PropertyRow | undefined {
  const rows = BY_SUBJECT.get(subject);
  return rows?.get(name) ?? rows?.get('*');
}

/** Every row of a subject, in the order of the table, for completion and the reference. */
export function propertyRows(subject: Subject): readonly PropertyRow[] {
  return [...(BY_SUBJECT.get(subject)?.values() ?? [])];
}

/** What a word of the property can lead to, in the order of the row's forms. */
export function targetsOf(row: PropertyRow): readonly Target[] {
  return row.forms.flatMap((form): readonly Target[] => {
    if (form.sort === 'name') return [form.target];
    if (form.sort === 'case for a time') return ['case'];
    return form.sort === 'name with state' || form.sort === 'any' ? ['thing'] : [];
  });
}

/** Every word that the row admits by itself. */
export function wordsOf(row: PropertyRow): readonly string[] {
  return row.forms.flatMap((form) => (form.sort === 'word' ? form.words : []));
}

/** Whether a quantity can stand in the row, so that a word in its place can be a named value. */
export function takesQuantity(row: PropertyRow): boolean {
  const numeric = new Set<Form['sort']>(['quantity', 'half-open', 'via', 'at', 'pair', 'count', 'any']);
  return row.forms.some((form) => numeric.has(form.sort));
}
