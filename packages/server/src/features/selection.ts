/** Growing selections: word, value, property, body, statement, file, as the syntax nests. */
import { type CstNode, CstUtils, isCompositeCstNode, type LangiumDocument } from 'langium';
import type { Position, Range, SelectionRange } from 'vscode-languageserver';

/** One chain of ranges for each position, the smallest first. */
export function selectionRanges(document: LangiumDocument, positions: readonly Position[]): SelectionRange[] {
  return positions.map((position) => chainAt(document, position));
}

function chainAt({ parseResult, textDocument }: LangiumDocument, position: Position): SelectionRange {
  const root = parseResult.value.$cstNode;
  const whole: SelectionRange = {
    range: { start: { line: 0, character: 0 }, end: textDocument.positionAt(textDocument.getText().length) },
  };
  if (root === undefined) return whole;
  const offset = textDocument.offsetAt(position);
  const leaf = CstUtils.findLeafNodeAtOffset(root, offset) ?? CstUtils.findLeafNodeBeforeOffset(root, offset);
  const ranges: Range[] = [];
  for (let node: CstNode | undefined = leaf; node !== undefined && node !== root; node = node.container) {
    if (!isCompositeCstNode(node) && node !== leaf) continue;
    if (ranges.length === 0 || isLarger(node.range, ranges.at(-1) as Range)) ranges.push(node.range);
  }
  return ranges.reduceRight((parent: SelectionRange, range) => ({ range, parent }), whole);
}

function isLarger(one: Range, other: Range): boolean {
  return (
    one.start.line !== other.start.line ||
    one.start.character !== other.start.character ||
    one.end.line !== other.end.line ||
    one.end.character !== other.end.character
  );
}
