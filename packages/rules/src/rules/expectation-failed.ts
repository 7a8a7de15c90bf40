import type { Design, Expect, Verdict } from '@couplet/engine';
import { nameOf } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { show, showLoop, spread } from '../support/words.ts';

interface Data {
  readonly verdict: Verdict;
  readonly caseName: string;
}

export const expectationFailed = defineRule<Data>({
  name: 'expectation-failed',
  thresholds: [],
  explains: [],
  *find(context) {
    for (const one of context.analysis.cases) {
      for (const verdict of one.verdicts) {
        const subject = subjectOf(context.design, verdict.expect);
        if (verdict.holds === 'not-evaluated') {
          const reason = `what case ${one.name} expects of it cannot be judged`;
          context.gap({ subject, needs: verdict.needs, reason });
          continue;
        }
        if (verdict.holds) continue;
        yield {
          severity: 'error',
          origin: verdict.expect.origin,
          subject,
          caseName: one.name,
          related: [],
          data: { verdict, caseName: one.name },
        };
      }
    }
  },
  word({ data }, { design }) {
    const { verdict, caseName } = data;
    const where = `In case ${caseName}`;
    return `${where}, ${wanted(design, verdict.expect)} is expected; computed: ${found(verdict)}. Correct the wiring or the parts, or what is expected.`;
  },
  figures({ data }) {
    const { figure } = data.verdict.found;
    return figure === undefined ? [] : [{ label: 'computed', figure }];
  },
});

function subjectOf(design: Design, expect: Expect): number {
  if (expect.subject.sort === 'between') return design.terminals[expect.subject.a]?.component ?? 0;
  return expect.subject.component;
}

/** The expectation in words: `panel.Z4 alarm within 1.00 s`. */
function wanted(design: Design, expect: Expect): string {
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

function stateWords(state: string): string {
  return state === 'neither' ? 'neither on nor off' : state;
}

function found(verdict: Verdict): string {
  const { figure, states, seconds } = verdict.found;
  const said: string[] = [];
  if (states !== undefined && states.length > 0) said.push(states.map(stateWords).join(' or '));
  if (figure?.sort === 'value') said.push(spread(figure));
  if (figure?.sort === 'no-connection') said.push('no connection');
  if (seconds !== undefined) said.push(`after ${spread(seconds)}`);
  return said.length === 0 ? 'it does not come about' : said.join(', ');
}
