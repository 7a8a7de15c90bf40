/**
 * The lexer. After tokens are cut, a keyword that stands where only a value or a name can stand is turned into a name:
 * right after `:`, `=`, `,` or `..` on the same line, or the word of a kind right after another one (`terminal common`). So every word of the syntax can also be a value
 * (`role: input`, `program level.X1 as = output`), and a value that is missing at the end of a line does not swallow the
 * statement on the next.
 */
import { DefaultLexer, type LexerResult, type TokenizeOptions } from 'langium';
import { isKind, isMemberKind } from '../generated/ast.ts';
import type { Token } from './patterns.ts';

const BEFORE_VALUES = new Set([':', '=', ',', '..', '@', '/']);
const KEYWORD = /^[a-z]/;
/** They follow the colon of a reading (`rest: volts A to B = 1 V`). */
const KEPT = new Set(['volts', 'ohms', 'amps']);

export class CoupletLexer extends DefaultLexer {
  override tokenize(text: string, options?: TokenizeOptions): LexerResult {
    const result = super.tokenize(text, options);
    this.freeValues(result.tokens);
    return result;
  }

  private freeValues(tokens: readonly Token[]): void {
    const name = this.definition.ID;
    if (name === undefined) return;
    for (let i = 1; i < tokens.length; i++) {
      const token = tokens[i] as Token;
      const before = tokens[i - 1] as Token;
      if (before.startLine !== token.startLine || !KEYWORD.test(token.tokenType.name)) continue;
      const named = isKindWord(before.tokenType.name) && isKindWord(token.tokenType.name);
      const valued = BEFORE_VALUES.has(before.image) && !KEPT.has(token.image) && !declaresKind(tokens, i);
      if (!named && !valued) continue;
      token.tokenType = name;
      token.tokenTypeIdx = name.tokenTypeIdx as number;
    }
  }
}

/** `type NAME : unit`: there the word after the colon is part of the syntax. */
function declaresKind(tokens: readonly Token[], index: number): boolean {
  return tokens[index - 1]?.image === ':' && tokens[index - 3]?.image === 'type';
}

function isKindWord(name: string): boolean {
  return isKind(name) || isMemberKind(name);
}
