import type { Component, Origin } from '@couplet/engine';
import { defineRule } from '../define.ts';
import { isConnected } from '../support/place.ts';
import { list } from '../support/words.ts';

interface Data {
  readonly name: string;
  readonly modes: readonly string[];
}

export const worstModeMissing = defineRule<Data>({
  name: 'worst-mode-missing',
  thresholds: [],
  explains: [],
  *find({ design }) {
    for (const component of design.components) {
      const modes = modesWithoutFigure(component);
      if (modes.length === 0) continue;
      const parts = design.components.filter((other) => other.id === component.id || other.owner === component.id);
      if (!parts.some((part) => isConnected(design, part.id))) continue;
      yield {
        severity: 'warning',
        origin: modes[0]!.origin < 0 ? component.origin : modes[0]!.origin,
        subject: component.id,
        data: { name: component.name, modes: modes.map((mode) => mode.name) },
      };
    }
  },
  word({ data }) {
    return (
      `Nothing says what ${data.name} draws in ${list(data.modes)}; the supply, the fuse and the cable are judged with its quiet ` +
      `current only. Write \`mode ${data.modes[0]} { draws: … }\` from its data, or measure it.`
    );
  },
});

function modesWithoutFigure(component: Component): readonly { readonly name: string; readonly origin: Origin }[] {
  if (component.kind !== 'unit' && component.kind !== 'load') return [];
  return component.modes.filter((mode) => mode.draws === undefined);
}
