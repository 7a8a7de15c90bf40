import { defineRule } from '../define.ts';
import { whereWired } from '../support/place.ts';

interface Data {
  readonly name: string;
}

export const portRoleUnset = defineRule<Data>({
  name: 'port-role-unset',
  thresholds: [],
  explains: [],
  *find({ design }) {
    for (const port of design.components) {
      if (port.kind !== 'terminal' || port.undecidedPort !== true) continue;
      yield {
        severity: 'error',
        origin: whereWired(design, port.id, port.a),
        subject: port.id,
        related: [{ origin: port.origin, message: `${port.name} can be an output or an input` }],
        data: { name: port.name },
      };
    }
  },
  word({ data }) {
    const { name } = data;
    return (
      `${name} can be an output or an input, is wired, and is programmed as neither: the unit decides by its own default, and nothing that ` +
      `hangs on ${name} is computed. Write \`program ${name} as = output\` or \`program ${name} as = input\`, and set the unit so.`
    );
  },
});
