import type { Component, TerminalId } from '@couplet/engine';
import { defineRule } from '../define.ts';

interface Data {
  readonly terminal: string;
  readonly count: number;
  readonly most: number;
}

/** Ends of these are wires themselves: what meets there is twisted, soldered or sits in a joint. */
const NOT_TERMINALS: ReadonlySet<Component['kind']> = new Set(['core', 'resistor', 'diode', 'capacitor', 'joint']);

export const terminalOverfilled = defineRule<Data>({
  name: 'terminal-overfilled',
  thresholds: [
    {
      key: 'most',
      value: 2,
      unit: '',
      says: 'conductors in one terminal',
      origin: 'two conductors in a screw terminal',
      standing: 'common practice',
      settable: true,
    },
  ],
  explains: [],
  *find(context) {
    const { design } = context;
    const most = context.threshold('most').value;
    const conductors = new Map<TerminalId, Set<TerminalId>>();
    for (const join of design.joins) {
      for (const [at, from] of [
        [join.a, join.b],
        [join.b, join.a],
      ] as const) {
        // The same core named in two chains is one conductor.
        conductors.set(at, (conductors.get(at) ?? new Set()).add(from));
      }
    }
    for (const [at, from] of [...conductors].sort(([one], [other]) => one - other)) {
      const terminal = design.terminals[at];
      const component = terminal === undefined ? undefined : design.components[terminal.component];
      if (terminal === undefined || component === undefined || from.size <= most) continue;
      if (NOT_TERMINALS.has(component.kind) || at === design.earth) continue;
      const joins = design.joins.filter((join) => join.a === at || join.b === at);
      yield {
        severity: 'warning',
        origin: joins.at(-1)?.origin ?? terminal.origin,
        subject: component.id,
        related: joins
          .slice(0, -1)
          .map((join) => ({ origin: join.origin, message: `another conductor in ${terminal.name}` })),
        data: { terminal: terminal.name, count: from.size, most },
      };
    }
  },
  word({ data }) {
    const { terminal, count, most } = data;
    return (
      `${count} conductors share ${terminal}; more than ${most} do not clamp well, and one of them works loose. ` +
      `Bring them together in a joint (\`joint X1\`) and run one conductor from it.`
    );
  },
});
