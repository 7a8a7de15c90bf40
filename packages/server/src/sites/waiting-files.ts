/**
 * Files of the workspace that are not loaded yet, by the sites that they make up, as told from their `use` statements
 * without parsing them: what a person looks at is loaded and checked before the rest of a large workspace.
 */
import { usedUri } from '@couplet/language';

/** Characters of text that are loaded at a time: about a tenth of a second. A site is never divided. */
const A_TURN = 60_000;

/** As `use` statements are written; one in a note only loads a file earlier. */
const USE = /^[ \t]*use[ \t]+"([^"\n]+)"/gm;

export class WaitingFiles {
  /** By address; the length of their text. */
  private readonly waiting = new Map<string, number>();
  private readonly uses = new Map<string, readonly string[]>();
  private readonly usedBy = new Map<string, string[]>();
  private count = 0;

  /** Texts by address, all at once. */
  add(texts: ReadonlyMap<string, string>): void {
    for (const [uri, text] of texts) {
      const targets = [...text.matchAll(USE)].flatMap((match) => usedUri(uri, match[1] ?? '') ?? []);
      this.waiting.set(uri, text.length);
      this.uses.set(uri, targets);
      for (const target of targets) this.usedBy.set(target, [...(this.usedBy.get(target) ?? []), uri]);
    }
    this.count = this.waiting.size;
  }

  /** Files that were added, and those of them that still wait. */
  get total(): number {
    return this.count;
  }

  get left(): number {
    return this.waiting.size;
  }

  /** Takes out what belongs to one site with a file: what uses it and everything that this uses. */
  take(uri: string): string[] {
    const around = closure([uri], (each) => this.usedBy.get(each) ?? []);
    const taken = [...closure(around, (each) => this.uses.get(each) ?? [])].filter((each) => this.waiting.has(each));
    for (const each of taken) this.waiting.delete(each);
    return taken;
  }

  /** Takes out the sites that come next, whole, until there is enough for a turn. */
  takeTurn(): string[] {
    const taken: string[] = [];
    let size = 0;
    for (const uri of this.waiting.keys()) {
      if (size >= A_TURN) break;
      const lengths = new Map(this.waiting);
      const site = this.take(uri);
      for (const each of site) size += lengths.get(each) ?? 0;
      taken.push(...site);
    }
    return taken;
  }

  /** Forgets a file, or all files of a folder, that went. */
  forget(uri: string): void {
    for (const each of this.waiting.keys()) if (each === uri || each.startsWith(`${uri}/`)) this.waiting.delete(each);
  }
}

function closure(from: Iterable<string>, next: (uri: string) => readonly string[]): Set<string> {
  const seen = new Set(from);
  for (const uri of seen) for (const each of next(uri)) seen.add(each);
  return seen;
}
