import type { Design, Expect, Verdict } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { expectationWords, foundWords } from '../support/expectation.ts';

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
    return `${where}, ${expectationWords(design, verdict.expect)} is expected; computed: ${foundWords(verdict)}. Correct the wiring or the parts, or what is expected.`;
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
