/** Expectations of cases in words: what is expected, and what was computed. */
import type { Design, Expect, Verdict } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { show, showLoop, spread } from './words.ts';

/** The expectation in words: `panel.Z4 alarm within 1.00 s`. */
export function expectationWords(design: Design, expect: Expect): string {
  const { subject, predicate } = expect;
  const what =
    subject.sort === 'between'
      ? `${subject.quantity} ${design.terminals[subject.a]?.name} to ${design.terminals[subject.b]?.name}`
      : subject.sort === 'amps'
        ? `amperes in ${nameOf(design, subject.component)}`
        : nameOf(design, subject.component);
  const within = expect.within === undefined ? '' : ` within ${show(expect.within.usual, 's')}`;
  const times = expect.times === undefined ? '' : expect.times === 0 ? ' never' : ` exactly ${expect.times} times`;
  const throughout = expect.throughout === true ? ' throughout' : '';
  return `${what} ${predicateWords(predicate)}${within}${times}${throughout}`;
}

function predicateWords(predicate: Expect['predicate']): string {
  const number = (value: number, unit: string) => (unit === 'ohm' ? showLoop(value) : show(value, unit));
  switch (predicate.sort) {
    case 'state':
      return predicate.word;
    case 'compare':
      return `${predicate.operator} ${number(predicate.value, predicate.dimension)}`;
    case 'range':
      return `${number(predicate.least, predicate.dimension)} .. ${number(predicate.most, predicate.dimension)}`;
    case 'about':
      return `about ${number(predicate.value, predicate.dimension)}`;
  }
}

/** `neither on nor off` comes last, so that its own `nor` is not taken for one of the list. */
function alternatives(states: readonly string[]): string {
  const said = states.filter((state) => state !== 'neither');
  if (said.length < states.length) said.push('neither on nor off');
  return said.length < 3 ? said.join(' or ') : `${said.slice(0, -1).join(', ')} or ${said.at(-1)}`;
}

/** What was computed in its place. */
export function foundWords(verdict: Verdict): string {
  const { figure, states, seconds } = verdict.found;
  const said: string[] = [];
  if (states !== undefined && states.length > 0) said.push(alternatives(states));
  if (figure?.sort === 'value') said.push(spread(figure));
  if (figure?.sort === 'no-connection') said.push('no connection');
  if (seconds !== undefined) said.push(`after ${spread(seconds)}`);
  const { entries } = verdict.found;
  if (entries !== undefined) said.push(`entered ${entriesWords(entries)}`);
  if (verdict.order !== undefined) said.push(`if ${verdict.order}`);
  return said.length === 0 ? 'it does not come about' : said.join(', ');
}

function entriesWords({ least, most }: { readonly least: number; readonly most: number }): string {
  if (least === Number.POSITIVE_INFINITY) return 'without end';
  if (least === most) return least === 1 ? 'once' : `${least} times`;
  return most === Number.POSITIVE_INFINITY ? `${least} times or more` : `${least} to ${most} times`;
}
