/** Which findings of a file only follow from one of its syntax findings: one mistake gives one message. */
import { AstUtils, type LangiumDocument } from 'langium';
import { type CoupletFile, isCaseStep } from '../generated/ast.ts';
import type { LanguageCode } from './report.ts';

interface Located {
  readonly code?: string | number;
  readonly data?: unknown;
  readonly range: { readonly start: Position; readonly end: Position };
}

type Position = { readonly line: number; readonly character: number };

/** Findings about how a statement is built, which a syntax finding anywhere in it explains. */
const OF_FORM = new Set<unknown>([
  'member-misplaced',
  'property-misplaced',
  'property-repeated',
  'reason-missing',
  'fault-missing',
  'comma-missing',
] satisfies LanguageCode[]);

/** Signs and words that join two quantities, or are taken for such: what stands before a lonely one is half a value. */
const JOINS = new Set(['..', '@', '/', 'via', 'at', 'to', '-']);
const OF_VALUES = new Set<unknown>(['form-wrong', 'spread-wrong', 'dimension-wrong'] satisfies LanguageCode[]);
const MEASURES = new Set<unknown>(['volts', 'ohms', 'amps']);

interface Placed<D> {
  readonly finding: D;
  readonly start: number;
  readonly end: number;
}

export function withoutConsequences<D extends Located>(document: LangiumDocument, findings: readonly D[]): D[] {
  if (!findings.some(isSyntax)) return [...findings];
  const { textDocument, parseResult } = document;
  const text = textDocument.getText();
  const all = findings.map((finding): Placed<D> => {
    const { start, end } = finding.range;
    return { finding, start: textDocument.offsetAt(start), end: textDocument.offsetAt(end) };
  });
  const file = parseResult.value as CoupletFile;
  const spans = new Spans(file, text.length);
  const broken = all.filter(({ finding }) => isSyntax(finding));
  const others = all.filter(({ finding }) => !isSyntax(finding));
  const explains = (cause: Placed<D>, other: Placed<D>) => explained(cause, other, spans, text);
  const kept = others.filter((other) => !broken.some((cause) => explains(cause, other)));
  const causes = broken.filter((cause) => !kept.some((other) => isWordBefore(other, cause, spans, text)));
  const told = new Set([...kept, ...causes].map(({ finding }) => finding));
  return findings.filter((finding) => told.has(finding));
}

function isSyntax({ code }: Located): boolean {
  return code === 'syntax-error';
}

/** Whether another finding follows from a syntax finding. */
function explained<D extends Located>(cause: Placed<D>, other: Placed<D>, spans: Spans, text: string): boolean {
  const { code } = other.finding;
  const statement = spans.statement(cause.start) === spans.statement(other.start);
  if (OF_FORM.has(code)) return statement;
  // Behind it, it is not certain any more in which body a property stands.
  if (code === 'property-unknown') return statement && other.start > cause.start;
  if (OF_VALUES.has(code)) {
    return JOINS.has(text.slice(cause.start, cause.end)) && isBlank(text.slice(other.end, cause.start));
  }
  if (code !== 'name-unknown' && code !== 'state-wrong') return false;
  if (other.start === cause.start) return true;
  return other.start > cause.start && spans.step(cause.start) === spans.step(other.start);
}

/** Whether a wrong word right before a syntax finding is the mistake: what stands behind it was read as something else. */
function isWordBefore<D extends Located>(word: Placed<D>, cause: Placed<D>, spans: Spans, text: string): boolean {
  if (word.start >= cause.start || spans.step(cause.start) !== spans.step(word.start)) return false;
  if (word.finding.code === 'state-wrong') return isBlank(text.slice(word.end, cause.start));
  if (word.finding.code !== 'name-unknown') return false;
  return MEASURES.has((word.finding.data as { suggestion?: string } | undefined)?.suggestion);
}

function isBlank(stretch: string): boolean {
  return stretch.trim() === '';
}

/** Where statements and steps of cases begin; each goes on to the next one. */
class Spans {
  private readonly statements: readonly number[];
  private readonly steps: readonly number[];

  constructor(file: CoupletFile, length: number) {
    const starts = (nodes: Iterable<{ readonly $cstNode?: { readonly offset: number } }>) =>
      [...nodes].flatMap(({ $cstNode: cst }) => cst?.offset ?? []).sort((a, b) => a - b);
    this.statements = starts(file.statements ?? []);
    this.steps = [...starts(AstUtils.streamAst(file).filter(isCaseStep)), length + 1];
  }

  /** Number of the statement that holds an offset, its gap behind it included. */
  statement(offset: number): number {
    return this.statements.findLastIndex((start) => start <= offset);
  }

  /** Number of the step; every offset outside of cases has that of the statement around it. */
  step(offset: number): string {
    const step = this.steps.findLastIndex((start) => start <= offset);
    return `${this.statement(offset)}.${step}`;
  }
}
