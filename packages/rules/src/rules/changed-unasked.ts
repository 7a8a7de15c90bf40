import type { ComponentOf, Moment } from '@couplet/engine';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { written } from '../support/cures.ts';
import { casesOf, restOf } from '../support/instants.ts';

interface Data {
  readonly name: string;
  readonly caseName: string;
  readonly reads: string;
  readonly atRest: string;
  readonly others: number;
  /** What each case lets it read as, with the case's place. */
  readonly changed: readonly { readonly reads: string; readonly origin: number }[];
}

type Reader = ComponentOf<'zone'> | ComponentOf<'input'>;

export const changedUnasked = defineRule<Data>({
  name: 'changed-unasked',
  thresholds: [],
  explains: [],
  *find(context) {
    const rest = restOf(context.analysis);
    if (rest === undefined) return;
    for (const reader of readers(context)) {
      const atRest = usualOf(rest, reader);
      if (atRest === undefined) continue;
      const changed: { readonly caseName: string; readonly reads: string; readonly origin: number }[] = [];
      for (const one of casesOf(context.analysis, reader.id)) {
        if (
          one.case === undefined ||
          one.case.steps.some((step) => step.sort === 'expect' && names(step.subject, reader))
        )
          continue;
        const reads = one.moments
          .map((moment) => usualOf(moment, reader))
          .find((word) => word !== undefined && word !== atRest);
        if (reads !== undefined) changed.push({ caseName: one.name, reads, origin: one.case.origin });
      }
      const [first] = changed;
      if (first === undefined) continue;
      yield {
        severity: 'warning',
        origin: first.origin,
        subject: reader.id,
        caseName: first.caseName,
        related: [
          { origin: reader.origin, message: `${reader.name} is declared here` },
          ...changed
            .slice(1)
            .map((one) => ({ origin: one.origin, message: `in case ${one.caseName} it reads ${one.reads}` })),
        ],
        data: {
          name: reader.name,
          caseName: first.caseName,
          reads: first.reads,
          atRest,
          others: changed.length - 1,
          changed,
        },
      };
    }
  },
  word({ data }) {
    const { name, caseName, reads, atRest, others } = data;
    const more = others === 0 ? '' : ` (and in ${others} more)`;
    return (
      `In case ${caseName}${more} ${name} reads ${reads}, and nothing is expected of it there; at rest it reads ${atRest}. ` +
      `If that is right, write \`expect ${name} ${reads}\`; if not, the wiring couples what it should not.`
    );
  },
  cures({ data }) {
    const { changed, name, reads } = data;
    const title = `Expect ${name} ${reads}${changed.length === 1 ? '' : `, and what else it reads in ${changed.length - 1} more`}`;
    return [
      {
        title,
        safe: false,
        edits: changed.map((one) => ({
          how: 'within',
          origin: one.origin,
          text: `expect ${written(name)} ${one.reads}`,
        })),
      },
    ];
  },
});

function* readers(context: RuleContext): Generator<Reader> {
  const wiring = wiringOf(context.design);
  for (const component of context.design.components) {
    if (component.kind !== 'zone' && component.kind !== 'input') continue;
    if (wiring.isWired(component.a)) yield component;
  }
}

function names(
  subject: { readonly sort: string; readonly component?: number; readonly a?: number },
  reader: Reader,
): boolean {
  if (subject.sort === 'between') return subject.a === reader.a || subject.a === reader.b;
  return subject.component === reader.id;
}

/** The class of a zone, or the state of an input; absent where it is not evaluated. */
function usualOf(moment: Moment, reader: Reader): string | undefined {
  if (reader.kind === 'zone') return moment.reading(reader.id).usual;
  return moment.states(reader.id)[0];
}
