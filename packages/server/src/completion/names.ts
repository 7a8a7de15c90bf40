/** Names that a half-typed reference can go on with: what its complete parts lead to, found without a tree for them. */
import {
  type ComponentName,
  type CoupletFile,
  type CoupletServices,
  isBundledUri,
  isComponent,
  isComponentName,
  isCore,
  isMember,
  isMemberName,
  isTypeDeclaration,
  type Lookup,
  type Named,
  type TypeDeclaration,
  topNames,
} from '@couplet/language';
import { plain } from '../figures/words.ts';

export class NamesAt {
  private readonly services: CoupletServices;

  constructor(services: CoupletServices) {
    this.services = services;
  }

  /** Addresses of all loaded files of the workspace, sorted. */
  files(): readonly string[] {
    const documents = this.services.shared.workspace.LangiumDocuments.all.map(({ uri }) => uri.toString());
    return documents
      .filter((uri) => !isBundledUri(uri))
      .toArray()
      .sort();
  }

  /** Components, places and the like that a file sees, nearest first, each name once. */
  things(uri: string, file: CoupletFile): Map<string, Named> {
    const { Library, SiteScopes } = this.services.references;
    const found = new Map<string, Named>();
    for (const table of [topNames(file).things, ...SiteScopes.around(uri, 'things'), Library.top.things]) {
      for (const [name, [node]] of table.entries()) if (node !== undefined && !found.has(name)) found.set(name, node);
    }
    return found;
  }

  cases(uri: string, file: CoupletFile): Map<string, Named> {
    return this.inCategory('cases', uri, file);
  }

  types(uri: string, file: CoupletFile): Map<string, Named> {
    return this.inCategory('types', uri, file);
  }

  /** What a path leads to; undefined where one of its parts is not known. */
  resolve(path: readonly string[], uri: string, file: CoupletFile): Named | undefined {
    let node = this.things(uri, file).get(path[0] ?? '');
    for (let i = 1; i < path.length && node !== undefined; i += 1) {
      node = this.below(node, path.slice(0, i)).get(firstTerminal(path[i] as string)) ?? undefined;
    }
    return node;
  }

  /** What may follow a dot after a path. */
  membersOf(path: readonly string[], uri: string, file: CoupletFile): Map<string, Named> {
    const node = this.resolve(path, uri, file);
    return new Map(node === undefined ? [] : this.below(node, path).entries());
  }

  /** Members and terminals that the body of a component or type can name. */
  ofUnit(unit: ComponentName | TypeDeclaration): Map<string, Named> {
    const declaration = isTypeDeclaration(unit) ? unit : unit.$container;
    if (!isComponent(declaration) && !isTypeDeclaration(declaration)) return new Map();
    return new Map(this.services.references.Resolver.members.ofUnit(declaration).entries());
  }

  private inCategory(category: 'cases' | 'types', uri: string, file: CoupletFile): Map<string, Named> {
    const found = new Map<string, Named>();
    for (const table of [topNames(file)[category], ...this.services.references.SiteScopes.around(uri, category)]) {
      for (const [name, [node]] of table.entries()) if (node !== undefined && !found.has(name)) found.set(name, node);
    }
    return found;
  }

  private below(node: Named, path: readonly string[]): Lookup {
    return this.services.references.Resolver.members.of(node, path.join('.'));
  }
}

/** `11-14` leads on from its first terminal. */
function firstTerminal(name: string): string {
  return /^\d+(?=-\d)/.exec(name)?.[0] ?? name;
}

/** What kind of thing a name stands for, in one word: 'relay', 'zone', 'core', 'terminal', 'place'. */
export function sortOfNode(node: Named): string {
  if (isComponentName(node) && isComponent(node.$container)) return node.$container.kind;
  if (isMemberName(node) && isMember(node.$container)) {
    return node.$container.kind === 'supply' ? 'feed' : node.$container.kind;
  }
  if (isTypeDeclaration(node)) return node.kind;
  if (isCore(node)) return 'core';
  const sort = node.$type;
  if (sort === 'WordTerm' || sort === 'Quantity' || sort === 'Property') return 'terminal';
  return sort.replace('NamedValue', 'value').toLowerCase();
}

/** Lines of a declaration that are shown. */
const MOST_LINES = 12;

/** What a name was declared with: its description, and the statement as it is written. */
export function declaredWords(node: Named): string | undefined {
  const statement = isComponentName(node) || isMemberName(node) ? node.$container : node;
  const text = statement.$cstNode?.text;
  if (text === undefined) return undefined;
  const lines = text.split(/\r\n|\r|\n/);
  const shown = lines.length > MOST_LINES ? [...lines.slice(0, MOST_LINES), '…'] : lines;
  const description = 'description' in statement ? statement.description.join(' ') : '';
  return [...(description === '' ? [] : [plain(description)]), `\`\`\`couplet\n${shown.join('\n')}\n\`\`\``].join(
    '\n\n',
  );
}
