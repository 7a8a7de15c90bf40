/** Terminal numbers of contacts: which pole, which throw. */
import type { Provenance } from './provenance.ts';

export const CONTACT_NUMBER_PROVENANCE: Provenance = {
  source: 'EN 50005, terminal marking of contacts; 5-6-8 as a changeover from memory',
  status: 'partly confirmed',
};

export type Throw = 'break' | 'make';

/**
 * Function digits, the last of a terminal's number: the first of a row is the common or moving side. `special` contacts
 * act late (or early): those of a timer.
 */
export const FUNCTION_DIGITS: readonly {
  readonly digits: readonly [string, string];
  readonly throw: Throw;
  readonly special: boolean;
}[] = [
  { digits: ['1', '2'], throw: 'break', special: false },
  { digits: ['1', '4'], throw: 'make', special: false },
  { digits: ['3', '4'], throw: 'make', special: false },
  { digits: ['5', '6'], throw: 'break', special: true },
  { digits: ['5', '8'], throw: 'make', special: true },
  { digits: ['7', '8'], throw: 'make', special: true },
];

/** Letters used where a part has a single pole. */
export const LETTERED_CONTACTS: readonly { readonly terminals: readonly [string, string]; readonly throw: Throw }[] = [
  { terminals: ['COM', 'NC'], throw: 'break' },
  { terminals: ['COM', 'NO'], throw: 'make' },
];

export interface ContactNumbers {
  /** Place of the contact among the poles of its relay or switch: the tens of its numbers; '1' for lettered ones. */
  readonly pole: string;
  readonly throw: Throw;
  /** Acts with the delay of a timer. */
  readonly special: boolean;
  /** Terminals in the order of the standard: common first. */
  readonly terminals: readonly [string, string];
}

/**
 * What the two numbers of a contact say, in whichever order they are given: `11`, `12` is a break of pole 1, `24`, `21` a
 * make of pole 2, `15`, `18` a late make. Undefined where they belong to no contact (`12`, `14`; `11`, `24`).
 */
export function contactOf(one: string, other: string): ContactNumbers | undefined {
  const lettered = LETTERED_CONTACTS.find(({ terminals }) => sameTwo(terminals, one, other));
  if (lettered !== undefined)
    return { pole: '1', throw: lettered.throw, special: false, terminals: lettered.terminals };
  if (!/^[1-9]\d+$/.test(one) || !/^[1-9]\d+$/.test(other)) return undefined;
  const pole = one.slice(0, -1);
  if (other.slice(0, -1) !== pole) return undefined;
  const found = FUNCTION_DIGITS.find(({ digits }) => sameTwo(digits, one.slice(-1), other.slice(-1)));
  if (found === undefined) return undefined;
  const [first, second] = found.digits;
  return { pole, throw: found.throw, special: found.special, terminals: [`${pole}${first}`, `${pole}${second}`] };
}

function sameTwo(pair: readonly [string, string], one: string, other: string): boolean {
  return (pair[0] === one && pair[1] === other) || (pair[0] === other && pair[1] === one);
}

export type ContactForm = 'changeover' | 'make' | 'break';

/** The terminals of a pole by its form: changeover 11 12 14, make 13 14, break 11 12; late ones 15 16 18, 17 18, 15 16. */
export function poleTerminals(form: ContactForm, pole: number, late = false): readonly string[] {
  const digits = { changeover: ['124', '568'], make: ['34', '78'], break: ['12', '56'] }[form][late ? 1 : 0] as string;
  return [...digits].map((digit) => `${pole}${digit}`);
}
