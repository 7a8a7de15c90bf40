/** The form of a statement as a line of text, read from the grammar: words stand as they are, what is filled in in capitals. */
import { GrammarAST } from 'langium';
import { CoupletGrammar } from '../../packages/language/src/generated/grammar.ts';

const RULES = new Map(CoupletGrammar().rules.map((rule) => [rule.name, rule]));

/** The parser rules that a rule chooses between: those of `Statement`, of `CaseStep`. */
export function alternativesOf(name: string): string[] {
  const { definition } = RULES.get(name) as GrammarAST.ParserRule;
  if (!GrammarAST.isAlternatives(definition)) throw new Error(`${name} is no choice`);
  return definition.elements.map((element) => calledRule(element as GrammarAST.AbstractElement));
}

/** `use "PATH" (as NAME)?` for `Use`. */
export function formOf(name: string): string {
  const rule = RULES.get(name) as GrammarAST.ParserRule;
  return textOf(rule.definition).replace(/\s+/g, ' ').replace(/ ,/g, ',').trim();
}

/** Rules that are spelt out where they stand. */
const SPELT_OUT = new Set(['Measure', 'Comparison']);
/** Bodies, whose contents the tables tell. */
const BODIES = new Set(['Body', 'AssemblyBody']);

function textOf(element: GrammarAST.AbstractElement): string {
  return withCardinality(bare(element), element);
}

function bare(element: GrammarAST.AbstractElement): string {
  if (GrammarAST.isKeyword(element)) return element.value;
  if (GrammarAST.isGroup(element)) return element.elements.map(textOf).join(' ');
  if (GrammarAST.isAlternatives(element)) return choice(element.elements.map(textOf));
  if (GrammarAST.isAssignment(element)) return assigned(element);
  if (GrammarAST.isRuleCall(element)) return called(calledRule(element), '');
  throw new Error(`the reference has no form for ${element.$type}`);
}

/** Choices within a choice are of the same one. */
function choice(ways: readonly string[]): string {
  const plain = ways.map((way) => (/^\([^()]*\)$/.test(way) ? way.slice(1, -1) : way));
  return plain.length === 1 ? (plain[0] as string) : `(${plain.join(' | ')})`;
}

function assigned({ feature, operator, terminal }: GrammarAST.Assignment): string {
  if (operator === '?=') return textOf(terminal);
  if (GrammarAST.isCrossReference(terminal)) return feature.toUpperCase();
  if (GrammarAST.isRuleCall(terminal)) return called(calledRule(terminal), feature);
  return textOf(terminal);
}

function called(rule: string, feature: string): string {
  if (BODIES.has(rule)) return '{ … }';
  if (rule === 'STRING') return `"${feature === 'by' ? 'name' : feature}"`;
  if (SPELT_OUT.has(rule)) return formOf(rule);
  if (rule === 'Kind' || rule === 'PartKind' || rule === 'MemberKind') return 'KIND';
  return (FILLED_IN[feature] ?? (feature === '' ? rule : feature)).toUpperCase();
}

/** Features that are named otherwise where they are filled in; lists are named for one of what they hold. */
const FILLED_IN: Readonly<Record<string, string>> = {
  names: 'name',
  elements: 'element',
  targets: 'target',
  values: 'value',
  zones: 'zone',
  steps: 'step',
  readings: 'reading',
  after: 'case',
  until: 'date',
  within: 'time',
  window: 'time',
  duration: 'time',
};

function withCardinality(text: string, element: GrammarAST.AbstractElement): string {
  const { cardinality } = element;
  if (cardinality === undefined) return text;
  const several = GrammarAST.isGroup(element) && element.elements.length > 1;
  const grouped = several || (text.includes(' ') && !text.startsWith('(') && text !== '{ … }') ? `(${text})` : text;
  return `${grouped}${cardinality}`;
}

function calledRule(element: GrammarAST.AbstractElement): string {
  if (!GrammarAST.isRuleCall(element)) throw new Error(`the reference has no form for ${element.$type}`);
  return element.rule.ref?.name ?? element.rule.$refText;
}
