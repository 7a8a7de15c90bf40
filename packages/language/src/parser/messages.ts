/** Messages of the parser in words of the trade. `checks/syntax.ts` decides which of them are told, and where. */
import { AbstractParserErrorMessageProvider } from 'langium';
import type { Token } from './patterns.ts';

type TokenType = Token['tokenType'];

const TOKEN_WORDS: Readonly<Record<string, string>> = {
  ID: 'a name',
  KEY: "a property's name with its colon",
  OWNER: 'a name',
  DOT_KEY: 'the name of a property',
  DOT_NAME: 'a name',
  NUMBER: 'a number',
  SIGNED: 'a number',
  TOLERANCE: 'a tolerance',
  STRING: 'a text in quotes',
  DATE: 'a date such as 2028-01-31',
};

/** What a rule of the grammar is, where none of its ways fits. */
const RULE_WORDS: Readonly<Record<string, string>> = {
  CoupletFile: 'a statement',
  Statement: 'a statement',
  AssemblyItem: 'a statement or a property',
  AssemblyBody: 'a statement or a property',
  Body: "a property, a member or '}'",
  BodyItem: "a property, a member or '}'",
  Case: "turn, expect, wait or '}'",
  CaseStep: "turn, expect, wait or '}'",
  Kind: 'a kind such as unit, relay or resistor',
  PartKind: 'a kind such as unit, relay or resistor',
  TypeDeclaration: 'a kind such as unit, relay or resistor',
  MemberKind: 'a member such as output or zone',
  Name: 'a name',
  MemberName: 'a name',
  MemberWord: 'a name',
  StepName: 'a name',
  Step: 'a name',
  OwnerName: 'a name',
  WordOrText: 'a value',
  Value: 'a value',
  Term: 'a value',
  Quantity: 'a value',
  QuantityValue: 'a value',
  WordTerm: 'a value',
  ValueOperator: 'a value',
  Expect: 'a state or a comparison such as >= 10.5 V',
  Comparison: 'a comparison such as >= 10.5 V',
  State: 'a state',
  StateName: 'a state',
  StateWord: 'a state',
  Fault: "a fault's word or 'on'",
  Measure: 'volts, ohms or amps',
  Program: 'the setting, a property or a text in quotes,',
  SettingWord: 'the setting, a property or a text in quotes,',
  Property: 'a property',
  Group: 'limits, bands or as',
  Reading: 'a case with its colon',
  CaseKey: 'a case with its colon',
};

/** The name of a rule without the mark that Langium puts behind it. */
export function ruleName(name: string): string {
  return name.replace(/\u200B/g, '');
}

/** What could stand in place of a token, in words. */
export function tokenWords(name: string): string {
  return TOKEN_WORDS[name] ?? `'${name}'`;
}

/** What a rule of the grammar takes, in words; undefined where its tokens say it better. */
export function ruleWords(name: string): string | undefined {
  return RULE_WORDS[ruleName(name)];
}

/** Nothing more could stand there. */
export const NOTHING = 'nothing further';

/** The parser's own message is only what it expected; `checks/syntax.ts` makes the sentence, with what stands around it. */
export class CoupletParserMessages extends AbstractParserErrorMessageProvider {
  override buildMismatchTokenMessage(options: { expected: TokenType }): string {
    return options.expected.name === 'EOF' ? NOTHING : tokenWords(options.expected.name);
  }

  override buildNoViableAltMessage(options: { expectedPathsPerAlt: TokenType[][][]; ruleName: string }): string {
    return ruleWords(options.ruleName) ?? firstWords(options.expectedPathsPerAlt.flat());
  }

  override buildEarlyExitMessage(options: { expectedIterationPaths: TokenType[][] }): string {
    return firstWords(options.expectedIterationPaths);
  }

  override buildNotAllInputParsedMessage(): string {
    return NOTHING;
  }
}

function firstWords(paths: readonly TokenType[][]): string {
  const names = paths.flatMap(([first]) => (first === undefined ? [] : first.name));
  return names[0] === undefined ? 'something else' : tokenWords(names[0]);
}

export function isOnLaterLine(before: Token | undefined, token: Token): boolean {
  return (before?.endLine ?? Number.POSITIVE_INFINITY) < (token.startLine ?? 0);
}
