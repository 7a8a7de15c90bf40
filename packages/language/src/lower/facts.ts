/** The facts of one component or member, as the property table says they are meant. */
import { type Choice, type Datum, type Origin, parseSpread } from '@couplet/engine';
import type { AstNode } from 'langium';
import type { PropertyRow, Subject } from '../properties/row.ts';
import { propertyRow } from '../properties/table.ts';
import type { Bag, Entry } from './bags.ts';
import type { Origins } from './origins.ts';
import { type Amount, type NamedValues, type PairRead, type Read, readValue, spreadOf, type Word } from './read.ts';

/** Reads entries; what one entry says is worked out once, as all components of a type share it. */
export class Reader {
  readonly origins: Origins;
  private readonly named: NamedValues;
  private readonly reads = new WeakMap<Entry, readonly Read[]>();
  private readonly data = new WeakMap<AstNode, { readonly row: PropertyRow | undefined; readonly datum: Datum }>();

  constructor(origins: Origins, named: NamedValues) {
    this.origins = origins;
    this.named = named;
  }

  values(entry: Entry): readonly Read[] {
    let reads = this.reads.get(entry);
    if (reads === undefined) {
      reads = entry.values.flatMap((value) => readValue(value, entry.scope, this.named) ?? []);
      this.reads.set(entry, reads);
    }
    return reads;
  }

  /** The datum of an amount. It is kept by its place in the text, which mostly stands in one property. */
  datum(amount: Amount, row: PropertyRow | undefined): Datum {
    const kept = this.data.get(amount.node);
    if (kept !== undefined && kept.row === row && !this.origins.redirects(amount.node)) return kept.datum;
    const spread = spreadOf(amount, row?.single);
    const origin = this.origins.of(amount.node);
    const middle = amount.form === 'range' && row !== undefined;
    const assumption = middle ? `${row.name}: middle of its range taken as usual` : undefined;
    const datum = assumption === undefined ? { ...spread, origin } : { ...spread, origin, assumption };
    this.data.set(amount.node, { row, datum });
    return datum;
  }
}

export class Facts {
  readonly subject: Subject;
  /** Where the component stands: the origin of what is assumed of it. */
  readonly origin: Origin;
  readonly bag: Bag;
  private readonly reader: Reader;

  constructor(reader: Reader, bag: Bag, subject: Subject, origin: Origin) {
    this.reader = reader;
    this.bag = bag;
    this.subject = subject;
    this.origin = origin;
  }

  /** The facts of a member or pole. */
  of(bag: Bag, subject: Subject, origin: Origin): Facts {
    return new Facts(this.reader, bag, subject, origin);
  }

  has(name: string): boolean {
    return this.bag.get(name) !== undefined;
  }

  values(name: string): readonly Read[] {
    const entry = this.bag.get(name);
    return entry === undefined ? [] : this.reader.values(entry);
  }

  row(name: string): PropertyRow | undefined {
    return propertyRow(this.subject, name);
  }

  /** The first amount of a property, in one of these dimensions where some are named; else the table's default. */
  datum(name: string, ...dimensions: readonly string[]): Datum | undefined {
    const amount = this.amount(name, ...dimensions);
    return amount === undefined ? this.assumed(name) : this.datumOf(amount, name);
  }

  amount(name: string, ...dimensions: readonly string[]): Amount | undefined {
    for (const read of this.values(name)) {
      const amount = read.sort === 'pair' ? read.left : read;
      if (amount.sort !== 'amount') continue;
      if (dimensions.length === 0 || dimensions.includes(amount.dimension)) return amount;
    }
    return undefined;
  }

  datumOf(amount: Amount, name: string): Datum {
    return this.reader.datum(amount, this.row(name));
  }

  /** What the table takes for granted where nothing is written; absent where the default is none of one number. */
  assumed(name: string): Datum | undefined {
    const row = this.row(name);
    if (row?.default === undefined || this.has(name)) return undefined;
    const spread = defaultSpread(row);
    if (spread === undefined) return undefined;
    return { ...spread, origin: this.origin, assumption: assumptionOf(row) };
  }

  /** Two values under one operator, or one value alone on the left. */
  pair(name: string): { left: Datum; right?: Datum; read: Amount | PairRead } | undefined {
    const read = this.values(name).find((each) => each.sort === 'pair' || each.sort === 'amount');
    if (read?.sort === 'amount') return { left: this.datumOf(read, name), read };
    if (read?.sort !== 'pair') return undefined;
    return { left: this.datumOf(read.left, name), right: this.reader.datum(read.right, undefined), read };
  }

  word(name: string): Word | undefined {
    const read = this.values(name)[0];
    return read?.sort === 'word' && isKnownWord(this.row(name), read.word) ? read : undefined;
  }

  /** The word of a property; the table's default, marked as assumed, where none is written. */
  choice<W extends string = string>(name: string): Choice<W> | undefined {
    const read = this.word(name);
    if (read !== undefined) return { word: read.word as W, origin: this.reader.origins.of(read.node) };
    const row = this.row(name);
    if (row?.default === undefined) return undefined;
    return { word: row.default.text as W, origin: this.origin, assumption: assumptionOf(row) };
  }

  /** As `choice`, without the table's default. */
  given<W extends string = string>(name: string): Choice<W> | undefined {
    return this.word(name) === undefined ? undefined : this.choice<W>(name);
  }

  at(node: AstNode): Origin {
    return this.reader.origins.of(node);
  }
}

export function assumptionOf(row: PropertyRow): string {
  return `${row.name} taken as ${row.default?.text} (${row.default?.origin})`;
}

const DEFAULTS = new Map<PropertyRow, { least: number; usual: number; most: number } | undefined>();

function defaultSpread(row: PropertyRow): { least: number; usual: number; most: number } | undefined {
  if (DEFAULTS.has(row)) return DEFAULTS.get(row);
  const text = row.default?.text ?? '';
  const read = /^\d/.test(text) ? parseSpread(text.split('@')[0] as string, row.single) : undefined;
  const spread = read === undefined || 'error' in read || read.form === 'half-open' ? undefined : read;
  const kept = spread === undefined ? undefined : { least: spread.least, usual: spread.usual, most: spread.most };
  DEFAULTS.set(row, kept);
  return kept;
}

/** A word that the property does not know has been told, and counts as not written. */
function isKnownWord(row: PropertyRow | undefined, word: string): boolean {
  const words: string[] = [];
  for (const form of row?.forms ?? []) {
    if (form.sort === 'name') return true;
    if (form.sort === 'word' || form.sort === 'word with quantity') words.push(...form.words);
  }
  return words.length === 0 || words.includes(word);
}
