/** Which terminals the contacts of a relay or switch have. Source of the numbers: EN 50005. */
import { type Body, isProperty, isQuantity, isWordTerm, type Property, type Value } from '../generated/ast.ts';
import { CONTACT_FORMS } from '../properties/part-rows.ts';

export type ContactForm = (typeof CONTACT_FORMS)[number];

/** Terminals of a form: their function digits, and the letters where there is one pole. `from` is met first. */
export interface FormTerminals {
  readonly digits: readonly string[];
  readonly letters: readonly string[];
}

export const FORM_TERMINALS: Readonly<Record<ContactForm, FormTerminals>> = {
  changeover: { digits: ['1', '2', '4'], letters: ['COM', 'NC', 'NO'] },
  make: { digits: ['3', '4'], letters: ['COM', 'NO'] },
  break: { digits: ['1', '2'], letters: ['COM', 'NC'] },
  'late-changeover': { digits: ['5', '6', '8'], letters: ['COM', 'NC', 'NO'] },
  'late-make': { digits: ['7', '8'], letters: ['COM', 'NO'] },
  'late-break': { digits: ['5', '6'], letters: ['COM', 'NC'] },
};

/** A contact's terminal as it is named: which pole (from 1), and what it does there. */
export interface PoleTerminal {
  readonly pole: number;
  readonly form: ContactForm;
  /** Its name in the library's type of that form: `11`, `NC`. */
  readonly inLibrary: string;
}

/** The forms of the poles that a `contacts` property lists, one entry a pole; undefined where none of it is readable. */
export function contactForms(values: readonly Value[]): readonly ContactForm[] | undefined {
  const forms = values.flatMap((value) => formsOf(value));
  return forms.length === 0 ? undefined : forms;
}

/** The last property of a name that stands directly in a body. */
export function ownProperty(body: Body | undefined, name: string): Property | undefined {
  return body?.items.findLast((item): item is Property => isProperty(item) && !item.owner && item.name === name);
}

/**
 * The terminal of a contact by its name. Without known forms any form's numbers are taken.
 * A timer's contacts are late ones: with `timer`, `15` is also found where the form says `changeover`.
 */
export function poleTerminal(
  name: string,
  forms: readonly ContactForm[] | undefined,
  timer = false,
): PoleTerminal | undefined {
  const number = /^([1-9]\d*)(\d)$/.exec(name);
  if (number === null) {
    if (forms !== undefined && forms.length > 1) return undefined;
    const form = (forms ?? CONTACT_FORMS).find((each) => FORM_TERMINALS[each].letters.includes(name));
    return form === undefined ? undefined : { pole: 1, form: late(form, timer), inLibrary: name };
  }
  const pole = Number(number[1]);
  const digit = number[2] as string;
  const declared = forms === undefined ? CONTACT_FORMS : forms.slice(pole - 1, pole);
  for (const form of declared) {
    for (const each of timer ? [form, late(form, true)] : [form]) {
      if (FORM_TERMINALS[each].digits.includes(digit)) return { pole, form: each, inLibrary: `1${digit}` };
    }
  }
  return undefined;
}

/** The names of all terminals that some forms give, for completion. */
export function poleTerminalNames(forms: readonly ContactForm[]): readonly string[] {
  const numbered = forms.flatMap((form, i) => FORM_TERMINALS[form].digits.map((digit) => `${i + 1}${digit}`));
  const [only] = forms;
  return forms.length === 1 && only !== undefined ? [...numbered, ...FORM_TERMINALS[only].letters] : numbered;
}

function late(form: ContactForm, timer: boolean): ContactForm {
  return timer && !form.startsWith('late-') ? (`late-${form}` as ContactForm) : form;
}

function formsOf(value: Value): ContactForm[] {
  const term = value.terms[0];
  if (!isWordTerm(term)) return [];
  const word = term.reference?.head?.$refText as ContactForm | undefined;
  if (word === undefined || !CONTACT_FORMS.includes(word)) return [];
  const poles = isQuantity(term.quantity) && /^\d{1,2}$/.test(term.quantity.number) ? Number(term.quantity.number) : 1;
  return Array.from({ length: poles }, () => word);
}
