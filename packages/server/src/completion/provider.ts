/** Completion: what can be written at the cursor, from the half-typed statement, the names and the computed site. */
import { type Dimension, IEC_60228, type Resistor, SMALL_CONDUCTORS, unitsOf } from '@couplet/engine';
import {
  BUNDLED_PATHS,
  type CoupletFile,
  type CoupletServices,
  type Form,
  isComponentName,
  isTypeDeclaration,
  type Named,
  nameAsWritten,
  type PropertyRow,
  propertyRow,
  propertyRows,
  type Subject,
  subjectOfNode,
} from '@couplet/language';
import { CATALOGUE, RULE_NAMES, type RuleName } from '@couplet/rules';
import { type LangiumDocument, URI, UriUtils } from 'langium';
import type { CompletionProvider } from 'langium/lsp';
import {
  type CompletionItem,
  CompletionItemKind,
  CompletionList,
  type CompletionOptions,
  type CompletionParams,
  type Range,
} from 'vscode-languageserver';
import { demandsOn, withProbe } from '../figures/asked-ohms.ts';
import type { CheckedSite, Sites } from '../sites/seam.ts';
import { type Draft, type ItemData, keyword, property, toItems, word } from './items.ts';
import { declaredWords, NamesAt, sortOfNode } from './names.ts';
import { resistorValues } from './resistor-values.ts';
import { type BodySubject, findSpot, type Purpose, type Spot } from './spot.ts';
import { ASSEMBLY_STATEMENTS, CLASSES, KIND_SAYS, MEMBER_SAYS, STATEMENT_SAYS, STATES } from './words.ts';

/** Longer lists are cut, and asked for again with the next letter. */
const MOST_ITEMS = 400;

/** Lists whose items can still be told more of: an editor asks while it shows one. */
const KEPT_LISTS = 3;

interface Place {
  readonly uri: string;
  readonly file: CoupletFile;
  readonly text: string;
  readonly start: number;
  readonly offset: number;
}

export class CoupletCompletion implements CompletionProvider {
  readonly completionOptions: CompletionOptions = { triggerCharacters: ['.', ':', '=', '"', '/', '-'] };
  /** The last lists by their numbers, for the documentation of their items. */
  private readonly lists = new Map<number, readonly Draft[]>();
  private lastList = 0;
  private readonly names: NamesAt;
  private readonly sites: () => Sites | undefined;

  constructor(services: CoupletServices, sites: () => Sites | undefined) {
    this.names = new NamesAt(services);
    this.sites = sites;
  }

  getCompletion(document: LangiumDocument, { position }: CompletionParams): CompletionList {
    const text = document.textDocument.getText();
    const offset = document.textDocument.offsetAt(position);
    const { spot, start } = findSpot(text, offset);
    const file = document.parseResult.value as CoupletFile;
    const place: Place = { uri: document.uri.toString(), file, text, start, offset };
    const drafts = this.draftsAt(spot, place);
    const typed = text.slice(start, offset).toLowerCase();
    const fitting = drafts.filter(({ filter, label }) => holdsInOrder((filter ?? label).toLowerCase(), typed));
    const range: Range = { start: document.textDocument.positionAt(start), end: position };
    const shown = fitting.slice(0, MOST_ITEMS);
    this.lists.set(++this.lastList, shown);
    this.lists.delete(this.lastList - KEPT_LISTS);
    return CompletionList.create(toItems(shown, range, this.lastList), fitting.length > MOST_ITEMS);
  }

  /** An item with its documentation; as it is where its list is too old. */
  resolve(item: CompletionItem): CompletionItem {
    const { index, list } = (item.data ?? {}) as Partial<ItemData>;
    const draft = list === undefined || index === undefined ? undefined : this.lists.get(list)?.[index];
    const value = draft?.documentation?.();
    return value === undefined ? item : { ...item, documentation: { kind: 'markdown', value } };
  }

  private draftsAt(spot: Spot, place: Place): Draft[] {
    switch (spot.at) {
      case 'nothing':
        return [];
      case 'statement':
        return [...says(STATEMENT_SAYS), ...says(KIND_SAYS)];
      case 'item':
        return itemDrafts(spot.subject, spot.given);
      case 'value':
        return this.valueDrafts(spot, place);
      case 'rating':
        return spot.subject === 'resistor' && !spot.joined ? this.resistorDrafts(spot.names, place) : [];
      case 'unit':
        return this.unitDrafts(spot, place);
      case 'reference':
        return this.referenceDrafts(spot.purpose, spot.path, place);
      case 'state':
        return this.stateDrafts(spot.step, spot.target, place);
      case 'setting':
        return this.settingDrafts(spot.target, spot.property, place);
      case 'type':
        return named(
          this.names.types(place.uri, place.file),
          (node) => isTypeDeclaration(node) && node.kind === spot.kind,
        );
      case 'kind':
        return says(KIND_SAYS);
      case 'place':
        return named(this.names.things(place.uri, place.file), (node) => sortOfNode(node) === 'place');
      case 'case':
        return named(this.names.cases(place.uri, place.file));
      case 'rule':
        return RULE_NAMES.map(ruleDraft);
      case 'file':
        return this.fileDrafts(place);
      case 'words':
        return spot.words.map((each) => ({ label: each, kind: CompletionItemKind.Keyword, insert: `${each} ` }));
    }
  }

  /** Loaded files by their path from this one, and the files of types that come with the language. */
  private fileDrafts({ uri }: Place): Draft[] {
    const own = this.names.files().filter((other) => other !== uri);
    const paths = own.map((other) => UriUtils.relative(UriUtils.dirname(URI.parse(uri)), other));
    return [
      ...paths.map((label): Draft => ({ label, kind: CompletionItemKind.File })),
      ...BUNDLED_PATHS.map(
        (label): Draft => ({ label, kind: CompletionItemKind.File, detail: 'generic types of the language' }),
      ),
    ];
  }

  private valueDrafts(spot: Extract<Spot, { at: 'value' }>, place: Place): Draft[] {
    const row = this.rowOf(spot, place);
    if (row === undefined) return [];
    if (spot.property === 'size') return sections();
    return row.forms.flatMap((form) => this.formDrafts(form, spot.joined, spot.unit, place));
  }

  private rowOf(spot: Extract<Spot, { at: 'value' }>, place: Place): PropertyRow | undefined {
    if (spot.subject === 'case' || spot.subject === 'measured') return undefined;
    if (spot.owner.length === 0) return propertyRow(spot.subject, spot.property);
    const owner = this.names.resolve([spot.unit, ...spot.owner], place.uri, place.file);
    const subject = subjectOfNode(owner);
    return subject === undefined ? undefined : propertyRow(subject, spot.property);
  }

  private formDrafts(form: Form, joined: boolean, unit: string, place: Place): Draft[] {
    if (form.sort === 'name') return this.targetDrafts(form.target, unit, place);
    if (form.sort === 'case for a time') return named(this.names.cases(place.uri, place.file));
    if (form.sort === 'name with state') return named(this.names.things(place.uri, place.file), isPart);
    if (joined) return [];
    if (form.sort === 'word') return form.words.map((each) => word(each));
    if (form.sort === 'word with quantity') {
      return form.words.map((each) => ({ ...word(each, `with ${form.dimensions.join(' or ')}`), insert: `${each} ` }));
    }
    return form.sort === 'half-open' ? ['below', 'above'].map((each) => ({ ...word(each), insert: `${each} ` })) : [];
  }

  private targetDrafts(target: string, unit: string, place: Place): Draft[] {
    const things = this.names.things(place.uri, place.file);
    if (target === 'place') return named(things, (node) => sortOfNode(node) === 'place');
    if (target === 'case') return named(this.names.cases(place.uri, place.file));
    if (target === 'thing') return named(things, isPart);
    const owner = things.get(unit) ?? this.names.types(place.uri, place.file).get(unit);
    if (owner === undefined || !(isComponentName(owner) || isTypeDeclaration(owner))) return [];
    const wanted = MEMBER_TARGETS[target];
    return named(this.names.ofUnit(owner), (node) => wanted === undefined || wanted.includes(sortOfNode(node)), true);
  }

  private unitDrafts(spot: Extract<Spot, { at: 'unit' }>, place: Place): Draft[] {
    const { of, number } = spot;
    const digits = place.text.slice(number, place.start);
    const units = this.dimensionsAt(of, place).flatMap((dimension) => unitsOf(dimension));
    const drafts: Draft[] = units.map(({ symbol, tight }) => ({
      label: symbol,
      kind: CompletionItemKind.Unit,
      insert: tight || place.text.slice(number, place.offset) !== digits ? symbol : ` ${symbol}`,
    }));
    if (of.at !== 'rating' || of.subject !== 'resistor') return drafts;
    const typed = place.text.slice(number, place.offset);
    const values = this.resistorDrafts(of.names, place).filter(({ label }) => label.startsWith(typed));
    // The range to be replaced begins behind the digits, so that they stand in what is compared but not in what is put in.
    return [
      ...values.map((each) => ({
        ...each,
        insert: each.label.slice(digits.length),
        filter: each.label.slice(digits.length),
      })),
      ...drafts,
    ];
  }

  private dimensionsAt(spot: Spot, place: Place): readonly Dimension[] {
    if (spot.at === 'rating') {
      const row = propertyRow(spot.subject, '=');
      return row === undefined ? [] : row.forms.flatMap((form) => dimensionsOf(form, spot.joined));
    }
    if (spot.at === 'value') {
      const row = this.rowOf(spot, place);
      return row === undefined ? [] : [...new Set(row.forms.flatMap((form) => dimensionsOf(form, spot.joined)))];
    }
    if (spot.at === 'state') return ['V', 'A', 'W', 'ohm'];
    return spot.at === 'nothing' ? ['s'] : [];
  }

  private referenceDrafts(purpose: Purpose, path: readonly string[], { uri, file }: Place): Draft[] {
    const wanted = (node: Named) => WANTED[purpose].includes(sortOfNode(node));
    if (path.length > 0) {
      return named(this.names.membersOf(path, uri, file), (node) => !NEVER_JOINED.has(sortOfNode(node)), true);
    }
    return named(this.names.things(uri, file), wanted);
  }

  private stateDrafts(step: 'turn' | 'expect', target: readonly string[], { uri, file }: Place): Draft[] {
    const node = this.names.resolve(target, uri, file);
    if (node === undefined) return [];
    const sort = sortOfNode(node);
    const words = STATES[step][sort] ?? [];
    const modes = [...this.names.membersOf(target, uri, file)].filter(([, each]) => sortOfNode(each) === 'mode');
    const classes = sort === 'zone' && step === 'expect' ? CLASSES : [];
    const comparisons = step === 'expect' ? ['>=', '<=', 'about'] : [];
    return [
      ...classes.map((each) => word(each, 'class')),
      ...words.map((each) => word(each)),
      ...modes.map(([name]) => word(name, 'mode')),
      ...comparisons.map((each) => ({ label: each, kind: CompletionItemKind.Operator, insert: `${each} ` })),
    ];
  }

  private settingDrafts(target: readonly string[], name: string, place: Place): Draft[] {
    const node = this.names.resolve(target, place.uri, place.file);
    const subject = subjectOfNode(node);
    if (subject === undefined) return [];
    if (name === '') {
      return propertyRows(subject)
        .filter(({ programmable }) => programmable)
        .map((row) => ({ ...property(row), insert: `${row.name} = ` }));
    }
    const row = propertyRow(subject, name);
    return row === undefined ? [] : row.forms.flatMap((form) => this.formDrafts(form, false, target[0] ?? '', place));
  }

  /** Resistor values in the order in which they suit the zones of the site that the resistor stands in. */
  private resistorDrafts(names: readonly string[], { uri }: Place): Draft[] {
    const site = this.sites()?.sitesOf(uri)[0];
    const resistors = (site?.design.components ?? []).filter((part): part is Resistor => part.kind === 'resistor');
    const written = resistors.find(({ name }) => names.includes(name.slice(name.lastIndexOf('.') + 1)));
    const demands = site === undefined || written === undefined ? [] : demandsIn(site, written);
    const onSite = resistors.flatMap(({ id, ohms }) => (ohms === undefined || id === written?.id ? [] : [ohms.usual]));
    return resistorValues(demands, onSite).map(({ text, because, readings }) => ({
      label: text,
      kind: CompletionItemKind.Value,
      detail: because,
      ...(readings.length === 0 ? {} : { documentation: () => readings.map((line) => `- ${line}`).join('\n') }),
    }));
  }
}

function demandsIn(site: CheckedSite, resistor: Resistor) {
  const { analysis, part, id } = site.analyses.at(resistor.id);
  const design = withProbe(analysis.design, part as Resistor);
  return demandsOn(id, design === analysis.design ? analysis : site.analyse(design));
}

/** Members by what a property asks for; other targets take every name of the unit. */
const MEMBER_TARGETS: Readonly<Record<string, readonly string[]>> = {
  rail: ['rail'],
  scheme: ['scheme'],
  feed: ['feed', 'rail'],
  return: ['common', 'terminal', 'rail', 'output', 'zone', 'input'],
};

const PARTS = Object.keys(KIND_SAYS);

const WANTED: Readonly<Record<Purpose, readonly string[]>> = {
  wire: [...PARTS.filter((kind) => kind !== 'assembly'), 'assembly', 'given', 'use'],
  spare: [...PARTS, 'use'],
  turn: [...PARTS, 'given', 'use'],
  expect: [...PARTS, 'confirm', 'given', 'use'],
  between: [...PARTS, 'given', 'use'],
  program: ['unit', 'relay', 'load', 'use', 'assembly'],
  accept: [...PARTS, 'confirm', 'place', 'use'],
  zone: ['unit', 'given', 'use'],
  battery: ['battery'],
};

/** Members that are no place in a circuit. */
const NEVER_JOINED: ReadonlySet<string> = new Set(['scheme', 'mode']);

function isPart(node: Named): boolean {
  return PARTS.includes(sortOfNode(node));
}

function says(table: Readonly<Record<string, string>>): Draft[] {
  return Object.entries(table).map(([label, sentence]) => keyword(label, sentence));
}

function itemDrafts(subject: BodySubject, given: ReadonlySet<string>): Draft[] {
  if (subject === 'case' || subject === 'measured') return [];
  if (subject === 'limits') return RULE_NAMES.map((name) => ({ ...ruleDraft(name), insert: `${name}: ` }));
  if (subject === 'scheme')
    return CLASSES.filter((each) => !given.has(each)).map((each) => ({ ...word(each, 'class'), insert: `${each}: ` }));
  const rows = propertyRows(subject as Subject).filter(({ name }) => /^[a-z]/.test(name) && !given.has(name));
  return [
    ...rows.map(property),
    ...(subject === 'unit' ? says(MEMBER_SAYS) : []),
    ...(subject === 'assembly' ? ASSEMBLY_STATEMENTS.map((each) => keyword(each, STATEMENT_SAYS[each] ?? '')) : []),
  ];
}

function ruleDraft(name: RuleName): Draft {
  return { ...word(name), documentation: () => CATALOGUE[name].summary };
}

/** Names as they must be written, each with what it is. */
function named(
  names: ReadonlyMap<string, Named>,
  admits: (node: Named) => boolean = () => true,
  afterDot = false,
): Draft[] {
  return [...names]
    .filter(([, node]) => admits(node))
    .map(([name, node]) => ({
      label: name,
      kind: afterDot ? CompletionItemKind.Field : CompletionItemKind.Variable,
      detail: sortOfNode(node),
      documentation: () => declaredWords(node),
      insert: nameAsWritten(name, afterDot),
    }));
}

function dimensionsOf(form: Form, joined: boolean): readonly Dimension[] {
  switch (form.sort) {
    case 'quantity':
    case 'half-open':
    case 'pair':
    case 'word with quantity':
      return form.dimensions;
    case 'via':
      return joined ? form.behind : form.value;
    case 'at':
      return joined ? form.condition : form.value;
    default:
      return [];
  }
}

/** Cross-sections as cables are sold, rising. Source: IEC 60228; below 0.5 mm² the constructions of the tables. */
function sections(): Draft[] {
  const sold = [...SMALL_CONDUCTORS.map(({ soldAs }) => soldAs), ...IEC_60228.map(({ mm2 }) => mm2)];
  return [...new Set(sold)]
    .sort((a, b) => a - b)
    .map((mm2) => ({ label: `${mm2} mm2`, kind: CompletionItemKind.Value, detail: 'cross-section' }));
}

/** Whether the letters of `typed` stand in `label` in that order. */
function holdsInOrder(label: string, typed: string): boolean {
  let at = 0;
  for (const letter of typed) {
    at = label.indexOf(letter, at) + 1;
    if (at === 0) return false;
  }
  return true;
}
