/** From stretches of leakage to windows: where rest stays normal and the event does not arrive as it should. */
import { reports } from './answers.ts';

export interface Span {
  readonly from: number;
  readonly to: number;
}

export interface Answered {
  readonly answer: 'blind' | 'misread';
  readonly readsAs: string | undefined;
}

/** `marks` ascend and hold every leakage at which a class changes; between two of them nothing does. */
export function searchWindows(
  marks: readonly number[],
  normal: string,
  expected: string,
  classesAt: (leak: number) => { readonly rest: string | undefined; readonly during: string | undefined },
): readonly { readonly answered: Answered; readonly span: Span }[] {
  const windows: { answered: Answered; span: Span }[] = [];
  for (let i = 1; i < marks.length; i++) {
    const [from, to] = [marks[i - 1]!, marks[i]!];
    const { rest, during } = classesAt(between(from, to));
    if (rest !== normal || (during !== undefined && during !== normal && reports(during, expected))) continue;
    const answered: Answered = { answer: during === normal ? 'blind' : 'misread', readsAs: during };
    const last = windows.at(-1);
    if (last?.span.to === from && last.answered.readsAs === during) last.span = { from: last.span.from, to };
    else windows.push({ answered, span: { from, to } });
  }
  return windows;
}

/** A leakage well inside a stretch. */
function between(from: number, to: number): number {
  if (from === 0) return Number.isFinite(to) ? to / 2 : 1;
  return Number.isFinite(to) ? Math.sqrt(from * to) : from * 2;
}
