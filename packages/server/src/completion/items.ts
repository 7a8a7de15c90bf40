/** Completion items: light, in the order in which they are listed, whatever an editor would sort by. */
import type { PropertyRow } from '@couplet/language';
import { type CompletionItem, CompletionItemKind, InsertTextFormat, type Range } from 'vscode-languageserver';

export interface Draft {
  readonly label: string;
  readonly kind: CompletionItemKind;
  readonly detail?: string;
  /** Markdown; made when an editor asks for it, for one item at a time. */
  readonly documentation?: () => string | undefined;
  /** What is written instead of the label. */
  readonly insert?: string;
  /** Snippet syntax in `insert`. */
  readonly snippet?: boolean;
  /** Asks for the next completion as soon as this one is taken. */
  readonly goesOn?: boolean;
  /** The typed text it answers to, where that is not the label. */
  readonly filter?: string;
}

/** Which list and which item of it a documentation is asked for. */
export interface ItemData {
  readonly list: number;
  readonly index: number;
}

/** Drafts as the protocol has them, replacing `range`; the list keeps its order. `list` numbers it. */
export function toItems(drafts: readonly Draft[], range: Range, list: number): CompletionItem[] {
  return drafts.map((draft, index) => {
    const { label, kind, detail, documentation, insert, snippet, goesOn, filter } = draft;
    return {
      label,
      kind,
      sortText: String(index).padStart(5, '0'),
      textEdit: { range, newText: insert ?? label },
      ...(detail === undefined ? {} : { detail }),
      ...(documentation === undefined ? {} : { data: { list, index } satisfies ItemData }),
      ...(snippet ? { insertTextFormat: InsertTextFormat.Snippet } : {}),
      ...(goesOn ? { command: { title: 'Suggest', command: 'editor.action.triggerSuggest' } } : {}),
      ...(filter === undefined ? {} : { filterText: filter }),
    };
  });
}

export function keyword(label: string, says: string): Draft {
  return { label, kind: CompletionItemKind.Keyword, detail: says, insert: `${label} ` };
}

export function word(label: string, detail?: string): Draft {
  return { label, kind: CompletionItemKind.EnumMember, ...(detail === undefined ? {} : { detail }) };
}

export function property(row: PropertyRow): Draft {
  return {
    label: row.name,
    kind: CompletionItemKind.Property,
    detail: row.default === undefined ? formsOf(row) : `${formsOf(row)}, taken as ${row.default.text}`,
    documentation: () => (row.default === undefined ? row.says : `${row.says}\n\nDefault: ${row.default.origin}.`),
    insert: `${row.name}: `,
    goesOn: true,
  };
}

/** What a property takes, in a few words: 'V or %', 'diode | zener | none', 'name of a place'. */
function formsOf(row: PropertyRow): string {
  const said = row.forms.map((form) => {
    switch (form.sort) {
      case 'quantity':
      case 'half-open':
      case 'pair':
        return form.dimensions.map(unitWord).join(' or ');
      case 'via':
        return `${form.value.map(unitWord).join(' or ')} via ${form.behind.map(unitWord).join(' or ')}`;
      case 'at':
        return `${form.value.map(unitWord).join(' or ')} @ ${form.condition.map(unitWord).join(' or ')}`;
      case 'word':
        return form.words.join(' | ');
      case 'word with quantity':
        return `${form.words.join(' | ')} with ${form.dimensions.map(unitWord).join(' or ')}`;
      case 'count':
        return 'a whole number';
      case 'name':
        return `name of a ${form.target}`;
      case 'case for a time':
        return 'case for a time';
      case 'name with state':
        return 'name with a state';
      default:
        return form.sort;
    }
  });
  return [...new Set(said)].join(' or ');
}

function unitWord(dimension: string): string {
  return dimension === 'ratio' ? '%' : dimension === 'number' ? 'a number' : dimension;
}
