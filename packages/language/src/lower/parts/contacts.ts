/** Poles of relays and switches, and the contacts that they are made of. */
import {
  type Choice,
  type ComponentId,
  type Contact,
  type ContactForm,
  contactOf,
  exact,
  parseQuantity,
  poleTerminals,
} from '@couplet/engine';
import { Bag } from '../bags.ts';
import { assumptionOf, type Facts } from '../facts.ts';
import type { PartBuilder } from './builder.ts';

interface Pole {
  readonly label: string;
  readonly form: ContactForm;
  readonly late: boolean;
  /** A timer's contact that is written without its lateness may also be named by the plain numbers. */
  readonly plainToo: boolean;
}

/** The poles that `contacts:` names, in order; those of a timer act late unless it says which do. EN 50005: the tens of the terminal numbers count the poles. */
export function polesOf(facts: Facts): readonly Pole[] {
  const poles: Pole[] = [];
  const words = facts.values('contacts').filter((read) => read.sort === 'word');
  const saysLate = words.some((read) => read.word.startsWith('late-'));
  const timer = facts.has('function') && !saysLate;
  for (const read of words) {
    const late = read.word.startsWith('late-');
    const form = late ? read.word.slice('late-'.length) : read.word;
    if (form !== 'changeover' && form !== 'make' && form !== 'break') continue;
    const count = Math.min(read.quantity?.usual ?? 1, MOST_POLES);
    for (let i = 0; i < count; i++) {
      poles.push({ label: String(poles.length + 1), form, late: late || timer, plainToo: timer });
    }
  }
  return poles;
}

const MOST_POLES = 99;

/** Adds the contacts of every pole, the terminals they stand between, and the names that a chain may call them by. */
export function buildContacts(b: PartBuilder, driver: ComponentId): ComponentId[] {
  const poles = polesOf(b.facts);
  const ids: ComponentId[] = [];
  for (const pole of poles) {
    const names = poleTerminals(pole.form, Number(pole.label), pole.late);
    const common = names[0] as string;
    for (const end of names.slice(1)) {
      const numbers = contactOf(common, end);
      if (numbers === undefined) continue;
      const closes = numbers.throw === 'make' ? 'operated' : 'released';
      ids.push(addThrow(b, driver, [common, end], pole.label, closes, pole.late));
    }
    if (pole.plainToo) addNames(b, names, poleTerminals(pole.form, Number(pole.label)));
    if (poles.length === 1) addNames(b, names, lettersOf(names));
  }
  return ids;
}

/** `COM`, `NC`, `NO` for a part with one pole. */
function lettersOf(names: readonly string[]): readonly string[] {
  const common = names[0] as string;
  return names.map((name) => {
    if (name === common) return 'COM';
    return contactOf(common, name)?.throw === 'make' ? 'NO' : 'NC';
  });
}

/** Second names for the terminals of a pole, and for the contacts between them. */
function addNames(b: PartBuilder, names: readonly string[], also: readonly string[]): void {
  const { points } = b.part;
  names.forEach((name, i) => {
    const other = also[i] as string;
    const terminal = points.get(name);
    if (terminal !== undefined) points.set(other, terminal);
    const contact = points.get(`${names[0]}-${name}`);
    if (contact !== undefined) points.set(`${also[0]}-${other}`, contact);
  });
}

export function addThrow(
  b: PartBuilder,
  driver: ComponentId,
  [from, to]: readonly [string, string],
  pole: string,
  closes: Contact['closes'],
  late: boolean,
  base: Facts = b.facts,
): ComponentId {
  const own = poleFacts(base, from, to);
  const says = (name: string) => (own.has(name) ? own : base);
  const id = b.next;
  const a = b.terminal(from, id);
  const z = b.terminal(to, id);
  const name = `${from}-${to}`;
  b.point(name, { component: id, pass: { component: id, first: a, second: z, repeat: 'once' } });
  const rating = base.subject === 'contact' ? 'rating' : 'contact-rating';
  return b.add<Contact>({
    kind: 'contact',
    ...b.inner(own, name, b.part.id),
    a,
    b: z,
    driver,
    pole,
    closes,
    late,
    ohms: says('contact-ohms').datum('contact-ohms') ?? exact(0, b.origin),
    rating: ratingOf(says(rating), rating),
    alternatingRating: alternatingRatingOf(says(rating), rating),
    minimumLoad: minimumOf(says('minimum-load')),
    carries: carriesOf(own),
  });
}

/** What is written of one pole: `"11-14".role: …`, `COM.carries: …`. */
function poleFacts(base: Facts, from: string, to: string): Facts {
  const names = [`${from}-${to}`, `${to}-${from}`, from, to];
  const bag = names.map((name) => base.bag.within(name)).find((each) => each !== undefined);
  return base.of(bag ?? NOTHING, 'pole', base.origin);
}

const NOTHING = new Bag();

function ratingOf(facts: Facts, name: string): Contact['rating'] {
  for (const read of facts.values(name)) {
    if (read.sort === 'amount') return { amps: facts.datumOf(read, name) };
    if (read.sort !== 'pair' || read.right.dimension !== 'V') continue;
    return { amps: facts.datumOf(read.left, name), volts: facts.datumOf(read.right, name) };
  }
  return undefined;
}

/** Where a rating at alternating volts stands. */
function alternatingRatingOf(facts: Facts, name: string): Contact['alternatingRating'] {
  for (const read of facts.values(name)) {
    if (read.sort === 'pair' && read.right.dimension === 'V ac') return facts.at(read.right.node);
  }
  return undefined;
}

function minimumOf(facts: Facts): Contact['minimumLoad'] {
  const pair = facts.pair('minimum-load');
  if (pair !== undefined) return { amps: pair.left, volts: pair.right };
  const row = facts.row('minimum-load');
  if (row?.default === undefined) return undefined;
  const [amps, volts] = row.default.text.split(' @ ').map((text) => {
    const read = parseQuantity(text);
    return 'error' in read ? undefined : exact(read.value, facts.origin, assumptionOf(row));
  });
  return amps === undefined ? undefined : { amps, volts };
}

function carriesOf(facts: Facts): Contact['carries'] {
  const amount = facts.amount('carries');
  if (amount === undefined) return undefined;
  return { volts: amount.usual, alternating: amount.dimension === 'V ac', origin: facts.at(amount.node) };
}

/** A word for where contacts stand, as the state of what works them. `makes`: its contact closes when operated. */
export function drivenState(
  choice: Choice | undefined,
  makes: boolean,
): Choice<'operated' | 'released' | 'unchanged'> | undefined {
  if (choice === undefined) return undefined;
  const { word } = choice;
  if (word === 'operated' || word === 'released' || word === 'unchanged') return { ...choice, word };
  if (word === 'open' || word.startsWith('open ')) return { ...choice, word: makes ? 'released' : 'operated' };
  return word === 'closed' ? { ...choice, word: makes ? 'operated' : 'released' } : undefined;
}
