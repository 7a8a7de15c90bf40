import type { Component } from '@couplet/engine';
import { circuitComponents, nameOf } from '../circuit/circuits.ts';
import { wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { Cure, CureEdit } from '../rule.ts';
import { freeName } from '../support/cures.ts';
import { isInductive, isSuppressed } from '../support/suppression.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly part: Component;
  readonly isNone: boolean;
  /** What opens the circuit and meets the surge. */
  readonly switches: readonly string[];
}

export const coilUnsuppressed = defineRule<Data>({
  name: 'coil-unsuppressed',
  thresholds: [],
  explains: [],
  *find(context) {
    const { design } = context;
    const wiring = wiringOf(design);
    for (const part of design.components) {
      if (!isInductive(design, part.id) || isSuppressed(design, part.id)) continue;
      const isWired = wiring
        .partsOf(part.id)
        .some((coil) => wiring.isJoined(coil.aTerminal, part.id) && wiring.isJoined(coil.bTerminal, part.id));
      if (!isWired) continue;
      const near = circuitComponents(design, part.id);
      // An output with a clamp of its own is made for it.
      if (near.some((id) => isClamping(design.components[id]))) continue;
      const switches = near.filter((id) => {
        const kind = design.components[id]?.kind;
        return kind === 'output' || kind === 'contact';
      });
      yield {
        severity: 'warning',
        origin: part.origin,
        subject: part.id,
        alsoConcerns: switches,
        related: [],
        data: {
          part,
          isNone: (part.kind === 'relay' || part.kind === 'load') && part.suppressor !== undefined,
          switches: switches.map((id) => nameOf(design, id)),
        },
      };
    }
  },
  word({ data }) {
    const { part, isNone, switches } = data;
    const bare = isNone ? 'has no suppression' : 'has no suppression that the site knows of';
    const meets =
      switches.length === 0
        ? 'Whatever opens its circuit meets a surge of hundreds of volts'
        : `When ${list(switches)} opens, the coil drives hundreds of volts across it`;
    return (
      `${part.name} is inductive and ${bare}. ${meets}: outputs break down, contacts burn, and zones nearby see it. ` +
      `Fit a diode from minus to plus across it (\`wire ${part.name}.${minusOf(part)} -- D1 -- ${part.name}.${plusOf(part)}\`), ` +
      `or declare the suppressor that is built in.`
    );
  },
  cures({ data }, { design }) {
    const { part } = data;
    const { origin } = part;
    const diode = freeName(design, 'D');
    const wired = `diode ${diode}\nwire ${part.name}.${minusOf(part)} -- ${diode} -- ${part.name}.${plusOf(part)}`;
    const fitted: Cure = {
      title: `Fit a diode across ${part.name}`,
      safe: false,
      edits: [{ how: 'below', origin, text: wired }],
    };
    if (part.kind !== 'relay' && part.kind !== 'load') return [fitted];
    const edit: CureEdit =
      part.suppressor === undefined
        ? { how: 'within', origin, text: 'suppressor: diode' }
        : { origin: part.suppressor.origin, text: 'diode' };
    return [fitted, { title: `Take ${part.name} with a built-in diode`, safe: false, edits: [edit] }];
  },
});

function isClamping(component: Component | undefined): boolean {
  return component?.kind === 'output' && component.clamp !== undefined;
}

function plusOf(part: Component): string {
  return part.kind === 'relay' ? 'A1' : 'plus';
}

function minusOf(part: Component): string {
  return part.kind === 'relay' ? 'A2' : 'minus';
}
