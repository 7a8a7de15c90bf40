/** How the checks of the language report: one shape, codes of their own, places by node. */
import type { AstNode, CstNode, DiagnosticInfo, NameProvider, ValidationAcceptor } from 'langium';
import { AstUtils, CstUtils } from 'langium';

/**
 * Codes of the language's own findings: lower case, never reused.
 * Those of files are told by whoever reads them; those of chains and places by lowering.
 */
export type LanguageCode =
  | 'syntax-error'
  | 'name-unknown'
  | 'name-taken'
  | 'property-unknown'
  | 'property-repeated'
  | 'property-misplaced'
  | 'member-misplaced'
  | 'value-unreadable'
  | 'unit-unknown'
  | 'unit-missing'
  | 'dimension-wrong'
  | 'spread-wrong'
  | 'comma-missing'
  | 'word-wrong'
  | 'form-wrong'
  | 'too-many-values'
  | 'type-of-another-kind'
  | 'count-wrong'
  | 'state-wrong'
  | 'reason-missing'
  | 'fault-missing'
  | 'date-wrong'
  | 'rule-unknown'
  | 'used-twice';

/** What a finding carries for fixes: the words to put in its place. */
export interface FindingData {
  readonly code: LanguageCode;
  readonly suggestion?: string;
}

export interface Report {
  readonly code: LanguageCode;
  readonly message: string;
  readonly node: AstNode;
  /** A feature of the node, with its index in a list. */
  readonly property?: string;
  readonly index?: number;
  /** A stretch of text, in place of a feature. */
  readonly cst?: CstNode | { readonly from: CstNode; readonly to: CstNode };
  readonly suggestion?: string;
  readonly related?: readonly { readonly node: AstNode; readonly message: string }[];
  readonly severity?: 'error' | 'warning' | 'info';
}

export type Reporter = (report: Report) => void;

export function reporter(accept: ValidationAcceptor, names: NameProvider): Reporter {
  return ({ severity = 'error', message, node, property, index, cst, code, suggestion, related }) => {
    const info: DiagnosticInfo<AstNode, string> = {
      node,
      property,
      index,
      range: cst === undefined ? undefined : rangeOf(cst),
      code,
      data: { code, suggestion } satisfies FindingData,
      relatedInformation: related?.flatMap((each) => {
        const place = names.getNameNode(each.node) ?? each.node.$cstNode;
        if (place === undefined) return [];
        return {
          location: { uri: AstUtils.getDocument(each.node).uri.toString(), range: place.range },
          message: each.message,
        };
      }),
    };
    accept(severity, message, info);
  };
}

function rangeOf(cst: NonNullable<Report['cst']>) {
  return 'from' in cst ? { start: cst.from.range.start, end: cst.to.range.end } : cst.range;
}

/** Where a node begins, for 'already stands in line 3'. */
export function lineOf(node: AstNode): number {
  return (CstUtils.toDocumentSegment(node.$cstNode)?.range.start.line ?? 0) + 1;
}
