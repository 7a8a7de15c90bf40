import type { ComponentId, ComponentOf, Design } from '@couplet/engine';
import { circuitOf, nameOf, ofKind } from '../circuit/circuits.ts';
import { defineRule } from '../define.ts';
import { isConnected, whereWired } from '../support/place.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly name: string;
  /** What it is programmed as, and the parts that show that it is wired as the other; absent where it is neither. */
  readonly against?: { readonly role: 'output' | 'input'; readonly parts: readonly string[] };
}

export const portRoleUnset = defineRule<Data>({
  name: 'port-role-unset',
  thresholds: [],
  explains: ['load-undervoltage'],
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
    for (const port of [...ofKind(design, 'output'), ...ofKind(design, 'input')]) {
      if (port.port !== true || !isConnected(design, port.id)) continue;
      const parts = port.kind === 'output' ? readByOutput(design, port) : drivenByInput(design, port);
      if (parts.length === 0) continue;
      yield {
        severity: 'error',
        origin: whereWired(design, port.id, port.a),
        subject: port.id,
        alsoExplains: parts,
        related: [{ origin: port.origin, message: `${port.name} is programmed as ${port.kind}` }],
        data: { name: port.name, against: { role: port.kind, parts: parts.map((id) => nameOf(design, id)) } },
      };
    }
  },
  word({ data }) {
    const { against, name } = data;
    if (against === undefined) {
      return (
        `${name} can be an output or an input, is wired, and is programmed as neither: the unit decides by its own default, and nothing that ` +
        `hangs on ${name} is computed. Write \`program ${name} as = output\` or \`program ${name} as = input\`, and set the unit so.`
      );
    }
    const parts = list(against.parts);
    if (against.role === 'output') {
      return (
        `${name} is programmed as output, and is wired as an input: there is nothing in its circuit that it could drive, only ${parts}. ` +
        `Write \`program ${name} as = input\` and set the unit so, or wire what it shall drive.`
      );
    }
    return (
      `${name} is programmed as input, and is wired as an output: ${parts} hang on it, and nothing else in the circuit switches them. ` +
      `Write \`program ${name} as = output\` and set the unit so, or bring in the contact that it shall read.`
    );
  },
});

/** Contacts in the circuit of a port that is an output, where nothing in it could be driven. */
function readByOutput(design: Design, port: ComponentOf<'output'>): readonly ComponentId[] {
  const parts = circuitOf(design, port.id).filter(({ component }) => component !== port.id);
  if (parts.some(({ sort }) => DRIVEN.has(sort))) return [];
  return partsOf(parts, 'contact');
}

/** What is driven in the circuit of a port that is an input, where nothing else in it switches. */
function drivenByInput(design: Design, port: ComponentOf<'input'>): readonly ComponentId[] {
  const parts = circuitOf(design, port.id).filter(({ component }) => component !== port.id);
  if (parts.some(({ sort }) => SWITCHING.has(sort))) return [];
  return partsOf(parts, 'consumer');
}

/** Parts for which an output may be there: also what is read elsewhere, charged, or fed through a resistor. */
const DRIVEN: ReadonlySet<Part['sort']> = new Set(['consumer', 'input', 'resistor', 'diode', 'capacitor', 'source']);
const SWITCHING: ReadonlySet<Part['sort']> = new Set(['contact', 'output', 'source', 'input']);

type Part = ReturnType<typeof circuitOf>[number];

function partsOf(parts: readonly Part[], sort: Part['sort']): readonly ComponentId[] {
  return [...new Set(parts.filter((part) => part.sort === sort).map(({ component }) => component))];
}
