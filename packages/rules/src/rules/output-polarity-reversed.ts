import type { Component, ComponentOf } from '@couplet/engine';
import { circuitOf, ofKind } from '../circuit/circuits.ts';
import { feedingOf } from '../circuit/feeding.ts';
import { type Part, wiringOf } from '../circuit/wiring.ts';
import { defineRule } from '../define.ts';
import type { RuleContext } from '../rule.ts';
import { turnCure } from '../support/cures.ts';
import { whereWired } from '../support/place.ts';

interface Data {
  readonly output: ComponentOf<'output'>;
  readonly component: Component;
  readonly part: string;
  readonly isDead: boolean;
}

export const outputPolarityReversed = defineRule<Data>({
  name: 'output-polarity-reversed',
  thresholds: [],
  explains: ['no-return-path', 'load-polarity-reversed', 'rest-inverted', 'expectation-failed', 'output-overloaded'],
  reach: 'downstream',
  *find(context) {
    const { design } = context;
    for (const output of ofKind(design, 'output')) {
      if (output.style.word === 'push-pull' || !wiringOf(design).isWired(output.a)) continue;
      for (const part of circuitOf(design, output.id)) {
        if (part.sort !== 'consumer') continue;
        const wrong = isWrong(context, output, part);
        if (wrong === undefined) continue;
        const component = design.components[part.component]!;
        yield {
          severity: 'error',
          origin: whereWired(design, output.id, output.a),
          subject: output.id,
          alsoConcerns: [part.component],
          related: [
            { origin: component.origin, message: `${component.name} hangs on ${output.name}` },
            { origin: output.style.origin, message: `${output.name} is a ${output.style.word} output` },
          ],
          data: { output, component, part: component.name, isDead: wrong === 'dead' },
        };
        break;
      }
    }
  },
  word({ data }) {
    const { output, part, isDead } = data;
    const isSink = output.style.word === 'sink';
    const does = isSink
      ? `${output.name} sinks current to its return, and stands at the plus side of ${part}`
      : `${output.name} gives current from its rail, and stands at the minus side of ${part}`;
    const so = isDead
      ? `when it is on, both sides of ${part} stand at the same pole and nothing flows`
      : `current flows through ${part} the wrong way`;
    const cure = isSink
      ? `Write the chain from the plus of the supply through ${part} to ${output.name}`
      : `Write the chain from ${output.name} through ${part} to the return`;
    return `${does}: ${so}. ${cure}, or use an output of the other kind.`;
  },
  cures: ({ data }) => [turnCure(data.component)],
});

/**
 * 'dead' where the other side of the part stands at the pole that the output switches to as well; 'reversed' where it
 * stands at the other pole but the part minds its direction.
 */
function isWrong(context: RuleContext, output: ComponentOf<'output'>, part: Part): 'dead' | 'reversed' | undefined {
  const { design } = context;
  const wiring = wiringOf(design);
  const feeding = feedingOf(design);
  const isSink = output.style.word === 'sink';
  const own = wiring.node(output.a);
  const atPlus = touches(part.a);
  const atMinus = touches(part.b);
  if (atPlus === atMinus) return undefined;
  const far = atPlus ? part.b : part.a;
  const rail = output.rail === undefined ? undefined : design.components[output.rail];
  const returnNode = output.returns === undefined ? undefined : wiring.node(output.returns);
  const pole = isSink ? returnNode : rail?.kind === 'source' ? wiring.node(rail.a) : undefined;
  const opposite = isSink ? feeding.reachesPlus(far).length > 0 : feeding.reachesMinus(far).length > 0;
  if (pole !== undefined && wiring.copperFrom(far).has(pole) && !opposite) return 'dead';
  const isWrongSide = isSink ? atPlus : atMinus;
  if (!isWrongSide || !opposite) return undefined;
  const component = design.components[part.component];
  if (component?.kind !== 'load' || component.polarised?.word === 'no') return undefined;
  // A built-in diode that is met backwards shorts the supply: that is the graver thing to say, and another rule says it.
  return component.suppressor?.sort === 'diode' || component.suppressor?.sort === 'zener' ? undefined : 'reversed';

  /** Whether a side of the part is joined to the output through copper and closed-circuit parts of its own circuit. */
  function touches(node: number): boolean {
    return wiring.copperFrom(node).has(own);
  }
}
